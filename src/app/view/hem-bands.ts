/** Hems, facings and bindings as flat bands along their edges, panel frame, m. */
import { stripAlong } from '../core.ts';
import type { Flat } from './on-cloth.ts';
import type { HemEdge } from './stitches.ts';

/** Points and triangles of the band, its inner side, and its row of stitches. */
export interface Band {
  readonly points: Flat[];
  readonly tris: number[];
  readonly fold: readonly Flat[];
  readonly row: readonly Flat[];
}

/** Stations along a band are this far apart, m; so many points across it. */
const STEP = 0.008;
const ACROSS = 3;
/** The row of stitches lies this far inside a hem's fold, m. */
const INSIDE = 0.003;

/** Points at even shares of a line's own length. */
function spread(line: readonly Flat[], count: number): Flat[] {
  const run = [0];
  for (let i = 1; i < line.length; i++) run.push(run[i - 1] + Math.hypot(line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]));
  const total = run[run.length - 1];
  let k = 1;
  return Array.from({ length: count }, (_, i): Flat => {
    const at = (total * i) / (count - 1);
    while (k < line.length - 1 && run[k] < at) k++;
    const t = (at - run[k - 1]) / (run[k] - run[k - 1] || 1);
    const [a, b] = [line[k - 1], line[k]];
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  });
}

/** null: the stretches make no strip. */
export function bandOf(hem: HemEdge): Band | null {
  let strip: ReturnType<typeof stripAlong>;
  try {
    strip = stripAlong(hem.runs, hem.outline, hem.width);
  } catch {
    return null;
  }
  const { outer, inner } = strip;
  const long = outer.slice(1).reduce((sum, p, i) => sum + Math.hypot(p[0] - outer[i][0], p[1] - outer[i][1]), 0);
  const count = Math.max(3, Math.ceil(long / STEP) + 1);
  const [edge, fold] = [spread(outer, count), spread(inner, count)];
  const points = edge.flatMap((p, i) =>
    Array.from({ length: ACROSS }, (_, j): Flat => [p[0] + ((fold[i][0] - p[0]) * j) / (ACROSS - 1), p[1] + ((fold[i][1] - p[1]) * j) / (ACROSS - 1)]),
  );
  const tris: number[] = [];
  for (let i = 0; i + 1 < count; i++)
    for (let j = 0; j + 1 < ACROSS; j++) {
      const o = i * ACROSS + j;
      // Outlines run counterclockwise and the band lies to their left: its face is the panel's.
      tris.push(o, o + ACROSS, o + ACROSS + 1, o, o + ACROSS + 1, o + 1);
    }
  const share = Math.min(0.3, INSIDE / hem.width);
  const row = edge.map((p, i): Flat => [fold[i][0] + share * (p[0] - fold[i][0]), fold[i][1] + share * (p[1] - fold[i][1])]);
  return { points, tris, fold, row };
}
