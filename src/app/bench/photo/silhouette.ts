import type { Pixel } from '../core.ts';

/** Brightness of a picture, row by row, 0 to 255. */
export interface Brightness {
  readonly width: number;
  readonly height: number;
  readonly at: Uint8Array;
}

/** Brightness by Rec. 601's weights (from memory) of a canvas's red, green, blue, opacity. */
export function brightnessOf({ width, height, data }: { readonly width: number; readonly height: number; readonly data: Uint8ClampedArray }): Brightness {
  const at = new Uint8Array(width * height);
  for (let i = 0; i < at.length; i++) at[i] = (299 * data[4 * i]! + 587 * data[4 * i + 1]! + 114 * data[4 * i + 2]!) / 1000;
  return { width, height, at };
}

/** Between pixels by straight lines; the border runs on. A pixel's middle lies half a pixel in, as a canvas has it. */
function sample({ width, height, at }: Brightness, x: number, y: number): number {
  const [cx, cy] = [Math.min(width - 1.001, Math.max(0, x - 0.5)), Math.min(height - 1.001, Math.max(0, y - 0.5))];
  const [i, j] = [Math.floor(cx), Math.floor(cy)];
  const [u, v] = [cx - i, cy - j];
  const k = j * width + i;
  return (1 - v) * ((1 - u) * at[k]! + u * at[k + 1]!) + v * ((1 - u) * at[k + width]! + u * at[k + width + 1]!);
}

/** Steps of brightness that are no silhouette: the noise of a picture. */
const FAINT = 10;

/** Change of brightness across a line through a place, over `half` pixels each way, the mean of five beside one another. */
function stepAt(b: Brightness, x: number, y: number, [nx, ny]: Pixel, half: number): number {
  let sum = 0;
  for (let k = -2; k <= 2; k++) {
    const [px, py] = [x - k * half * ny, y + k * half * nx];
    sum += sample(b, px + half * nx, py + half * ny) - sample(b, px - half * nx, py - half * ny);
  }
  return sum / 5;
}

/**
 * The strongest step of brightness along a direction, to a part of a pixel (parabola through three), nearer ones preferred; null where there is none.
 * Parameters: place; unit direction across the silhouette; how far to look each way, pixels.
 */
function stepAlong(b: Brightness, [x, y]: Pixel, across: Pixel, reach: number): Pixel | null {
  const half = Math.max(1, reach / 12);
  const pace = half / 2;
  const count = Math.round(reach / pace);
  const steps = Array.from({ length: 2 * count + 1 }, (_, i) =>
    Math.abs(stepAt(b, x + (i - count) * pace * across[0], y + (i - count) * pace * across[1], across, half)),
  );
  const weight = (i: number): number => steps[i]! * (1 - 0.5 * ((i - count) / count) ** 2);
  let best = 1;
  for (let i = 1; i < 2 * count; i++) if (weight(i) > weight(best)) best = i;
  if (steps[best]! < FAINT) return null;
  const [l, m, r] = [steps[best - 1]!, steps[best]!, steps[best + 1]!];
  const bow = l - 2 * m + r;
  const part = bow < 0 ? Math.max(-0.5, Math.min(0.5, (l - r) / (2 * bow))) : 0;
  const t = (best + part - count) * pace;
  return [x + t * across[0], y + t * across[1]];
}

/** Moves a place to the nearest clear silhouette: of eight directions the one with the strongest step tells how it runs. Null where nothing is clear. */
export function snapped(b: Brightness, at: Pixel, reach: number): Pixel | null {
  let best: { readonly place: Pixel; readonly worth: number } | null = null;
  for (let k = 0; k < 8; k++) {
    const across: Pixel = [Math.cos((Math.PI * k) / 8), Math.sin((Math.PI * k) / 8)];
    const place = stepAlong(b, at, across, reach);
    if (!place) continue;
    const far = Math.hypot(place[0] - at[0], place[1] - at[1]) / reach;
    const worth = Math.abs(stepAt(b, place[0], place[1], across, Math.max(1, reach / 12))) * (1 - 0.5 * far * far);
    if (!best || worth > best.worth) best = { place, worth };
  }
  return best?.place ?? null;
}

interface Line {
  readonly through: Pixel;
  readonly along: Pixel;
}

/** The line through most of some places: by least squares, twice over, the second time without those far from it. */
function lineThrough(places: readonly Pixel[]): Line {
  const fit = (list: readonly Pixel[]): Line => {
    const through: Pixel = [list.reduce((s, p) => s + p[0], 0) / list.length, list.reduce((s, p) => s + p[1], 0) / list.length];
    let [xx, xy, yy] = [0, 0, 0];
    for (const p of list) {
      const [dx, dy] = [p[0] - through[0], p[1] - through[1]];
      xx += dx * dx;
      xy += dx * dy;
      yy += dy * dy;
    }
    const angle = Math.atan2(2 * xy, xx - yy) / 2;
    return { through, along: [Math.cos(angle), Math.sin(angle)] };
  };
  const first = fit(places);
  const off = (p: Pixel): number => Math.abs((p[0] - first.through[0]) * first.along[1] - (p[1] - first.through[1]) * first.along[0]);
  const middle = places.map(off).sort((a, b) => a - b)[places.length >> 1]!;
  return fit(places.filter((p) => off(p) <= Math.max(0.3, 2.5 * middle)));
}

/** Share of a side that is looked at: a card's corners are round (3 mm of 54). */
const FROM = 0.12;
const SAMPLES = 24;

/**
 * A card's corners by its sides: each side is looked for near the line between two marked corners, and the corners are where the sides meet. Null where
 * a side is not clear at eight places at least, or a corner would move further than `reach`.
 */
export function snappedCard(b: Brightness, corners: readonly Pixel[], reach: number): Pixel[] | null {
  const sides = corners.map((from, i): Line | null => {
    const to = corners[(i + 1) % 4]!;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (!(length > 0)) return null;
    const across: Pixel = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
    const found = Array.from({ length: SAMPLES }, (_, k) => {
      const q = FROM + ((1 - 2 * FROM) * k) / (SAMPLES - 1);
      return stepAlong(b, [from[0] + q * (to[0] - from[0]), from[1] + q * (to[1] - from[1])], across, reach);
    }).filter((p) => p !== null);
    return found.length < 8 ? null : lineThrough(found);
  });
  const meet = (m: Line, n: Line): Pixel => {
    const cross = m.along[0] * n.along[1] - m.along[1] * n.along[0];
    const t = ((n.through[0] - m.through[0]) * n.along[1] - (n.through[1] - m.through[1]) * n.along[0]) / cross;
    return [m.through[0] + t * m.along[0], m.through[1] + t * m.along[1]];
  };
  const out: Pixel[] = [];
  for (let i = 0; i < 4; i++) {
    const [before, after] = [sides[(i + 3) % 4], sides[i]];
    if (!before || !after) return null;
    const corner = meet(before, after);
    const far = Math.hypot(corner[0] - corners[i]![0], corner[1] - corners[i]![1]);
    if (!(far <= reach)) return null;
    out.push(corner);
  }
  return out;
}
