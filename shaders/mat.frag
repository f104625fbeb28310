// The cutting mat: it lies on the table, bends up behind the bags and rises as a back wall, ruled to scale all the way.
// Screen pixels from the top left; lengths in metres. Heights on it read true against the tape whatever the viewer does.
precision highp float;
uniform vec2 uSize;      // canvas, css px
uniform float uDensity;  // device px per css px
uniform float uScale;    // css px per metre
uniform float uFloor;    // css px from the top to the tape's zero
uniform float uOrigin;   // css px of a ruled upright
uniform vec2 uSlide;     // sideways and upward shift per metre of depth
uniform float uBack;     // depth at which the mat bends up, m
uniform vec2 uRule;      // fine and coarse spacing, m
out vec4 fragment;

float ruled(float value, float spacing) {
  float v = value / spacing;
  float w = fwidth(v);
  float d = abs(fract(v + 0.5) - 0.5);
  // Fades where lines would lie closer than four pixels.
  return (1.0 - smoothstep(0.0, w * 1.1, d)) * (1.0 - smoothstep(0.12, 0.3, w));
}

void main() {
  vec2 p = vec2(gl_FragCoord.x, uSize.y * uDensity - gl_FragCoord.y) / uDensity;
  float up = (uFloor - p.y) / uScale;
  float across = (p.x - uOrigin) / uScale;
  float bend = uBack * uSlide.y;
  bool lying = up < bend;
  float depth = min(up / max(uSlide.y, 0.02), uBack);
  across -= uSlide.x * depth;
  // The wall is ruled by the tape, not by its own foot: a line on it carries the tape's mark across every bay.
  float along = lying ? depth : up;
  float fine = max(ruled(across, uRule.x), ruled(along, uRule.x));
  float coarse = max(ruled(across, uRule.y), ruled(along, uRule.y));
  vec3 mat = vec3(0.0902, 0.2510, 0.2471);
  vec3 colour = mat * (lying ? 1.07 : 1.0 + 0.05 * clamp((up - bend) * 2.0, 0.0, 1.0));
  colour *= 1.0 - 0.10 * exp(-abs(up - bend) * 45.0);
  colour += 0.040 * fine + 0.070 * coarse * (1.0 - 0.5 * fine);
  fragment = vec4(colour, 1.0);
}
