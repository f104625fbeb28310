/** References to edges: "front.left", "front.around", "front.top[25%..75%]", "gusset.long[0 mm..W]". */
import { FormulaError } from './formula.ts';
import type { EdgeRun } from './types.ts';

export interface EdgeRef {
  readonly panel: string;
  readonly edge: string;
  /** Written ends of the stretch; null = the edge's own end. */
  readonly from: string | null;
  readonly to: string | null;
}

/** Takes a reference apart. Parameters: text; what it stands for, for messages; panel meant when none is named. Errors: FormulaError. */
export function readEdgeRef(text: string, what: string, home?: string): EdgeRef {
  if (text.length > 200) throw new FormulaError(`a reference of at most 200 characters in ${what}`);
  const open = text.indexOf('[');
  const names = (open < 0 ? text : text.slice(0, open)).split('.').map((part) => part.trim());
  const rest = open < 0 ? '' : text.slice(open).trim();
  const panel = names.length === 2 ? names[0] : home;
  const edge = names[names.length - 1];
  if (names.length > 2 || !panel || edge === '' || edge.includes(']') || (open >= 0 && !rest.endsWith(']')))
    throw new FormulaError(`"panel.edge" or "panel.edge[25%..75%]" in ${what}`);
  if (open < 0) return { panel, edge, from: null, to: null };
  const ends = rest.slice(1, -1).split('..');
  if (ends.length !== 2) throw new FormulaError(`a stretch such as [25%..75%] or [40 mm..120 mm] in ${what}`);
  const end = (s: string) => (s.trim() === '' ? null : s);
  return { panel, edge, from: end(ends[0]), to: end(ends[1]) };
}

/**
 * The stretch from..to (fractions of the whole chain) as runs of single edges, in chain order.
 * Parameters: edge names and their lengths, m. Errors: FormulaError unless 0 <= from < to <= 1.
 */
export function runsOf(panel: string, names: readonly string[], lengths: readonly number[], from: number, to: number): EdgeRun[] {
  const slack = 1e-9;
  if (!(from >= -slack && to <= 1 + slack && from < to)) {
    throw new FormulaError(`a stretch inside the edge with from before to, not ${Number((from * 100).toPrecision(4))}%..${Number((to * 100).toPrecision(4))}%`);
  }
  const total = lengths.reduce((a, b) => a + b, 0);
  const runs: EdgeRun[] = [];
  let start = 0;
  names.forEach((edge, i) => {
    const begin = from * total - start;
    const end = to * total - start;
    start += lengths[i];
    const a = begin <= slack * total ? 0 : begin / lengths[i];
    const b = end >= lengths[i] - slack * total ? 1 : end / lengths[i];
    if (a < 1 && b > 0 && a < b) runs.push({ panel, edge, from: a, to: b });
  });
  return runs;
}
