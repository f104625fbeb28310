import { type BagDocument, parseBagDocument, type SizeChange, type Unit, withSize } from '../bag/index.ts';
import type { Bag, Point2 } from '../bag/types.ts';
import type { Draft } from '../panels/types.ts';
import { type Handle, handlesOf } from './handles.ts';

/** A handle moved by (dx, dy), or one of its sizes given outright. m, panel frame. */
export type Move = { readonly handle: string } & ({ readonly by: Point2 } | { readonly control: number; readonly value: number });

/**
 * The document after a move, with what it did to each size, in order. Sizes that an earlier one has carried along already (both ends of an
 * edge that hang on one parameter) are left alone. Errors: BagError with every fault when the result is no sound bag; null for an unknown handle.
 */
export function moved(document: BagDocument, bag: Bag, move: Move, unit: Unit): { document: BagDocument; bag: Bag; changes: SizeChange[] } | null {
  const find = (d: BagDocument, b: Bag): Handle | undefined => handlesOf(d, b).find((h) => h.id === move.handle);
  const handle = find(document, bag);
  if (!handle) return null;
  const changes: SizeChange[] = [];
  let now = { document, bag };
  handle.controls.forEach((control, i) => {
    if ('control' in move ? i !== move.control : Math.abs(control.gain[0] * move.by[0] + control.gain[1] * move.by[1]) < 1e-7) return;
    const target = 'control' in move ? move.value : control.value + control.gain[0] * move.by[0] + control.gain[1] * move.by[1];
    const current = find(now.document, now.bag)?.controls[i];
    if (!current || Math.abs(current.value - target) < 1e-6) return;
    const made = withSize(now.document, control.path, target, unit);
    now = parseBagDocument(made.document.value);
    changes.push(made.change);
  });
  return { ...now, changes };
}

/** One seam at a handle's edges: the length of this side, of its partner, and the difference, m. */
export interface SideLengths {
  readonly seam: string;
  readonly own: number;
  readonly partner: number;
  readonly partnerNames: readonly string[];
}

/** Lengths of both sides of every seam as drawn, m. */
export function sideLengths(bag: Bag, draft: Draft, panel: string, edges: readonly string[]): SideLengths[] {
  const p = bag.panels.findIndex((q) => q.name === panel);
  const wanted = new Set(edges.flatMap((e) => [e, `${e} right`, `${e} left`]));
  return draft.seams.flatMap((seam) => {
    const side = seam.sides.findIndex((s) => s.runs.some((r) => r.panel === p && wanted.has(draft.panels[r.panel].edges[r.edge].name)));
    if (side < 0) return [];
    const other = seam.sides[1 - side];
    const partnerNames = [...new Set(other.runs.map((r) => `${draft.panels[r.panel].name}.${draft.panels[r.panel].edges[r.edge].name}`))];
    return [{ seam: seam.name, own: seam.sides[side].length, partner: other.length, partnerNames }];
  });
}
