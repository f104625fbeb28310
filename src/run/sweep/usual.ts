import { anchorPlace, anchorRange, strapFamily } from '../../bag/index.ts';
import type { Bag, Strap } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { HAND, SPACING } from '../../report/index.ts';

/** Share of the width from the side at which the widest spacing that is tried has its ends: two thirds of the width apart. */
const WIDEST = 1 / 6;
/** Of what is no pair of handles: distances tried, as shares of the one drawn. */
const AROUND = [0.5, 1.5] as const;

/** Between the centre lines of a strap's two ends along their panel, m; null where they lie on two panels or round a tube. */
export function apartOf(bag: Bag, strap: Strap): number | null {
  const [a, b] = strap.anchors;
  if (a.panel !== b.panel || bag.panels.find((p) => p.name === a.panel)?.role === 'body') return null;
  return libm.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
}

/**
 * Finished width of the front that each of a pair of handles has its two ends on, at their height, m, and how far its corner lies inside the panel's side, as
 * a boxed front's does; null for any other strap.
 */
export function frontOf(bag: Bag, name: string): { readonly width: number; readonly inside: number } | null {
  const family = strapFamily(bag, name),
    strap = family[0];
  const apart = family.length < 2 || !strap ? null : apartOf(bag, strap);
  if (apart === null) return null;
  const [a, b] = [anchorPlace(bag, strap!, 0), anchorPlace(bag, strap!, 1)];
  if (a.side === b.side) return null;
  const [left, right] = [a, b].map((p) => p.fromCorner ?? p.fromSide) as [number, number];
  return { width: left + apart + right, inside: a.fromSide - left };
}

const wholeMm = (m: number): number => Math.round(m * 1000) / 1000;

/**
 * Distances from the side that are worth hanging, m: of a pair of handles from two thirds of the front's width apart (wider than the trade's range) to a third of
 * it, no nearer than a hand's breadth; of any other strap, from half of the distance drawn to half as much again. As far as the patches lie on their panels. null where
 * there is no such distance.
 */
export function usualDistances(bag: Bag, name: string): { readonly from: number; readonly to: number } | null {
  const strap = strapFamily(bag, name)[0];
  if (!strap) return null;
  const most = anchorRange(bag, strap),
    front = frontOf(bag, name);
  if (most.from > most.to) return null;
  const within = (v: number): number => wholeMm(Math.min(most.to, Math.max(most.from, v)));
  if (front !== null) {
    const { width, inside } = front,
      narrow = ((1 - SPACING.from) / 2) * width,
      hand = (width - HAND) / 2;
    return { from: within(inside + WIDEST * width), to: within(inside + (hand > WIDEST * width ? Math.min(narrow, hand) : narrow)) };
  }
  const drawn = anchorPlace(bag, strap, 0).fromSide;
  return { from: within(AROUND[0] * drawn), to: within(AROUND[1] * drawn) };
}

/** The numbers of `distances` in the order in which they are wanted: those in the trade's range first, the rest by how far they lie from it. */
export function wantedFirst(distances: readonly number[], front: ReturnType<typeof frontOf>, drawn: number): number[] {
  const at = (spacing: number): number => (front === null ? drawn : front.inside + ((1 - spacing) / 2) * front.width);
  const [low, high] = [at(SPACING.to), at(SPACING.from)],
    off = (d: number): number => Math.max(0, low - d, d - high);
  return distances.map((_, i) => i).sort((a, b) => off(distances[a]!) - off(distances[b]!) || a - b);
}
