// uDash: length of one dash and gap together, m; 0 draws a whole line. Dashes too short to be seen become an even, fainter line.
precision highp float;
uniform vec4 uColour;    // display-encoded
uniform float uDash;
uniform float uPixel;    // metres per screen pixel
in float vAlong;
out vec4 fragment;

void main() {
  fragment = uColour;
  if (uDash <= 0.0) return;
  float seen = smoothstep(2.0, 3.5, uDash / uPixel);
  if (fract(vAlong / uDash) > mix(1.0, 0.6, seen)) discard;
  fragment.a *= mix(0.6, 1.0, seen);
}
