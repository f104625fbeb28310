precision highp float;
in float vDark;
out vec4 fragment;

void main() {
  fragment = vec4(0.01, 0.05, 0.05, 0.62 * vDark * vDark);
}
