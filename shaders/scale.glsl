// The scale of the maps, the same on panels and on seams: its colours from pale (0) to dark (1), and a line at each of its eight steps.
uniform sampler2D uScale;

vec3 onScale(float t) {
  return texture(uScale, vec2(clamp(t, 0.0, 1.0) * 0.984375 + 0.0078125, 0.5)).rgb;
}

// Darkening by the line between steps, about a pixel wide: the map stays readable without telling colours apart.
// Where the map is level there is no step to cross, even at the scale's very end.
float stepLine(float t) {
  float step8 = t * 8.0;
  float line = 1.0 - smoothstep(0.0, 1.2, abs(fract(step8 + 0.5) - 0.5) / max(fwidth(step8), 1e-4));
  return 1.0 - 0.35 * line * step(1e-4, fwidth(step8));
}
