/**
 * Colours of cloths and of the curvature map. Appearance only. Linear RGB for the programs in shaders/, computed from OKLCH
 * (Ottosson 2020, matrices from memory) so that equal steps of the map look like equal steps.
 */
export type Rgb = readonly [number, number, number];

/** Which surface program a panel is drawn with; numbers because they are a shader switch. */
export const CLOTH_PLAIN = 0;
export const CLOTH_WEAVE = 1;
export const CLOTH_GRAIN = 2;
export const CLOTH_BOARD = 3;

export interface ClothLook {
  readonly cloth: number;
  readonly face: Rgb;
  readonly lining: Rgb;
  /** Yarn spacing or pebble size, m. */ readonly pitch: number;
}

function oklch(l: number, c: number, hueDeg: number): Rgb {
  const h = (hueDeg * Math.PI) / 180;
  const a = c * Math.cos(h);
  const b = c * Math.sin(h);
  const l3 = (l + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m3 = (l - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s3 = (l - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const clamp = (v: number): number => Math.min(1, Math.max(0, v));
  return [
    clamp(4.0767416621 * l3 - 3.3077115913 * m3 + 0.2309699292 * s3),
    clamp(-1.2684380046 * l3 + 2.6097574011 * m3 - 0.3413193965 * s3),
    clamp(-0.0041960863 * l3 - 0.7034186147 * m3 + 1.707614701 * s3),
  ];
}

const LINING = oklch(0.6, 0.045, 75);

const LOOKS: Readonly<Record<string, ClothLook>> = {
  'soft cotton': { cloth: CLOTH_PLAIN, face: oklch(0.9, 0.022, 85), lining: oklch(0.62, 0.04, 75), pitch: 0.00035 },
  'canvas and duck': { cloth: CLOTH_WEAVE, face: oklch(0.86, 0.038, 86), lining: LINING, pitch: 0.0008 },
  leather: { cloth: CLOTH_GRAIN, face: oklch(0.6, 0.085, 58), lining: oklch(0.66, 0.06, 65), pitch: 0.0012 },
  interlining: { cloth: CLOTH_BOARD, face: oklch(0.8, 0.012, 100), lining: LINING, pitch: 0.001 },
  webbing: { cloth: CLOTH_WEAVE, face: oklch(0.5, 0.02, 80), lining: LINING, pitch: 0.0014 },
};

const PARTICULAR: Readonly<Record<string, Partial<ClothLook>>> = {
  denim11: { face: oklch(0.5, 0.06, 255), pitch: 0.0006 },
  denim14raw: { face: oklch(0.38, 0.065, 262), pitch: 0.0006 },
  waxed10: { face: oklch(0.52, 0.05, 100), pitch: 0.0008 },
  uphfabric: { face: oklch(0.62, 0.05, 180), pitch: 0.0012 },
  suede: { cloth: CLOTH_PLAIN, face: oklch(0.56, 0.07, 62) },
  chrome16: { face: oklch(0.5, 0.07, 45) },
  chrome20: { face: oklch(0.46, 0.07, 42) },
  veg12: { face: oklch(0.7, 0.085, 68) },
  veg20: { face: oklch(0.68, 0.09, 65) },
  veg32: { face: oklch(0.66, 0.09, 62) },
};

/** Look of a shell by its preset and family; an unknown one is drawn as plain cloth. */
export function clothLook(material: string | null, family: string | null): ClothLook {
  const base = LOOKS[family ?? ''] ?? LOOKS['soft cotton'];
  return material === null ? base : { ...base, ...PARTICULAR[material] };
}

/** 64 steps of the curvature map, flat to tight: pale to dark with a turning hue, lightness falling evenly. */
export const MAP_STEPS = 64;
export function mapColours(): Rgb[] {
  return Array.from({ length: MAP_STEPS }, (_, i) => {
    const t = i / (MAP_STEPS - 1);
    return oklch(0.95 - 0.62 * t, 0.035 + 0.13 * Math.sin(Math.PI * Math.min(1, t * 1.1)), 100 - 130 * t);
  });
}

/** Display-encoded CSS colour of a linear one. */
export function cssColour(rgb: Rgb): string {
  const enc = (v: number): number => Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
  return `rgb(${enc(rgb[0])} ${enc(rgb[1])} ${enc(rgb[2])})`;
}
