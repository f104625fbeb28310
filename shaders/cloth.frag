// Face and lining of a panel: plain cloth, canvas weave, leather grain or board, or a map (curvature, or what was worked out of the settled state).
// uPitch: yarn spacing or pebble size, m. uPoint: metres per css pixel. A weave or grain finer than the screen can show is drawn coarser, in steps of two,
// and fainter: it says what the cloth is, and is to scale only from near. uPixel: metres per drawn pixel; detail fades out before it could shimmer.
uniform int uCloth;        // 0 plain cloth, 1 canvas weave, 2 leather grain, 3 board
uniform int uMap;          // 1: shade by curvature; 2: by heat, where it is known
uniform vec3 uFace;        // linear
uniform vec3 uLining;      // linear
uniform float uPitch;
uniform float uPixel;
uniform float uPoint;
uniform float uTight;      // curvature at the end of the scale, 1/m
uniform float uGlow;       // 1: this panel is pointed out
uniform vec3 uViewer;
in vec3 vNormal;
in vec2 vFlat;
in float vBend;
in float vHeat;
in float vBelow;
in float vUp;
out vec4 fragment;

// Share of the detail that survives at this size: 1 when a period covers 4 pixels, 0 under 1.5.
float seen(float period) {
  return smoothstep(1.5, 4.0, period / uPixel);
}

// A size that covers so many css pixels: the true one, or the next power of two times it.
float shownAs(float size, float pixels) {
  return size * exp2(ceil(max(0.0, log2(pixels * uPoint / size))));
}

// Plain weave as a height field: warp and weft pass over each other in turn. Returns brightness about 1, and tilts n.
float weave(inout vec3 n) {
  float pitch = shownAs(uPitch, 1.9);
  vec2 p = vFlat / pitch;
  float keep = seen(pitch * 2.0) * (pitch > uPitch * 1.5 ? 0.7 : 1.0);
  vec2 s = sin(p * 3.14159265);
  float over = s.x * s.y;
  float yarn = mix(abs(s.y), abs(s.x), step(0.0, over));
  n.xz += keep * 0.16 * vec2(cos(p.x * 3.14159265), cos(p.y * 3.14159265)) * yarn;
  // Slubs: thick stretches of single yarns, long along the yarn, visible from arm's length.
  float warp = valueNoise(vec2(vFlat.x / (pitch * 1.6), vFlat.y / 0.028));
  float weft = valueNoise(vec2(vFlat.x / 0.022, vFlat.y / (pitch * 1.6)) + 17.0);
  float slub = seen(pitch * 1.6) * (warp + weft - 1.0) * 0.10;
  float tint = (valueNoise(vFlat / 0.035) - 0.5) * 0.035;
  return 1.0 + keep * (0.20 * yarn - 0.12) + slub + tint;
}

float grain(inout vec3 n, out float crease) {
  float pitch = shownAs(uPitch, 2.6);
  float keep = seen(pitch * 2.0) * (pitch > uPitch * 1.5 ? 0.75 : 1.0);
  vec2 c = cellNoise(vFlat / pitch);
  crease = keep * (1.0 - smoothstep(0.02, 0.22, c.y - c.x));
  n.xz += keep * 0.22 * (vec2(valueNoise(vFlat / pitch * 1.3), valueNoise(vFlat / pitch * 1.3 + 9.0)) - 0.5);
  float blotch = valueNoise(vFlat / 0.045) * 0.6 + valueNoise(vFlat / 0.014) * 0.4 - 0.5;
  return 1.0 + blotch * 0.14 - crease * 0.20;
}

vec3 map() {
  if (uMap == 2 && vHeat < 0.75) return vec3(0.66, 0.64, 0.56);
  float t = clamp(uMap == 2 ? vHeat - 1.0 : sqrt(abs(vBend) / uTight), 0.0, 1.0);
  return onScale(t) * stepLine(t);
}

void main() {
  bool face = gl_FrontFacing;
  vec3 n = normalize(face ? vNormal : -vNormal);
  vec3 albedo = face ? uFace : uLining;
  float sheen = 0.0;
  float wrap = 0.35;
  float crease = 0.0;
  bool mapped = uMap == 1 || (uMap == 2 && vHeat > 0.25);
  float asCloth = mapped ? 0.0 : 1.0;
  if (!mapped) {
    if (uCloth == 2 && face) {
      albedo *= grain(n, crease);
      sheen = 0.16;
      wrap = 0.22;
    } else if (uCloth == 3 && face) {
      albedo *= 1.0 + (valueNoise(vFlat / 0.012) - 0.5) * 0.05;
      sheen = 0.08;
    } else if (uCloth == 1 || !face) {
      albedo *= weave(n);
    } else {
      albedo *= 1.0 + (weave(n) - 1.0) * 0.5;
    }
    n = normalize(n);
  }
  vec3 light = threeLights(n, wrap);
  // The inside sees less and less of the room further down; folds gather a little shade; the foot of the wall meets the mat.
  float dim = face ? 1.0 : mix(0.86, 0.34, smoothstep(0.0, 0.75, vBelow));
  dim *= 1.0 - 0.18 * smoothstep(8.0, 60.0, abs(vBend)) * asCloth;
  dim *= mix(0.80, 1.0, smoothstep(0.0, 0.035, vUp));
  if (mapped) {
    albedo = map();
    light = vec3(0.55) + 0.42 * light;
    dim = mix(dim, 1.0, 0.35);
  }
  vec3 colour = albedo * light * dim;
  float edgeOn = 1.0 - abs(dot(n, uViewer));
  colour += (asCloth * dim) * (sheen * gleam(n, uViewer, 18.0) * (1.0 - crease) + albedo * 0.10 * edgeOn * edgeOn * edgeOn);
  colour = mix(colour, colour * 1.12 + vec3(0.06, 0.045, 0.0), uGlow);
  fragment = vec4(toDisplay(colour), 1.0);
}
