// The cut edge at the mouth: a ribbon from the face inward by the stack's thickness (m), never thinner than one pixel.
precision highp float;
uniform mat4 projectionMatrix;
uniform mat3 uTurn;
uniform float uThickness;
uniform float uPixel;
in vec3 position;
in vec3 normal;    // out of the wall
in float inward;   // 0 on the face, 1 on the lining side
out vec3 vNormal;
out float vAcross;

void main() {
  vAcross = inward;
  vNormal = uTurn * vec3(0.0, 0.0, 1.0);
  vec3 p = position - normal * inward * max(uThickness, 1.2 * uPixel);
  gl_Position = projectionMatrix * vec4(p, 1.0);
}
