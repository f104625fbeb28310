// Cut edge: the shell's colour, paler in the middle where the layers under it show; of leather, painted dark and a little glossy.
uniform vec3 uFace;
uniform float uPainted;
in vec3 vNormal;
in float vAcross;
out vec4 fragment;

void main() {
  float core = 1.0 - abs(vAcross * 2.0 - 1.0);
  vec3 albedo = mix(uFace * 0.92, mix(uFace, vec3(0.85, 0.82, 0.74), 0.55), core);
  albedo = mix(albedo, uFace * mix(0.34, 0.5, core), uPainted);
  fragment = vec4(toDisplay(albedo * threeLights(normalize(vNormal), 0.35)), 1.0);
}
