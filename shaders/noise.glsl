// Hash, value noise and cell noise over the flat panel. Unit of every argument: whatever the caller scales to 1.
// Appearance only; nothing is measured from it. No trigonometry in the hash, so that every GPU draws the same grain.
float hash12(vec2 p) {
  vec3 q = fract(vec3(p.xyx) * 0.1031);
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}

vec2 hash22(vec2 p) {
  vec3 q = fract(vec3(p.xyx) * vec3(0.1031, 0.1030, 0.0973));
  q += dot(q, q.yzx + 33.33);
  return fract((q.xx + q.yz) * q.zy);
}

float valueNoise(vec2 p) {
  vec2 i = floor(p);
  vec2 f = p - i;
  f = f * f * (3.0 - 2.0 * f);
  float a = mix(hash12(i), hash12(i + vec2(1.0, 0.0)), f.x);
  float b = mix(hash12(i + vec2(0.0, 1.0)), hash12(i + vec2(1.0, 1.0)), f.x);
  return mix(a, b, f.y);
}

// Distance to the nearest and to the second nearest cell point: their difference is the crease between two pebbles.
vec2 cellNoise(vec2 p) {
  vec2 i = floor(p);
  vec2 f = p - i;
  vec2 best = vec2(8.0);
  for (int y = -1; y <= 1; y++) {
    for (int x = -1; x <= 1; x++) {
      vec2 o = vec2(float(x), float(y));
      vec2 r = o + hash22(i + o) - f;
      float d = dot(r, r);
      if (d < best.x) best = vec2(d, best.x);
      else if (d < best.y) best.y = d;
    }
  }
  return sqrt(best);
}
