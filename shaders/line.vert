// A segment as a thin quad of constant width on screen: plain GL lines are one device pixel, invisible on a fine screen.
// `along` is the length run so far, m; uSize and uWidth in css px; uNearer moves it toward the viewer, so that it wins over its own cloth.
precision highp float;
uniform mat4 projectionMatrix;
uniform vec2 uSize;
uniform float uWidth;
uniform float uNearer;
in vec3 position;
in vec3 other;
in float side;
in float along;
out float vAlong;

void main() {
  vAlong = along;
  vec4 here = projectionMatrix * vec4(position, 1.0);
  vec4 there = projectionMatrix * vec4(other, 1.0);
  vec2 run = (there.xy - here.xy) * uSize;
  float l = length(run);
  vec2 across = l > 1e-6 ? vec2(-run.y, run.x) / l : vec2(0.0);
  gl_Position = here;
  gl_Position.xy += across * side * uWidth / uSize;
  gl_Position.z -= uNearer;
}
