/** Colours of cloths. Appearance only. Linear RGB for the programs in shaders/. */
import { oklch, type Rgb } from '../core.ts';

/** Which surface program a panel is drawn with; numbers because they are a shader switch. */
const CLOTH_PLAIN = 0;
const CLOTH_WEAVE = 1;
export const CLOTH_GRAIN = 2;
const CLOTH_BOARD = 3;

export interface ClothLook {
  readonly cloth: number;
  readonly face: Rgb;
  readonly lining: Rgb;
  /** Yarn spacing or pebble size, m. */ readonly pitch: number;
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
