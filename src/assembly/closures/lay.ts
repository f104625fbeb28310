import { isCord, isZip } from '../../bag/index.ts';
import type { Bag, Closure, CordClosure, PointClosure, Stance, ZipClosure } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { patchOf } from '../patch.ts';
import { channelOf, type Side, type Spot, sideOf, spotAt } from './places.ts';
import { assertReach } from './reach.ts';

/** A closure on the mesh. Spots are weighted means of its vertices. */
export interface LaidClosure {
  readonly closure: Closure;
  /** Is it closed in this stance? */ readonly closed: boolean;
  /** What is held together: two spots each; of a zip in order from its closed end, `along` its place, 1 at the slider and more beyond it, `length` the stretch that it stands for, m. */
  readonly pairs: readonly { readonly spots: readonly [Spot, Spot]; readonly along: number; readonly length: number }[];
  /** Spots of a channel in order; empty of what is no cord. */ readonly channel: readonly Spot[];
  /** The channel runs round to where it began. */ readonly loop: boolean;
  /** Of a channel, its length as cut over that of the straight pieces between its spots as drafted; 1 of what is no cord. */ readonly longer: number;
}

/** Two places along a zip nearer than this, of its length, are one. */
const SAME = 1e-6;

/** Where the closures of a bag lie; none where its stance leaves them out. drafted: 3n, m. Throws BagError for flaps that cannot reach. */
export function laidClosures(bag: Bag, mesh: BagMesh, drafted: Float64Array, stance: Stance): LaidClosure[] {
  const closed = stance.closed ?? [];
  if (closed === 'left out') return [];
  const laid = (bag.closures ?? []).map((closure): LaidClosure => {
    const state = { closure, closed: closed.includes(closure.name) };
    if (isZip(closure)) return { ...state, ...zipPairs(bag, mesh, drafted, closure), channel: [], loop: false, longer: 1 };
    if (isCord(closure)) return { ...state, pairs: [], ...channel(bag, mesh, drafted, closure) };
    return { ...state, pairs: [{ spots: parts(mesh, closure), along: 0, length: 0 }], channel: [], loop: false, longer: 1 };
  });
  assertReach(bag, mesh, drafted, laid);
  return laid;
}

/** Each part is sewn or riveted over its size: a mean of the cloth under it. */
const parts = (mesh: BagMesh, { ends, size }: PointClosure): [Spot, Spot] => {
  const on = (e: 0 | 1): Spot => patchOf(mesh, { panel: ends[e].panel, kind: 'rivet', at: ends[e].at, width: size, height: size });
  return [on(0), on(1)];
};

const sum = (of: readonly number[]): number => of.reduce((s, v) => s + v, 0);
const apart = (a: readonly number[], b: readonly number[]): number => libm.norm(a.map((v, k) => v - b[k]!));

/** Places at which two edges are held: at every mesh point of either, from the closed end on. */
function zipPairs(bag: Bag, mesh: BagMesh, drafted: Float64Array, zip: ZipClosure): Pick<LaidClosure, 'pairs'> {
  const [a, b] = [sideOf(bag, mesh, zip.sides[0]), sideOf(bag, mesh, zip.sides[1])],
    reversed = zip.reversed ?? liesAgainst(a, b, drafted),
    other = (s: number): number => (reversed ? 1 - s : s),
    // From the closed end, 0 to 1 of the whole length.
    fromEnd = (s: number): number => (zip.closesFrom === 'start' ? s : 1 - s);
  const all = [...a.places, ...b.places.map(other)].map(fromEnd).sort((p, q) => p - q);
  const places = all.filter((s, i) => i === 0 || s - all[i - 1]! > SAME);
  const pairs = places.flatMap((s, i) => {
    const spots = [a.at(fromEnd(s)), b.at(other(fromEnd(s)))] as const,
      before = i === 0 ? s : (places[i - 1]! + s) / 2,
      after = i + 1 < places.length ? (places[i + 1]! + s) / 2 : s;
    // Where both edges end in one point of a seam there is nothing to hold.
    const one = spots[0].verts.length === 1 && spots[1].verts.length === 1 && spots[0].verts[0] === spots[1].verts[0];
    return one ? [] : [{ spots, along: s / zip.slider, length: (after - before) * ((a.length + b.length) / 2) }];
  });
  return { pairs };
}

/** Do the two edges lie nearer to each other when the second is taken against the first? */
function liesAgainst(a: Side, b: Side, x: Float64Array): boolean {
  const sum = (turn: boolean): number =>
    Array.from({ length: 11 }, (_, i) => i / 10).reduce((s, t) => s + apart(spotAt(a.at(t), x), spotAt(b.at(turn ? 1 - t : t), x)), 0);
  return sum(true) <= sum(false);
}

/**
 * Points of a channel, as far apart as it is wide (twice its distance from the edge), and two of the mesh's edges at least: in a channel that gathers the cord runs on
 * straight while the cloth folds about it, with as much room as the channel is wide. A channel whose ends meet is a loop.
 */
function channel(bag: Bag, mesh: BagMesh, drafted: Float64Array, { along, below, length }: CordClosure): Pick<LaidClosure, 'channel' | 'loop' | 'longer'> {
  const spots = channelOf(bag, mesh, along, below, Math.max(2 * below, 2 * mesh.quality.meanEdge)),
    places = spots.map((s) => spotAt(s, drafted));
  const steps = places.slice(1).map((p, i) => apart(p, places[i]!)),
    home = apart(places[0]!, places[places.length - 1]!),
    loop = spots.length > 3 && home < 1.5 * Math.max(...steps);
  // Spots lie in the middles of equal stretches: an open channel runs on by half of one at either end.
  const straight = loop ? sum(steps) + home : (sum(steps) * spots.length) / (spots.length - 1);
  return { channel: spots, loop, longer: length / straight };
}
