// uDash: length of one dash and gap together, m; 0 draws a whole line.
precision highp float;
uniform vec4 uColour;    // display-encoded
uniform float uDash;
in float vAlong;
out vec4 fragment;

void main() {
  if (uDash > 0.0 && fract(vAlong / uDash) > 0.55) discard;
  fragment = uColour;
}
