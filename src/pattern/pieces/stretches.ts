/** The outline of a panel in stretches of one allowance each. */

import type { Bag, EdgeFinish, EdgeRun, Point2, SeamType } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import type { Draft, DraftEdge } from '../../panels/types.ts';
import type { EdgeUse, Stretch } from './types.ts';

/** Largest distance of a drawn chord from its curve, m. */
const CHORD = 4e-6;
const MOST = 1000;
/** First turn of an edge turned twice, m: what lies in the hem's fold (common practice, no source; as weighed in assembly/finishes.ts). */
const FIRST_TURN = 0.01;
const SPECK = 1e-6;

/** Places along an edge, close enough that chords stray by CHORD at most, with their directions. */
function sampled(edge: DraftEdge, from: number, to: number): { points: Point2[]; tangents: Point2[] } {
  const long = edge.length * (to - from);
  // A chord l of a circle R strays by l^2 / 8R; the tightest place of a cubic decides for all of it.
  const count = edge.edge.kind === 'line' ? 1 : Math.min(MOST, Math.max(4, Math.ceil(long / Math.sqrt(8 * edge.curve.minRadius * CHORD))));
  const at = Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count);
  return { points: at.map((s) => edge.curve.at(s)), tangents: at.map((s) => edge.curve.tangent(s)) };
}

/** Smallest radius at which an edge curves away from the cloth; Infinity where it never does. */
function hollowRadius(edge: DraftEdge, points: readonly Point2[]): number {
  if (edge.edge.kind === 'line') return Number.POSITIVE_INFINITY;
  const side = edge.clothOnLeft ? 1 : -1;
  if (edge.edge.kind === 'arc') return edge.curve.turning * side < 0 ? edge.curve.minRadius : Number.POSITIVE_INFINITY;
  // Radius of the circle through three neighbouring points, where they turn away from the cloth.
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i + 1 < points.length; i++) {
    const [a, b, c] = [points[i - 1]!, points[i]!, points[i + 1]!];
    const cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    if (cross * side >= 0) continue;
    const sides = libm.hypot(b[0] - a[0], b[1] - a[1]) * libm.hypot(c[0] - b[0], c[1] - b[1]) * libm.hypot(c[0] - a[0], c[1] - a[1]);
    least = Math.min(least, sides / (2 * Math.abs(cross)));
  }
  return least;
}

/** What is folded back at a finished edge, from the edge outward, m. */
function foldsOf({ finish, width }: Pick<EdgeFinish, 'finish' | 'width'>, facing: number): readonly number[] {
  switch (finish) {
    case 'raw':
    case 'bound':
      return [];
    case 'turned once':
      return [width];
    case 'turned twice':
      return [width, Math.min(FIRST_TURN, width)];
    case 'faced':
      return [facing];
  }
}

interface Claim {
  readonly from: number;
  readonly to: number;
  readonly use: EdgeUse;
  readonly allowance: number;
}

/** Seams and finishes that take up stretches of one edge. */
function claimsOn(bag: Bag, panel: string, edge: string, facing: number): Claim[] {
  const here = (r: EdgeRun): boolean => r.panel === panel && r.edge === edge;
  const seams = bag.seams.flatMap((s) =>
    s.sides
      .flat()
      .filter(here)
      .map((r): Claim => ({ from: r.from, to: r.to, use: { kind: 'seam', seam: s.name, type: s.type }, allowance: s.type === 'bound' ? 0 : s.allowance })),
  );
  const finishes = (bag.finishes ?? []).flatMap((f) =>
    f.panel !== panel
      ? []
      : f.runs.filter(here).map((r): Claim => {
          const folds = foldsOf(f, facing);
          return { from: r.from, to: r.to, use: { kind: 'finish', finish: f.finish, folds }, allowance: folds.reduce((sum, w) => sum + w, 0) };
        }),
  );
  return [...seams, ...finishes];
}

/**
 * Loops of a panel as stretches, in outline order. Where several seams take up one stretch the widest allowance counts. A bound seam has no allowance beyond
 * its stitch line: the binding goes round the raw edge. What nothing takes up is raw and has none. facing: allowance of an edge that gets a facing, m.
 */
export function stretchesOf(bag: Bag, draft: Draft, p: number, facing: number): Stretch[][] {
  const panel = draft.panels[p]!;
  return panel.loops.map((loop) =>
    loop.flatMap((e): Stretch[] => {
      const edge = panel.edges[e]!;
      const claims = claimsOn(bag, panel.name, edge.name, facing);
      const cuts = [...new Set([0, 1, ...claims.flatMap((c) => [c.from, c.to])])]
        .sort((a, b) => a - b)
        .filter((c, i, all) => i === 0 || c - all[i - 1]! > SPECK);
      const out: Stretch[] = [];
      cuts.slice(1).forEach((to, i) => {
        const from = cuts[i]!;
        const over = claims.filter((c) => c.from <= from + SPECK && c.to >= to - SPECK);
        const best = over.reduce<Claim | null>((a, c) => (a === null || c.allowance > a.allowance ? c : a), null);
        const { points, tangents } = sampled(edge, from, to);
        out.push({
          run: { panel: panel.name, edge: edge.name, from, to },
          use: best?.use ?? { kind: 'raw' },
          allowance: best?.allowance ?? 0,
          points,
          tangents,
          out: edge.clothOnLeft ? 1 : -1,
          hollow: hollowRadius(edge, points),
        });
      });
      return out;
    }),
  );
}

/** Seams whose allowance is turned inside before the corner is pushed out: their corners are cut off. */
export const TURNED: readonly SeamType[] = ['turned'];
