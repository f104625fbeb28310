import { libm } from '../../numerics/index.ts';
/**
 * Colours of the maps, pale to dark. Linear RGB computed from OKLCH (Ottosson 2020, matrices from memory) so that equal steps look like equal steps.
 */
export type Rgb = readonly [number, number, number];

/** Curvature at the dark end of its map, 1/m: a bend of 20 mm radius. */
export const TIGHT_CURVATURE = 50;

/** Lightness 0..1, chroma and hue, deg, as linear sRGB, clipped to 0..1. */
export function oklch(l: number, c: number, hueDeg: number): Rgb {
  const h = (hueDeg * Math.PI) / 180;
  const a = c * libm.cos(h);
  const b = c * libm.sin(h);
  const l3 = libm.cube(l + 0.3963377774 * a + 0.2158037573 * b);
  const m3 = libm.cube(l - 0.1055613458 * a - 0.0638541728 * b);
  const s3 = libm.cube(l - 0.0894841775 * a - 1.291485548 * b);
  const clamp = (v: number): number => Math.min(1, Math.max(0, v));
  return [
    clamp(4.0767416621 * l3 - 3.3077115913 * m3 + 0.2309699292 * s3),
    clamp(-1.2684380046 * l3 + 2.6097574011 * m3 - 0.3413193965 * s3),
    clamp(-0.0041960863 * l3 - 0.7034186147 * m3 + 1.707614701 * s3),
  ];
}

/** 64 steps of a map: pale to dark with a turning hue, lightness falling evenly. */
export const MAP_STEPS = 64;
/** Colours of the steps of a map, from the least value to the largest. */
export function mapColours(): Rgb[] {
  return Array.from({ length: MAP_STEPS }, (_, i) => {
    const t = i / (MAP_STEPS - 1);
    return oklch(0.95 - 0.62 * t, 0.035 + 0.13 * libm.sin(Math.PI * Math.min(1, t * 1.1)), 100 - 130 * t);
  });
}

/** Display-encoded CSS colour of a linear one. */
export function cssColour(rgb: Rgb): string {
  const enc = (v: number): number => Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * libm.exp(libm.log(v) / 2.4) - 0.055));
  return `rgb(${enc(rgb[0])} ${enc(rgb[1])} ${enc(rgb[2])})`;
}
