/** Straps of a finished bag moved to another distance from the sides of their panels. */
import { libm } from '../numerics/index.ts';
import { polygonOf } from './curve.ts';
import { mm, overlap, placed, span, within } from './straps.ts';
import type { Anchor, Bag, Panel, Point2, Strap } from './types.ts';

/** Where a patch lies, as a maker measures it: level from the nearer side of the panel to the strap's centre line, and from the edge above to the top of the patch, m. */
export interface AnchorPlace {
  readonly side: 'left' | 'right';
  readonly fromSide: number;
  readonly fromTop: number;
  /** From the finished front corner of a boxed panel, the inner corner of its square cut-out, m; null where the panel has none or the anchor lies round it. */
  readonly fromCorner: number | null;
}

/** The straps of one written entry: the named one and its copies ("also on"). */
export const strapFamily = (bag: Bag, name: string): readonly Strap[] =>
  bag.straps.filter((s) => s.name === name || s.name === `${name} on ${s.anchors[0].panel}`);

/** Names of the written entries, copies left out. */
export const strapNames = (bag: Bag): readonly string[] =>
  bag.straps.map((s) => s.name).filter((name) => !bag.straps.some((s) => s.name !== name && strapFamily(bag, s.name).some((copy) => copy.name === name)));

const panelOf = (bag: Bag, anchor: Anchor): Panel => bag.panels.find((p) => p.name === anchor.panel)!;

/** Place of an anchor on its panel. In the very middle the first of a pair counts from the left, the second from the right. */
export function anchorPlace(bag: Bag, strap: Strap, end: 0 | 1): AnchorPlace {
  const anchor = strap.anchors[end],
    polygon = polygonOf(panelOf(bag, anchor).outline),
    [x, y] = anchor.at,
    [left, right] = span(polygon, 1, y)!,
    top = span(polygon, 0, x)![1];
  const off = x - left - (right - x),
    fromLeft = Math.abs(off) < 1e-6 ? end === 0 : off < 0;
  const corner = boxedCorner(polygon, fromLeft, y);
  const fromCorner = corner === null ? null : fromLeft ? x - corner : corner - x;
  return {
    side: fromLeft ? 'left' : 'right',
    fromSide: fromLeft ? x - left : right - x,
    fromTop: top - y - anchor.height / 2,
    fromCorner: fromCorner !== null && fromCorner > 0 ? fromCorner : null,
  };
}

/** Cosine between two edges that counts as square: within 3 degrees. */
const SQUARE = 0.052;

/**
 * Across the panel, m: the inner corner of a square cut-out below height y in its left or right half, above which the sewn bag turns its corner. null where
 * there is none. Polygon counterclockwise. A boxed corner takes half the depth off the front on either side.
 */
function boxedCorner(polygon: readonly Point2[], left: boolean, y: number): number | null {
  const xs = polygon.map((p) => p[0]);
  const middle = (Math.min(...xs) + Math.max(...xs)) / 2;
  for (let i = 0; i < polygon.length; i++) {
    const [a, b, c] = [polygon[(i + polygon.length - 1) % polygon.length]!, polygon[i]!, polygon[(i + 1) % polygon.length]!];
    const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
    const size = Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
    if (b[0] < middle === left && b[1] < y && ux * vy - uy * vx < 0 && Math.abs(ux * vx + uy * vy) < SQUARE * size) return b[0];
  }
  return null;
}

/**
 * Distances at which both patches of a strap lie on their panels and clear of one another, whole millimetres, m: as far as can be moved in one go from where they
 * are, since a scooped mouth or a hole may lie between. from > to where there is none.
 */
export function anchorRange(bag: Bag, strap: Strap): { readonly from: number; readonly to: number } {
  const ends = strap.anchors.map((a) => {
    const [left, right] = span(polygonOf(panelOf(bag, a).outline), 1, a.at[1])!,
      shared = strap.anchors[0].panel === strap.anchors[1].panel;
    return { from: a.width / 2, to: (shared ? (right - left) / 2 : right - left) - a.width / 2 };
  });
  let [from, to] = [Math.ceil(1000 * Math.max(...ends.map((e) => e.from)) - 1e-6), Math.floor(1000 * Math.min(...ends.map((e) => e.to)) + 1e-6)];
  const lies = (distance: number): boolean => ([0, 1] as const).every((e) => anchorAt(bag, strap, e, distance / 1000) !== null);
  const now = Math.round((1000 * (anchorPlace(bag, strap, 0).fromSide + anchorPlace(bag, strap, 1).fromSide)) / 2);
  if (now >= from && now <= to && lies(now)) {
    let [low, high] = [now, now];
    while (low > from && lies(low - 1)) low--;
    while (high < to && lies(high + 1)) high++;
    return { from: low / 1000, to: high / 1000 };
  }
  while (from <= to && !lies(from)) from++;
  while (to >= from && !lies(to)) to--;
  return { from: from / 1000, to: to / 1000 };
}

/** An anchor moved to `distance` from its side, as far from the top as before; null where its patch then does not lie on the panel. */
function anchorAt(bag: Bag, strap: Strap, end: 0 | 1, distance: number): Anchor | null {
  const anchor = strap.anchors[end],
    panel = panelOf(bag, anchor),
    { side, fromTop } = anchorPlace(bag, strap, end),
    centre = placed(polygonOf(panel.outline), side === 'left', distance, fromTop, anchor.height),
    made = centre && { ...anchor, at: centre };
  return made && within(made, panel) ? made : null;
}

/** A bag with its strap moved, or the reasons why it cannot lie there. */
export type Moved = { readonly bag: Bag; readonly faults: null } | { readonly bag: null; readonly faults: readonly string[] };

/**
 * The bag with every anchor of a strap and of its copies at `distance` (m) from the side it is nearer to, as far from the top as before. The strap keeps
 * its length. The rules are those of a written strap: patches whole on cloth, none on another, a strap at least as long as the way between its patches.
 */
export function withAnchorsAt(bag: Bag, name: string, distance: number): Moved {
  const faults: string[] = [],
    family = strapFamily(bag, name);
  if (family.length === 0) return { bag: null, faults: [`no strap "${name}"`] };
  const moved = new Map<Strap, Strap>();
  for (const strap of family) {
    const ends = ([0, 1] as const).map((e): Anchor | null => {
      const made = anchorAt(bag, strap, e, distance);
      if (made) return made;
      const anchor = strap.anchors[e],
        { side } = anchorPlace(bag, strap, e);
      faults.push(`strap ${strap.name}: ${mm(distance)} mm from the ${side} puts a patch of ${mm(anchor.width)} mm off panel ${anchor.panel}`);
      return null;
    });
    const [a, b] = ends;
    if (!a || !b) continue;
    const apart = libm.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
    if (a.panel === b.panel && strap.length < apart)
      faults.push(`strap ${strap.name} of ${mm(strap.length)} mm is shorter than the ${mm(apart)} mm between its patches`);
    moved.set(strap, { ...strap, anchors: [a, b] });
  }
  const straps = bag.straps.map((s) => moved.get(s) ?? s),
    patches = straps.flatMap((s) => s.anchors.map((anchor) => ({ anchor, own: family.some((f) => f.name === s.name) })));
  if (faults.length === 0 && patches.some((a, i) => patches.some((b, k) => k > i && (a.own || b.own) && overlap(a.anchor, b.anchor))))
    faults.push(`at ${mm(distance)} mm from the side patches lie on each other`);
  return faults.length > 0 ? { bag: null, faults } : { bag: { ...bag, straps }, faults: null };
}
