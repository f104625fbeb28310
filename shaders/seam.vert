// A stretch of seam as a thin quad on screen, as line.vert draws lines; as wide as it carries much.
// `along` is the place on the map's scale, 0 to 1, of its two ends; sizes in css px.
precision highp float;
uniform mat4 projectionMatrix;
uniform vec2 uSize;
uniform vec2 uWidth;     // half widths at the two ends of the scale
uniform float uNearer;
in vec3 position;
in vec3 other;
in float side;
in float along;
out float vAlong;
out float vAcross;       // px from the middle
out float vHalf;

void main() {
  vAlong = along;
  vHalf = mix(uWidth.x, uWidth.y, along);
  vec4 here = projectionMatrix * vec4(position, 1.0);
  vec4 there = projectionMatrix * vec4(other, 1.0);
  vec2 run = (there.xy - here.xy) * uSize;
  float l = length(run);
  vec2 across = l > 1e-6 ? vec2(-run.y, run.x) / l : vec2(0.0);
  // The far end (the last two of every four corners) sees the stretch the other way round.
  vAcross = ((gl_VertexID & 3) < 2 ? side : -side) * vHalf;
  gl_Position = here;
  gl_Position.xy += 2.0 * across * side * vHalf / uSize;
  gl_Position.z -= uNearer;
}
