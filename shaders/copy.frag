// Halves a picture drawn at twice the size: one linear sample at the corner of four pixels is their mean.
precision highp float;
uniform sampler2D uPicture;
uniform vec2 uTexel; // one over the canvas size, device px
out vec4 fragment;

void main() {
  fragment = texture(uPicture, gl_FragCoord.xy * uTexel);
}
