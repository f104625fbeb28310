// A seam in the colours of the map's scale, cased in ink so that its pale end shows on pale cloth too; a line at every step.
in float vAlong;
in float vAcross;
in float vHalf;
out vec4 fragment;

void main() {
  vec3 colour = toDisplay(onScale(vAlong)) * stepLine(vAlong);
  fragment = vec4(mix(colour, vec3(0.08, 0.13, 0.12), smoothstep(vHalf - 1.2, vHalf - 0.7, abs(vAcross))), 1.0);
}
