import { libm } from '../../numerics/index.ts';
import type { Rods } from '../types.ts';

type Vec = readonly [number, number, number];

/** One rod along a chain of vertices. */
export interface RodChain {
  /** k + 1 vertices; of a ring the last is the first again. */ readonly verts: readonly number[];
  /** k rest lengths, m. */ readonly lengths: readonly number[];
  /** Where along the chain the rod begins and ends, m. */ readonly from: number;
  readonly to: number;
  /** EI, N*m2 */ readonly rigidity: number;
  /** EA, N */ readonly stiffness: number;
  /** k + 1: turn of the rod at rest at each vertex, rad; null: the rod is cut there and hinges. Ends of open chains are not read. */ readonly turns: readonly (
    | number
    | null
  )[];
  /** k + 1: turn at each vertex in the shape in which the lengths were measured, rad. */ readonly flat: readonly number[];
  /** Directions along the rod in which walls hold its beginning and its end. */ readonly walls: readonly [Vec | null, Vec | null];
}

/** The model's rods from chains. A joint bends for the half segments on both sides that the rod covers; behind a wall for one half. Throws on chains whose arrays do not match. */
export function joinRods(chains: readonly RodChain[]): Rods {
  const out = {
    verts: [] as number[],
    rest: [] as number[],
    stiffness: [] as number[],
    jointsOf: [] as number[],
    arc: [] as number[],
    segmentsOf: [] as number[],
    bending: [] as number[],
    turn: [] as number[],
    flat: [] as number[],
    wall: [] as number[],
  };
  for (const chain of chains) addChain(chain, out);
  return {
    verts: Uint32Array.from(out.verts),
    rest: Float64Array.from(out.rest),
    stiffness: Float64Array.from(out.stiffness),
    jointsOf: Int32Array.from(out.jointsOf),
    arc: Float64Array.from(out.arc),
    segmentsOf: Int32Array.from(out.segmentsOf),
    bending: Float64Array.from(out.bending),
    turn: Float64Array.from(out.turn),
    flat: Float64Array.from(out.flat),
    wall: Float64Array.from(out.wall),
  };
}

function addChain(chain: RodChain, out: Record<keyof Rods, number[]>): void {
  const { verts, lengths, from, to, turns, flat, walls } = chain,
    k = lengths.length,
    first = out.rest.length,
    ring = verts[0] === verts[k];
  if (verts.length !== k + 1 || turns.length !== k + 1 || flat.length !== k + 1) throw new Error('a rod of other lengths than vertices');
  const along = [0];
  for (const l of lengths) along.push(along.at(-1)! + l);
  const covered = (a: number, b: number): number => Math.max(0, Math.min(b, to) - Math.max(a, from));
  for (let s = 0; s < k; s++) {
    out.verts.push(verts[s]!, verts[s + 1]!);
    out.rest.push(lengths[s]!);
    out.stiffness.push(chain.stiffness * (covered(along[s]!, along[s + 1]!) / lengths[s]!));
    out.jointsOf.push(-1, -1);
    out.arc.push(0, 0);
  }
  for (let i = 0; i <= k; i++) {
    const one = i > 0 ? i - 1 : ring ? k - 1 : -1,
      two = i < k ? i : -1,
      wall = i === 0 && !ring ? walls[0] : i === k ? walls[1] : null;
    // A ring's last vertex is its first.
    if ((ring && i === k) || ((one < 0 || two < 0) && !wall)) continue;
    const turn = wall ? 0 : turns[i]!;
    if (turn === null) continue;
    const before = one < 0 ? 0 : lengths[one]! / 2,
      behind = two < 0 ? 0 : lengths[two]! / 2,
      end = ring && i === 0 ? covered(along[k]! - before, along[k]!) : covered(along[i]! - before, along[i]!),
      held = end + covered(along[i]!, along[i]! + behind),
      cell = before + behind;
    if (!(held > 0)) continue;
    const j = out.turn.length;
    out.segmentsOf.push(one < 0 ? -1 : first + one, two < 0 ? -1 : first + two);
    out.bending.push((chain.rigidity * held) / (cell * cell));
    out.turn.push(2 * libm.sin(Math.abs(turn) / 2));
    const flatTurn = 2 * libm.sin((wall ? 0 : flat[i]!) / 2);
    out.flat.push(flatTurn * flatTurn);
    out.wall.push(...(wall ?? [0, 0, 0]));
    const arc = (l: number): number => (l * l * l) / (48 * cell * cell);
    if (one >= 0) {
      out.jointsOf[2 * (first + one) + 1] = j;
      out.arc[2 * (first + one) + 1] = arc(lengths[one]!);
    }
    if (two >= 0) {
      out.jointsOf[2 * (first + two)] = j;
      out.arc[2 * (first + two)] = arc(lengths[two]!);
    }
  }
}
