// A seam in the colours of the map's scale, cased in ink so that its pale end shows on pale cloth too; a line at every step.
precision highp float;
uniform sampler2D uScale;
in float vAlong;
in float vAcross;
in float vHalf;
out vec4 fragment;

vec3 toDisplay(vec3 linear) {
  vec3 c = clamp(linear, 0.0, 1.0);
  return mix(c * 12.92, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c));
}

void main() {
  vec3 colour = toDisplay(texture(uScale, vec2(clamp(vAlong, 0.0, 1.0) * 0.984375 + 0.0078125, 0.5)).rgb);
  float step8 = vAlong * 8.0;
  float line = 1.0 - smoothstep(0.0, 1.2, abs(fract(step8 + 0.5) - 0.5) / max(fwidth(step8), 1e-4));
  // Along an even stretch there is no step to cross, wherever on the scale it lies.
  line *= step(1e-4, fwidth(step8));
  colour *= 1.0 - 0.35 * line;
  fragment = vec4(mix(colour, vec3(0.08, 0.13, 0.12), smoothstep(vHalf - 1.2, vHalf - 0.7, abs(vAcross))), 1.0);
}
