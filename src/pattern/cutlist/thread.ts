/** Thread for every row of stitches of a bag. */
import type { Anchor, Bag, BagOption } from '../../bag/types.ts';
import { caughtIn, sheetOf, threadUse } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import type { Draft } from '../../panels/types.ts';
import type { ListOptions, ThreadRow } from './types.ts';

/** Topstitch of 7-8 stitches per inch, m. Common practice, no source. */
const TOPSTITCH = 0.003;

/** Thread of all rows, m. */
export const threadLength = (rows: readonly ThreadRow[]): number => rows.reduce((sum, r) => sum + r.thread, 0);

/** Length of stitching of an anchor, m: round the box, its diagonals, a row; rivets have none. */
function stitchedLength({ kind, width, height }: Anchor): number {
  switch (kind) {
    case 'box':
      return 2 * (width + height);
    case 'box with cross':
      return 2 * (width + height) + 2 * libm.hypot(width, height);
    case 'row':
      return width;
    case 'ring loop':
      return 2 * (width + height);
    case 'rivet':
      return 0;
  }
}

/**
 * Thread of every seam (once), hem, row of topstitching and anchor, by lockstitch 301: (2 + 2 T S) of its length, T what is sewn through, S stitches per metre
 * (threadUse, with its source). Seams go through what both sides catch; a hem through its folds of shell; an anchor through panel and folded strap. Ends, bobbins
 * and mending are not in it.
 */
export function threadRows(bag: Bag, draft: Draft, option: BagOption, { stitch }: Pick<ListOptions, 'stitch'>): ThreadRow[] {
  const stack = (name: string) => bag.stacks.find((s) => s.name === name)!;
  const caught = (panel: string): number => caughtIn(bag, stack(option.stacks[panel]!)).thickness;
  const shell = (panel: string): number => {
    const s = stack(option.stacks[panel]!);
    return s.kind === 'direct' ? s.thickness : sheetOf(bag, s.layers[0]!, 'mid').thickness;
  };
  const row = (name: string, length: number, long: number, thickness: number): ThreadRow => ({
    name,
    length,
    stitch: long,
    thickness,
    thread: length * threadUse('301', thickness, 1 / long),
  });
  const seams = bag.seams.flatMap((seam, i) => {
    if (seam.type === 'fold') return [];
    const sides = draft.seams[i]!.sides;
    const through = sides.reduce((sum, side) => sum + Math.max(...side.runs.map((r) => caught(draft.panels[r.panel]!.name))), 0);
    return [row(`seam ${seam.name}`, Math.min(sides[0].length, sides[1].length), stitch, through)];
  });
  const hems = (bag.finishes ?? []).flatMap((f) => {
    const panel = draft.panels.find((p) => p.name === f.panel)!;
    const long = f.runs.reduce((sum, r) => sum + panel.edges.find((e) => e.name === r.edge)!.length * (r.to - r.from), 0);
    const layers = f.finish === 'turned twice' ? 3 : f.finish === 'raw' ? 0 : f.finish === 'bound' ? 5 : 2;
    return layers === 0 ? [] : [row(`${f.finish} edge ${f.panel} ${f.edge}`, long, f.finish === 'faced' ? stitch : TOPSTITCH, layers * shell(f.panel))];
  });
  const rows = bag.topstitch.map((t) => {
    const long = t.line.slice(1).reduce((sum, p, i) => sum + libm.hypot(p[0] - t.line[i]![0], p[1] - t.line[i]![1]), 0);
    return row(`topstitch ${t.panel} ${[...new Set(t.runs.map((r) => r.edge))].join(', ')}`, long, t.stitch, 2 * shell(t.panel));
  });
  const anchors = bag.straps.map((s) => {
    const folded = caughtIn(bag, stack(s.stack)).thickness * s.layers;
    const long = s.anchors.reduce((sum, a) => sum + stitchedLength(a), 0);
    return row(`anchors of strap ${s.name}`, long, s.sewn?.stitch ?? TOPSTITCH, folded + Math.max(...s.anchors.map((a) => caught(a.panel))));
  });
  return [...seams, ...hems, ...rows, ...anchors].filter((r) => r.length > 0);
}
