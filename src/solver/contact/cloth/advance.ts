import { edgeEdge, vertexTriangle } from './closest.ts';

/** Most advances of one pair. A pair that rolls along at its distance takes some tens; one that asks for more is held for one that meets. */
const MOST = 60;
/** Room over what must be left, in shares of it, under which a pair counts as met. */
const MET = 0.02;

const at = new Float64Array(12),
  rate = new Float64Array(12),
  closest = new Float64Array(8);

/**
 * Do the two sides of a pair stay at least `least` apart, m, while each of its vertices goes straight from x to x + t d? Conservative advancement (the additive form of
 * Li, Kaufman, Jiang, Codimensional IPC, 2021, from memory): in a share s of the way the distance shrinks by at most s times the sum of both sides' longest ways, the common
 * way taken off; so the pair is moved on by as much as cannot use up its distance, and asked again. false may also mean that this took too long.
 * vert: its four vertices from entry `from` on; isEdge: two edges, else a vertex and a triangle. x and d: 3n, t: n.
 */
export function staysApart(
  { x, d, t }: { readonly x: Float64Array; readonly d: Float64Array; readonly t: Float64Array },
  verts: readonly number[],
  from: number,
  isEdge: boolean,
  least: number,
): boolean {
  let mx = 0,
    my = 0,
    mz = 0;
  for (let i = 0; i < 4; i++) {
    const v = verts[from + i]!,
      f = t[v]!;
    for (let k = 0; k < 3; k++) {
      at[3 * i + k] = x[3 * v + k]!;
      rate[3 * i + k] = f * d[3 * v + k]!;
    }
    mx += rate[3 * i]! / 4;
    my += rate[3 * i + 1]! / 4;
    mz += rate[3 * i + 2]! / 4;
  }
  let one = 0,
    other = 0;
  for (let i = 0; i < 4; i++) {
    const u = rate[3 * i]! - mx,
      v = rate[3 * i + 1]! - my,
      w = rate[3 * i + 2]! - mz,
      way = Math.sqrt(u * u + v * v + w * w);
    if (i < (isEdge ? 2 : 1)) one = Math.max(one, way);
    else other = Math.max(other, way);
  }
  const way = one + other;
  let done = 0;
  for (let k = 0; k < MOST; k++) {
    if (isEdge) edgeEdge(at, 0, 1, 2, 3, closest);
    else vertexTriangle(at, 0, 1, 2, 3, closest);
    const room = closest[0]! - least;
    if (!(room > MET * least)) return false;
    const share = room / way;
    done += share;
    if (done >= 1) return true;
    for (let i = 0; i < 12; i++) at[i] = at[i]! + share * rate[i]!;
  }
  return false;
}
