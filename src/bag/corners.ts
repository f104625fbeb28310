/** Corners with radii and curved sides to a closed chain of outline edges. Pure geometry, metres; faults are returned, not thrown. */
import { libm } from '../numerics/index.ts';
import { arcThrough, edgeLength, far, mix } from './curve.ts';
import type { OutlineEdge, Point2 } from './types.ts';
import { LIMITS } from './words.ts';

/** One corner and the edge that leaves it. */
export interface Corner {
  readonly at: Point2;
  readonly name: string;
  /** Radius, or the two distances by which an uneven rounding sets back along the edge before and after. */
  readonly round: { readonly kind: 'radius'; readonly radius: number } | { readonly kind: 'setbacks'; readonly before: number; readonly after: number } | null;
  readonly side:
    | { readonly kind: 'line' }
    | { readonly kind: 'arc'; readonly via: Point2 }
    | { readonly kind: 'cubic'; readonly control: readonly [Point2, Point2] };
}

/** A fault of a corner: its number in the list, what stands there, what was expected. */
export interface CornerFault {
  readonly corner: number;
  readonly got: string;
  readonly expected: string;
}

/** Ends of a rounded corner nearer together than this are one place for the test whether an outline touches itself, m. */
const SHORTEST_ROUNDING = 1e-6;

const mm = (metres: number): string => `${Number((metres * 1000).toFixed(3))} mm`;

interface Setback {
  readonly before: number;
  readonly after: number;
  readonly turn: number;
}

/** Turn of the outline at a corner, rad, positive to the left. */
function turnAt(previous: Point2, corner: Point2, next: Point2): number {
  const ax = corner[0] - previous[0];
  const ay = corner[1] - previous[1];
  const bx = next[0] - corner[0];
  const by = next[1] - corner[1];
  return libm.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/** The curve that replaces a corner: a circular arc for a radius, otherwise a cubic tangent to both edges. */
function rounding(name: string, corner: Point2, start: Point2, end: Point2, s: Setback, circular: boolean): OutlineEdge {
  const half = Math.abs(s.turn) / 2;
  if (circular) {
    // The centre lies on the bisector at r / cos(turn/2); the arc's middle is that distance less r from the corner, with r = setback / tan(turn/2).
    const radius = s.before / libm.tan(half);
    const middle = mix(start, end, 0.5);
    const reach = radius / libm.cos(half) - radius;
    const d = far(corner, middle);
    return { name, kind: 'arc', from: start, to: end, via: mix(corner, middle, reach / d) };
  }
  // Handle length of the cubic that fits a circular arc when both setbacks are equal (4/3 tan(turn/4) r).
  const handle = ((4 / 3) * libm.tan(half / 2)) / libm.tan(half);
  return { name, kind: 'cubic', from: start, to: end, control: [mix(start, corner, handle), mix(end, corner, handle)] };
}

/**
 * Edges of a chain of corners: straight or curved sides, with rounded corners between straight sides. A rounding is named after its two
 * edges, "bottom-right". `closed`: the last corner joins the first; otherwise the last corner only ends the last edge.
 * Returns the edges and the faults (a radius that does not fit, a side of no length, an arc whose point lies on the chord).
 */
export function joinCorners(corners: readonly Corner[], closed: boolean): { edges: OutlineEdge[]; faults: CornerFault[] } {
  const n = corners.length;
  const sides = closed ? n : n - 1;
  const faults: CornerFault[] = [];
  const ends = corners.map((c) => ({ before: 0, after: 0, turn: 0, circular: c.round?.kind === 'radius' }));
  corners.forEach((c, i) => {
    if (!c.round) return;
    const previous = corners[(i + n - 1) % n];
    if (!closed && (i === 0 || i === n - 1)) {
      faults.push({ corner: i, got: 'a radius on the centre line', expected: 'a radius at a corner off the centre line' });
      return;
    }
    if (c.side.kind !== 'line' || previous.side.kind !== 'line') {
      faults.push({ corner: i, got: 'a radius beside a curved edge', expected: 'a radius only between two straight edges' });
      return;
    }
    const turn = turnAt(previous.at, c.at, corners[(i + 1) % n].at);
    if (Math.abs(turn) < 1e-6 || Math.abs(turn) > Math.PI - 1e-6) {
      faults.push({ corner: i, got: `a turn of ${Math.round((turn * 180) / Math.PI)} deg`, expected: 'a real corner where a radius is given' });
      return;
    }
    const even = c.round.kind === 'radius' ? c.round.radius * libm.tan(Math.abs(turn) / 2) : 0;
    ends[i] = { ...ends[i], turn, before: c.round.kind === 'radius' ? even : c.round.before, after: c.round.kind === 'radius' ? even : c.round.after };
  });
  const edges: OutlineEdge[] = [];
  for (let i = 0; i < sides; i++) {
    const a = corners[i];
    const b = corners[(i + 1) % n];
    const e0 = ends[i];
    const e1 = ends[(i + 1) % n];
    const length = far(a.at, b.at);
    const room = length - e0.after - e1.before;
    if (length > 0 && room < -1e-9)
      faults.push({ corner: i, got: `radii that take ${mm(e0.after + e1.before)} of edge "${a.name}"`, expected: `at most its ${mm(length)}` });
    const start = e0.after > 0 ? mix(a.at, b.at, e0.after / length) : a.at;
    const end = e1.before > 0 ? mix(b.at, a.at, e1.before / length) : b.at;
    // Rounding runs before its edge; its own two ends are on the neighbours, so it needs the previous edge's end.
    if (e0.before > 0 && e0.turn !== 0) {
      const previous = corners[(i + n - 1) % n];
      const entry = mix(a.at, previous.at, e0.before / far(a.at, previous.at));
      if (!(far(entry, start) >= SHORTEST_ROUNDING))
        faults.push({
          corner: i,
          got: `a corner rounded over ${mm(far(entry, start))}`,
          expected: `at least ${mm(SHORTEST_ROUNDING)}, or a radius of 0 for a sharp corner`,
        });
      else edges.push(rounding(`${previous.name}-${a.name}`, a.at, entry, start, e0, e0.circular));
    }
    // Two radii that use an edge up leave no straight piece between them.
    if (room < 1e-9 && e0.after + e1.before > 0) continue;
    const edge = sideEdge(a, start, end);
    if (edge.kind === 'arc' && far(edge.from, edge.to) < LIMITS.shortest)
      faults.push({ corner: i, got: `an arc "${a.name}" that ends where it begins`, expected: 'two different ends; a whole circle is written as "circle"' });
    else if (edge.kind === 'arc' && !arcThrough(edge.from, edge.via, edge.to))
      faults.push({ corner: i, got: `an arc "${a.name}" whose point lies on its chord`, expected: 'a point off the straight line, or a plain edge' });
    const long = edgeLength(edge);
    if (!(long >= LIMITS.shortest)) faults.push({ corner: i, got: `an edge "${a.name}" of ${mm(long)}`, expected: `at least ${mm(LIMITS.shortest)}` });
    edges.push(edge);
  }
  return { edges, faults };
}

function sideEdge(a: Corner, from: Point2, to: Point2): OutlineEdge {
  if (a.side.kind === 'arc') return { name: a.name, kind: 'arc', from, to, via: a.side.via };
  if (a.side.kind === 'cubic') return { name: a.name, kind: 'cubic', from, to, control: a.side.control };
  return { name: a.name, kind: 'line', from, to };
}

/** The point through which an arc rising `rise` off its chord passes; outward (to the right of the direction) when positive. */
export function risePoint(from: Point2, to: Point2, rise: number): Point2 {
  const length = far(from, to);
  if (length === 0) return from;
  return [(from[0] + to[0]) / 2 + ((to[1] - from[1]) / length) * rise, (from[1] + to[1]) / 2 - ((to[0] - from[0]) / length) * rise];
}

const flip = (p: Point2, sum: number): Point2 => [sum - p[0], p[1]];

/** Mirror image about the vertical x = sum/2, run the other way so that it stays counterclockwise; names kept. */
export function mirrored(edges: readonly OutlineEdge[], sum: number): OutlineEdge[] {
  return edges.map((e) => backward(e, (p) => flip(p, sum))).reverse();
}

/** The same chain run the other way round. */
export const reversedChain = (edges: readonly OutlineEdge[]): OutlineEdge[] => edges.map((e) => backward(e, (p) => p)).reverse();

function backward(e: OutlineEdge, move: (p: Point2) => Point2): OutlineEdge {
  const ends = { name: e.name, from: move(e.to), to: move(e.from) };
  if (e.kind === 'arc') return { ...ends, kind: 'arc', via: move(e.via) };
  if (e.kind === 'cubic') return { ...ends, kind: 'cubic', control: [move(e.control[1]), move(e.control[0])] };
  return { ...ends, kind: 'line' };
}

/**
 * Whole outline of a half drawn right of the centre line x = 0, from its lower to its upper end. An edge that crosses the centre line in one
 * straight or circular piece becomes one edge; all others come as "side right" and "side left", and halves that meet on the centre line
 * also go by their common name.
 */
export function unfold(half: readonly OutlineEdge[]): { edges: OutlineEdge[]; chains: Map<string, string[]> } {
  const right = half.map((e) => ({ ...e, name: `${e.name} right` }));
  const left = mirrored(half, 0).map((e) => ({ ...e, name: `${e.name} left` }));
  const chains = new Map<string, string[]>();
  const middle = right.slice(1, -1);
  const middleLeft = left.slice(1, -1);
  const first = half[0];
  const last = half[half.length - 1];
  const edges: OutlineEdge[] = [];
  const bottom = half.length > 1 ? across(first.name, left[left.length - 1], right[0]) : null;
  const top = half.length > 1 ? across(last.name, right[right.length - 1], left[0]) : null;
  if (bottom) edges.push(bottom);
  else edges.push(right[0]);
  edges.push(...middle);
  if (half.length > 1) {
    if (top) edges.push(top);
    else {
      edges.push(right[right.length - 1], left[0]);
      chains.set(last.name, [`${last.name} right`, `${last.name} left`]);
    }
    edges.push(...middleLeft);
  }
  if (!bottom) {
    edges.push(left[left.length - 1]);
    if (half.length > 1) chains.set(first.name, [`${first.name} left`, `${first.name} right`]);
  }
  return { edges, chains };
}

/** One edge over the centre line in place of two halves, or null when they do not continue each other. */
function across(name: string, before: OutlineEdge, after: OutlineEdge): OutlineEdge | null {
  if (before.kind === 'line' && after.kind === 'line')
    return Math.abs(before.from[1] - before.to[1]) < 1e-9 ? { name, kind: 'line', from: before.from, to: after.to } : null;
  if (before.kind !== 'arc' || after.kind !== 'arc') return null;
  const arc = arcThrough(before.from, before.via, before.to);
  return arc && Math.abs(arc.centre[0]) < 1e-9 && Math.abs(arc.sweep) < Math.PI ? { name, kind: 'arc', from: before.from, to: after.to, via: before.to } : null;
}
