// Three soft lights fixed to the viewer, so that turning the bag moves the light over its folds as on a real table.
// Directions point to the light in view axes: x right, y away, z up. Colours are linear; output is display-encoded here
// because these programs write straight to the canvas.
const vec3 KEY_DIR = vec3(-0.46, -0.70, 0.55);
const vec3 FILL_DIR = vec3(0.86, -0.44, 0.26);
const vec3 BACK_DIR = vec3(0.25, 0.72, 0.65);
const vec3 KEY_COL = vec3(1.00, 0.96, 0.89);
const vec3 FILL_COL = vec3(0.32, 0.33, 0.33);
const vec3 BACK_COL = vec3(0.30, 0.29, 0.26);
const vec3 SKY_COL = vec3(0.34, 0.36, 0.36);
const vec3 MAT_BOUNCE = vec3(0.07, 0.11, 0.10);

// Wrapped diffuse: cloth scatters, so the shadow line is soft (wrap 0 = hard, 1 = half lit at the terminator).
float wrapped(float cosine, float wrap) {
  return max(0.0, (cosine + wrap) / (1.0 + wrap));
}

vec3 threeLights(vec3 n, float wrap) {
  vec3 sum = mix(MAT_BOUNCE, SKY_COL, 0.5 + 0.5 * n.z);
  sum += KEY_COL * wrapped(dot(n, KEY_DIR), wrap);
  sum += FILL_COL * wrapped(dot(n, FILL_DIR), wrap);
  sum += BACK_COL * wrapped(dot(n, BACK_DIR), wrap);
  return sum * 0.80;
}

float gleam(vec3 n, vec3 viewer, float sharpness) {
  vec3 h = normalize(KEY_DIR + viewer);
  return pow(max(0.0, dot(n, h)), sharpness);
}

vec3 toDisplay(vec3 linear) {
  vec3 c = clamp(linear, 0.0, 1.0);
  return mix(c * 12.92, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c));
}
