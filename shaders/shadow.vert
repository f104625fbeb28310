// Soft contact shadow on the mat: a ring whose darkness fades outward.
precision highp float;
uniform mat4 projectionMatrix;
in vec3 position;
in float dark;
out float vDark;

void main() {
  vDark = dark;
  gl_Position = projectionMatrix * vec4(position, 1.0);
}
