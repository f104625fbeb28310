/** Where the two sides of a seam meet: which places get a notch, and how many clips each. */
import type { Point2 } from '../../bag/types.ts';
import { placeOnSide } from '../../panels/index.ts';
import type { Draft, DraftSeam } from '../../panels/types.ts';

/** Seams shorter than this have no notch between their ends, m; longer stretches than LONG get one in their middle. */
const SHORT = 0.06;
const LONG = 0.3;
/** Nearer to a corner than this a notch is lost in the allowances, m. */
const CORNER = 0.008;

/** A notch on one panel: the edge's place by arc length, and 1, 2 or 3 clips. */
export interface Notch {
  readonly panel: number;
  readonly edge: number;
  readonly fraction: number;
  readonly clips: number;
  readonly seam: string;
}

/** Matched places between the ends of a seam, [u on a, u on b]. */
function matches(seam: DraftSeam): [number, number][] {
  const long = Math.min(seam.sides[0].length, seam.sides[1].length);
  const out: [number, number][] = [];
  seam.knots.slice(1).forEach(([a, b], i) => {
    const [a0, b0] = seam.knots[i]!;
    const stretch = Math.min((a - a0) * seam.sides[0].length, (b - b0) * seam.sides[1].length);
    if (stretch >= LONG || (seam.knots.length === 2 && long >= SHORT)) out.push([(a0 + a) / 2, (b0 + b) / 2]);
    if (i + 2 < seam.knots.length) out.push([a, b]);
  });
  return out;
}

/** Steps after which the search for unlike neighbours gives up and takes what it has. */
const MOST_STEPS = 20_000;

/** Seams that follow one another round a panel, by seam: `next` share a corner, `apart` have an unsewn edge between them. */
function neighbours(draft: Draft): { next: Set<number>[]; apart: Set<number>[] } {
  const [next, apart] = [draft.seams.map(() => new Set<number>()), draft.seams.map(() => new Set<number>())];
  draft.panels.forEach((panel, p) => {
    for (const loop of panel.loops) {
      const round = loop.flatMap((e, k) =>
        draft.seams
          .flatMap((s, i) =>
            s.sides.flatMap((side) => side.runs.filter((r) => r.panel === p && r.edge === e).map((r) => ({ i, from: k + r.from, to: k + r.to }))),
          )
          .sort((a, b) => a.from - b.from),
      );
      round.forEach((a, k) => {
        const b = round[(k + 1) % round.length]!;
        if (a.i === b.i) return;
        const gap = (((b.from - a.to) % loop.length) + loop.length) % loop.length;
        const kind = gap < 1e-6 || gap > loop.length - 1e-6 ? next : apart;
        kind[a.i]!.add(b.i);
        kind[b.i]!.add(a.i);
      });
    }
  });
  return { next, apart };
}

/**
 * Clips of each seam's notches, 1 to 3, by seam: seams that meet at a corner of a panel look unlike, so that neither can be sewn to the other's place; those
 * with an unsewn edge between them too, where three kinds are enough. Searched in file order; the same draft gives the same clips.
 */
export function clipsOfSeams(draft: Draft): number[] {
  const { next, apart } = neighbours(draft);
  const clips: number[] = [];
  let steps = 0;
  const fill = (i: number): boolean => {
    if (i === draft.seams.length) return true;
    if (++steps > MOST_STEPS) return false;
    const like = (set: ReadonlySet<number>, c: number): number => [...set].filter((j) => j < i && clips[j] === c).length;
    const free = [1, 2, 3].filter((c) => like(next[i]!, c) === 0).sort((a, b) => like(apart[i]!, a) - like(apart[i]!, b) || a - b);
    for (const c of free) {
      clips[i] = c;
      if (fill(i + 1)) return true;
    }
    return false;
  };
  if (fill(0)) return clips;
  draft.seams.forEach((_, i) => {
    clips[i] = [1, 2, 3].find((c) => ![...next[i]!].some((j) => j < i && clips[j] === c)) ?? 3;
  });
  return clips;
}

/** Every notch of a bag, seam by seam, on both sides. Seams without a middle worth marking (shorter than 60 mm) and folds have none. */
export function notchesOf(draft: Draft, isFold: (seam: number) => boolean): Notch[] {
  const clips = clipsOfSeams(draft);
  return draft.seams.flatMap((seam, i) => {
    if (isFold(i)) return [];
    return matches(seam).flatMap((match) =>
      seam.sides.flatMap((side, k): Notch[] => {
        const { run, fraction } = placeOnSide(side, match[k]!);
        const edge = draft.panels[run.panel]!.edges[run.edge]!;
        const [before, after] = [fraction * edge.length, (1 - fraction) * edge.length];
        const corner = Math.min(
          Math.abs(draft.panels[run.panel]!.cornerAngle[run.edge]! - Math.PI) > 0.2 ? before : Infinity,
          Math.abs(draft.panels[run.panel]!.cornerAngle[edge.next]! - Math.PI) > 0.2 ? after : Infinity,
        );
        return corner < CORNER ? [] : [{ panel: run.panel, edge: run.edge, fraction, clips: clips[i]!, seam: seam.name }];
      }),
    );
  });
}

/** Lines of a notch: clips 3 mm apart from the cut line inward, just short of the stitch line; on a bare edge 4 mm into the cloth. Common practice, no source. */
export function clipLines(at: Point2, tangent: Point2, out: 1 | -1, allowance: number, clips: number): Point2[][] {
  const n: Point2 = [out * tangent[1], -out * tangent[0]];
  const [outer, inner] = allowance >= 0.003 ? [allowance, 0.001] : [allowance, -0.004];
  return Array.from({ length: clips }, (_, i) => {
    const along = (i - (clips - 1) / 2) * 0.003;
    const foot: Point2 = [at[0] + along * tangent[0], at[1] + along * tangent[1]];
    return [outer, inner].map((far): Point2 => [foot[0] + far * n[0], foot[1] + far * n[1]]);
  });
}
