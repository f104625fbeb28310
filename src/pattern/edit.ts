import { type BagDocument, lengthIn, type Path, parseBagDocument, type SizeChange, type Unit, withSize, withValue, writtenLength } from '../bag/index.ts';
import type { Bag, Point2 } from '../bag/types.ts';
import type { Draft } from '../panels/types.ts';
import { isFigure, readAt } from './edit-document.ts';
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
    const linked = withSize(now.document, control.path, target, unit);
    // A curve is drawn by hand: a parameter that other things hang on stays, and the place is written as so much more or less than its formula. So
    // does a place that is written so already.
    const written = readAt(now.document, control.path);
    const loose = handle.kind === 'curve' && !isFigure(written) && (linked.change.parameter === null || movesMore(linked.document, now.bag, handle));
    const made = loose || stemOf(written) !== null ? withOffset(now, control.path, target, unit) : linked;
    now = parseBagDocument(made.document.value);
    changes.push(made.change);
  });
  return { ...now, changes };
}

/** Does a change move anything but the edge of a curve's own handle? A document that is no sound bag does. */
function movesMore(document: BagDocument, before: Bag, handle: Handle): boolean {
  const rest = (bag: Bag): string => {
    const own = new Set(handle.edges.flatMap((e) => [e, `${e} right`, `${e} left`]));
    const panels = bag.panels.map(({ outline, marks: _, ...p }) => [p.holes, p.lines, p.regions, outline.map((e) => (own.has(e.name) ? [e.from, e.to] : e))]);
    return JSON.stringify([panels, bag.straps.map((s) => [s.length, s.width])], (_, v) => (typeof v === 'number' ? Math.round(v * 1e9) : v));
  };
  try {
    return rest(parseBagDocument(document.value).bag) !== rest(before);
  } catch {
    return true;
  }
}

const OFFSET = /^(.*\S)\s+([+-])\s+(\d[\d\s./]*\s*(?:mm|cm|m|in|["″”]))\s*$/;

/** The formula of "W - 20 mm" without its figure; null where there is none, or no figure beside it. */
function stemOf(written: unknown): string | null {
  const found = typeof written === 'string' ? OFFSET.exec(written) : null;
  return found && !isFigure(found[1]) ? found[1] : null;
}

/** The size at `path` made `value` (m) by a figure added to its formula, or taken from it: "W/2" is "W/2 + 12 mm" then. */
function withOffset(
  now: { readonly document: BagDocument; readonly bag: Bag },
  path: Path,
  value: number,
  unit: Unit,
): { document: BagDocument; change: SizeChange } {
  const before = String(readAt(now.document, path));
  const stem = stemOf(before) ?? before;
  const more = value - (lengthIn(now.bag, stem) ?? 0);
  const after =
    Math.abs(more) < 5e-7 && stemOf(before) === null
      ? stem
      : `${stem} ${more < 0 ? '-' : '+'} ${writtenLength(Math.abs(more), OFFSET.exec(before)?.[3], unit)}`;
  return { document: withValue(now.document, path, after), change: { parameter: null, before, after, replaced: null } };
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
