// One panel of the settled bag. Lengths in metres; `flat` is the panel's own drafting coordinates (true scale of the weave).
precision highp float;
uniform mat4 projectionMatrix;
uniform mat3 uTurn;
in vec3 position;
in vec3 normal;
in vec2 drafted;
in float bend;   // largest curvature there, 1/m
in float heat;   // place on a map's scale: 1 + 0..1; 0.5 stays plain, 0 (the default) is not known
in float below;  // depth below the rim over the drafted height, 0..1
out vec3 vNormal;
out vec2 vFlat;
out float vBend;
out float vHeat;
out float vBelow;
out float vUp;

void main() {
  vNormal = uTurn * normal;
  vFlat = drafted;
  vBend = bend;
  vHeat = heat;
  vBelow = below;
  vUp = position.z;
  gl_Position = projectionMatrix * vec4(position, 1.0);
}
