import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { vertexTriangle } from '../solver/index.ts';

/** A closure of the settled bag, as arrays. */
export interface ClosureAtRest {
  readonly name: string;
  readonly kind: string;
  readonly closed: boolean;
  /** 6 per pair: the two places that are held to each other, m. */ readonly pairs: Float64Array;
  /** Per pair the stretch that it stands for, m (0 of single parts), and its pull, N. */
  readonly lengths: Float64Array;
  readonly pull: Float64Array;
  /** Distance of a pair when it is closed, m. */ readonly gap: number;
  /** 3 per point of a channel, m; empty without one. */ readonly channel: Float64Array;
  readonly loop: boolean;
  /** How much longer the channel is as cut than the straight pieces between these points. */ readonly longer: number;
  /** Pull of its cord, N: at its free ends, and where friction has left least of it. */ readonly cordPull: number;
  readonly cordLeast: number;
  /** m: how much longer a tie stayed than it was to be; and what is in the way, in words. */ readonly left: number;
  readonly inTheWay: string;
  /** Panel that closes over another, and that other; null of what is no flap. */ readonly flap: { readonly panel: number; readonly over: number } | null;
  /** Stated pull at which it comes open, N. */ readonly pullOff: number | null;
}

/** What is read off one closure; m, N, N/m; null where a figure does not apply. */
export interface ClosureMeasures {
  readonly name: string;
  readonly kind: string;
  readonly closed: boolean;
  /**
   * Largest opening left, m: of parts and zips how much further apart they stand than when they are closed, of a cord the widest way across its loop.
   */
  readonly gape: number;
  /** Pull on a part or at the free ends of a cord, N. */ readonly pull: number | null;
  /** Pull in a cord at its far side, where friction in the channel has left least of it, N. */ readonly leastPull: number | null;
  /** Largest pull across a zip, N/m. */ readonly pullPerLength: number | null;
  /** Length of a cord in its channel, m. */ readonly length: number | null;
  /** Furthest that the free edge of a flap stands off the panel that it closes on, m. */ readonly lift: number | null;
  /** How far it is from closed where something is in the way, m; 0 where it closed. And what that is. */
  readonly left: number;
  readonly inTheWay: string;
  readonly pullOff: number | null;
}

/** Stretch over which a zip's pull is read, m: a single tooth's pull is that of the mesh. */
const ALONG = 0.03;

/**
 * Closures of one settled state. Formulas: gape = max_i (|a_i - b_i| - gap), 0 at least; pull across a zip = max over stretches of 30 mm or more of (sum of pulls)/(sum of lengths).
 * x: 3n settled positions, m.
 */
export function measureClosures(closures: readonly ClosureAtRest[], mesh: BagMesh, x: Float64Array): ClosureMeasures[] {
  return closures.map((c) => {
    const cord = c.channel.length > 0,
      apart = Array.from({ length: c.pairs.length / 6 }, (_, i) => libm.norm([0, 1, 2].map((k) => c.pairs[6 * i + k]! - c.pairs[6 * i + 3 + k]!)));
    const zip = !cord && c.lengths.some((l) => l > 0);
    return {
      name: c.name,
      kind: c.kind,
      closed: c.closed,
      gape: cord ? across(c.channel) : Math.max(0, ...apart.map((d) => d - c.gap)),
      pull: !c.closed || zip ? null : cord ? c.cordPull : c.pull[0]!,
      leastPull: c.closed && cord ? c.cordLeast : null,
      pullPerLength: c.closed && zip ? largestAlong(c.pull, c.lengths) : null,
      length: cord ? c.longer * lengthOf(c.channel, c.loop) : null,
      lift: c.flap === null ? null : liftOf(mesh, c.flap, x),
      left: c.left,
      inTheWay: c.inTheWay,
      pullOff: c.pullOff,
    };
  });
}

const between = (line: Float64Array, i: number, j: number): number => libm.norm([0, 1, 2].map((k) => line[3 * i + k]! - line[3 * j + k]!));

function across(line: Float64Array): number {
  let widest = 0;
  for (let i = 0; 3 * i < line.length; i++) for (let j = 0; j < i; j++) widest = Math.max(widest, between(line, i, j));
  return widest;
}

function lengthOf(line: Float64Array, loop: boolean): number {
  const n = line.length / 3;
  let sum = loop && n > 0 ? between(line, n - 1, 0) : 0;
  for (let i = 1; i < n; i++) sum += between(line, i, i - 1);
  return sum;
}

function largestAlong(pull: Float64Array, lengths: Float64Array): number {
  let most = 0;
  for (let i = 0; i < pull.length; i++) {
    let [force, length] = [0, 0];
    for (let j = i; j < pull.length && (length < ALONG || j === i); j++) {
      force += pull[j]!;
      length += lengths[j]!;
    }
    if (length >= ALONG || i === 0) most = Math.max(most, length > 0 ? force / length : 0);
  }
  return most;
}

/** Free edge of the flap, where what it comes nearest to is the panel that it closes on. */
function liftOf(mesh: BagMesh, { panel, over }: NonNullable<ClosureAtRest['flap']>, x: Float64Array): number | null {
  const out = new Float64Array(8);
  let most: number | null = null;
  const free = new Set<number>();
  for (let e = 0; e < mesh.edgeKind.length; e++)
    if (mesh.edgeTris[2 * e + 1]! < 0 && mesh.triPanel[mesh.edgeTris[2 * e]!] === panel) free.add(mesh.edgeVerts[2 * e]!).add(mesh.edgeVerts[2 * e + 1]!);
  for (const v of free) {
    let [nearest, of] = [Number.POSITIVE_INFINITY, -1];
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] === panel) continue;
      vertexTriangle(x, v, mesh.triVerts[3 * t]!, mesh.triVerts[3 * t + 1]!, mesh.triVerts[3 * t + 2]!, out);
      if (out[0]! < nearest) [nearest, of] = [out[0]!, mesh.triPanel[t]!];
    }
    if (of === over) most = Math.max(most ?? 0, nearest);
  }
  return most;
}
