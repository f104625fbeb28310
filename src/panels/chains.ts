import type { EdgeRun } from '../bag/types.ts';
import { UnionFind } from '../numerics/index.ts';
import type { DraftPanel, SeamSide, SideRun } from './types.ts';

/** A run with its panel and edge looked up, still without direction. */
export interface FoundRun {
  readonly panel: number;
  readonly edge: number;
  readonly from: number;
  readonly to: number;
}

const WHOLE = 1e-9;

/** Looks up the runs of one seam side. Throws on an unknown panel or edge: the parser reports those first, with their paths. */
export function findRuns(panels: readonly DraftPanel[], side: readonly EdgeRun[], seam: string): FoundRun[] {
  return side.map((run) => {
    const panel = panels.findIndex((p) => p.name === run.panel);
    if (panel < 0) throw new RangeError(`unknown panel ${run.panel} in seam ${seam}`);
    const edge = panels[panel].edges.findIndex((e) => e.name === run.edge);
    if (edge < 0) throw new RangeError(`unknown edge ${run.panel}.${run.edge} in seam ${seam}`);
    if (!(run.from >= 0 && run.from < run.to && run.to <= 1))
      throw new RangeError(`invalid stretch ${run.from}..${run.to} of ${run.panel}.${run.edge} in seam ${seam}`);
    return { panel, edge, from: run.from, to: run.to };
  });
}

/** Name of a place on a loop; an edge's end is the next edge's start, so that corners have one name. */
export function placeKey(panels: readonly DraftPanel[], panel: number, edge: number, fraction: number): string {
  const e = panels[panel].edges[edge];
  if (fraction > 1 - WHOLE) return `${panel}:${e.next}:0`;
  if (fraction < WHOLE) return `${panel}:${edge}:0`;
  return `${panel}:${edge}:${Math.round(fraction * 1e6)}`;
}

/** Places known to be sewn together, by their names; filled as seams are resolved. */
export class SewnPlaces {
  private readonly numbers = new Map<string, number>();
  private readonly sets = new UnionFind();
  /** Number of the set that a place is in: equal numbers are sewn together. */
  find(key: string): number {
    return this.sets.find(this.numberOf(key));
  }
  join(a: string, b: string): void {
    this.sets.join(this.numberOf(a), this.numberOf(b));
  }
  private numberOf(key: string): number {
    const known = this.numbers.get(key);
    if (known !== undefined) return known;
    const number = this.sets.add();
    this.numbers.set(key, number);
    return number;
  }
}

/** +1: the chain runs along its outlines; -1: against; 0: cannot be told (a single run, or runs that do not touch). */
export function chainDirection(panels: readonly DraftPanel[], runs: readonly FoundRun[], sewn: SewnPlaces): 1 | -1 | 0 {
  let along = 0;
  let against = 0;
  for (let i = 0; i + 1 < runs.length; i++) {
    const a = runs[i];
    const b = runs[i + 1];
    const start = (r: FoundRun): number => sewn.find(placeKey(panels, r.panel, r.edge, r.from));
    const end = (r: FoundRun): number => sewn.find(placeKey(panels, r.panel, r.edge, r.to));
    if (end(a) === start(b)) along++;
    if (start(a) === end(b)) against++;
  }
  // Two edges that make a whole loop touch both ways round: along.
  return along > 0 && along >= against ? 1 : against > 0 ? -1 : 0;
}

/** true when a chain, walked in its own order, ends where it starts: a hoop. */
export function isHoop(panels: readonly DraftPanel[], runs: readonly FoundRun[], direction: 1 | -1, sewn: SewnPlaces): boolean {
  const [first, last] = [runs[0], runs[runs.length - 1]];
  const start = placeKey(panels, first.panel, first.edge, direction > 0 ? first.from : first.to);
  const end = placeKey(panels, last.panel, last.edge, direction > 0 ? last.to : last.from);
  return sewn.find(start) === sewn.find(end);
}

/** A side with every run walked forward or backward, in the order given or turned round, lengths accumulated. */
export function layOut(panels: readonly DraftPanel[], runs: readonly FoundRun[], forward: boolean, turned: boolean): SeamSide {
  const order = turned ? [...runs].reverse() : runs;
  const lengths = order.map((r) => panels[r.panel].edges[r.edge].length * (r.to - r.from));
  const length = lengths.reduce((sum, l) => sum + l, 0);
  let walked = 0;
  const laid: SideRun[] = order.map((r, i) => {
    const u0 = walked / length;
    walked += lengths[i];
    return { ...r, forward, length: lengths[i], u0, u1: i === order.length - 1 ? 1 : walked / length };
  });
  return { runs: laid, length };
}

/** The two ends of a side as places, in pairing order. */
export function sideEnds(panels: readonly DraftPanel[], side: SeamSide): [string, string] {
  const first = side.runs[0];
  const last = side.runs[side.runs.length - 1];
  return [
    placeKey(panels, first.panel, first.edge, first.forward ? first.from : first.to),
    placeKey(panels, last.panel, last.edge, last.forward ? last.to : last.from),
  ];
}

/** Where fraction u of a side lies: its run and the fraction of that run's edge. */
export function placeOnSide(side: SeamSide, u: number): { run: SideRun; fraction: number } {
  let i = 0;
  while (i < side.runs.length - 1 && side.runs[i].u1 < u) i++;
  const run = side.runs[i];
  const w = Math.min(1, Math.max(0, (u - run.u0) / (run.u1 - run.u0)));
  return { run, fraction: run.forward ? run.from + w * (run.to - run.from) : run.to - w * (run.to - run.from) };
}
