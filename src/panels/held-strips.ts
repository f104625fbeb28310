/** Where rows of topstitching hold an allowance down on its panel. */
import { stripAlong } from '../bag/index.ts';
import type { Bag, EdgeRun, Point2, SeamType } from '../bag/types.ts';

/** Seams whose own allowance lies folded back under the panel, where a row can catch it. The layers of the other types are in the seam's spring already. */
const TURNED_BACK: readonly SeamType[] = ['plain', 'turned', 'topstitched'];

/** A strip between a seam and the outermost row of topstitching beside it: one more layer, stitched along both sides. */
export interface HeldStrip {
  readonly panel: string;
  readonly edge: string;
  /** Stretch of the edge, as arc-length fractions. */ readonly from: number;
  readonly to: number;
  /** Distance of the row, m. */ readonly width: number;
}

export type Quad = readonly [Point2, Point2, Point2, Point2];

/** A strip of any width along the stretch of a held one: quadrilaterals [outer start, outer end, inner end, inner start] in outline order, panel frame, m. */
export function quadsOf(bag: Bag, { panel, edge, from, to }: HeldStrip, width: number): Quad[] {
  const { outer, inner } = stripAlong([{ panel, edge, from, to }], bag.panels.find((p) => p.name === panel)!.outline, width);
  return outer.slice(1).map((p, k) => [outer[k], p, inner[k + 1], inner[k]]);
}

/** A stretch of a row that runs beside a seam without catching its allowance. */
export interface Miss {
  readonly panel: string;
  readonly edge: string;
  readonly seam: string;
  readonly offset: number;
  readonly allowance: number;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}
/** Shorter stretches are rounding, as a fraction of the edge. */
const SPECK = 1e-6;
const within = (s: Stretch, from: number, to: number): boolean => s.from <= from + SPECK && s.to >= to - SPECK;

/**
 * The strips that rows of topstitching hold in a bag, and the rows that miss an allowance that they run beside (offset over allowance, beyond 1e-9 m).
 * Of several rows along one stretch the outermost that catches the allowance counts. A row along an opening holds nothing: what is turned in there is
 * its finish.
 */
export function heldStrips(bag: Bag): { readonly strips: readonly HeldStrip[]; readonly misses: readonly Miss[] } {
  const strips: HeldStrip[] = [];
  const misses: Miss[] = [];
  for (const panel of bag.panels) {
    const rows = bag.topstitch.filter((t) => t.panel === panel.name);
    for (const edge of rows.length > 0 ? panel.outline : []) {
      const here = (runs: readonly EdgeRun[]): readonly EdgeRun[] => runs.filter((r) => r.panel === panel.name && r.edge === edge.name);
      const sewn = rows.flatMap((row) => here(row.runs).map((r) => ({ from: r.from, to: r.to, offset: row.offset })));
      const seams = bag.seams
        .filter((s) => TURNED_BACK.includes(s.type))
        .flatMap((s) => s.sides.flatMap((side) => here(side).map((r) => ({ from: r.from, to: r.to, seam: s.name, allowance: s.trimmed ?? s.allowance }))));
      const cuts = [...new Set([...sewn, ...seams].flatMap((s) => [s.from, s.to]))].sort((a, b) => a - b);
      cuts.slice(1).forEach((to, i) => {
        const from = cuts[i];
        const seam = seams.find((s) => within(s, from, to));
        const beside = sewn.filter((s) => within(s, from, to)).map((s) => s.offset);
        if (to - from < SPECK || seam === undefined || beside.length === 0) return;
        const held = beside.filter((o) => o <= seam.allowance + 1e-9);
        if (held.length === 0) {
          misses.push({ panel: panel.name, edge: edge.name, seam: seam.seam, offset: Math.min(...beside), allowance: seam.allowance });
          return;
        }
        strips.push({ panel: panel.name, edge: edge.name, from, to, width: Math.max(...held) });
      });
    }
  }
  return { strips, misses };
}
