import type { AnchorTrack } from './core.ts';

type Line = Pick<AnchorTrack, 'line'>;

/** Where on the picture an anchor at this distance (m) lies, px; beyond the ends of its track, the end. */
export function alongTrack({ line }: Line, distance: number): readonly [number, number] {
  let i = 1;
  while (i < line.length - 1 && line[i][0] < distance) i++;
  const [a, b] = [line[i - 1], line[i]];
  const t = Math.min(1, Math.max(0, (distance - a[0]) / (b[0] - a[0])));
  return [a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

/** The distance (m) whose place on the picture is nearest to a point of it, how far off that place is, px, and whether it is an end of the track. */
export function nearestOn({ line }: Line, x: number, y: number): { readonly distance: number; readonly off: number; readonly end: boolean } {
  let best = { distance: line[0][0], off: Number.POSITIVE_INFINITY, end: false };
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const [ux, uy] = [b[1] - a[1], b[2] - a[2]];
    const t = Math.min(1, Math.max(0, ((x - a[1]) * ux + (y - a[2]) * uy) / (ux * ux + uy * uy || 1)));
    const off = Math.hypot(x - a[1] - t * ux, y - a[2] - t * uy);
    if (off < best.off) best = { distance: a[0] + t * (b[0] - a[0]), off, end: (i === 1 && t === 0) || (i === line.length - 1 && t === 1) };
  }
  return best;
}
