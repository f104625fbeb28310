import type { Bag } from '../bag/types.ts';
import { countCrossings } from '../mesh/index.ts';
import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';
import { libm, type Work } from '../numerics/index.ts';
import { archStrap } from './arch.ts';
import { cross, dot, unit, type Vec } from './flat.ts';
import { type OnWall, onWall } from './on-wall.ts';
import { Relaxer } from './relax.ts';
import { spanBetween } from './span.ts';

/** Where a hanging panel is sewn to what is already placed: one entry per seam. */
export interface Hold {
  readonly seam: number;
  /** Vertices along the seam, no order. */ readonly verts: readonly number[];
  /** Their flat coordinates in the hanging panel, 2 each. */ readonly flat: readonly number[];
  /** The panels it is sewn to: two for a pocket caught in the seam of its wall. */ readonly walls: ReadonlySet<number>;
  /** Mean unit directions at the seam of the panel it hangs on: out of its face, and on past its edge. */ readonly normal: Vec;
  readonly onward: Vec;
}

/** Leans tried for a panel that hangs by one edge, rad from "straight on past the edge", positive = outward; the first that crosses nothing is kept. */
const LEANS = { flap: [-0.8, -0.4, -1.2, 0, 0.4, 0.8], inside: [-2.9, -2.7, -2.4, -2, -1.5], other: [0.35, 0.8, 1.4, 2.2, 2.8, 0, -0.4] };

/**
 * Places the panels that hang on the body, one after another, each on what is placed by then: by one edge (a flap leans in over the mouth, trim is turned
 * inside, anything else leans out), by two far ends (a strap arches from one to the other), or all round (a pocket, a divider: spanned between its
 * seams and lifted off). The first variant without crossings is kept, else the one with fewest. Mutates x and `placed`.
 * Returns the panels that lie on a wall: whoever moves that wall lays them on it again.
 */
export function* placingExtras(bag: Bag, mesh: BagMesh, group: readonly number[], placed: Set<number>, x: Float64Array): Work<Set<number>> {
  const onWalls = new Set<number>();
  for (let waiting = group.filter((p) => !placed.has(p)); waiting.length > 0; ) {
    const next = waiting.map((p) => ({ p, holds: holdsOf(mesh, p, placed, x) })).find(({ holds }) => holds.length > 0);
    if (!next) return onWalls;
    const { p, holds } = next;
    const own = new Set(mesh.panelVerts[p].verts);
    for (const hold of holds) for (const v of hold.verts) own.delete(v);
    const before = trianglesOf(mesh, placed);
    placed.add(p);
    const after = trianglesOf(mesh, placed);
    yield;
    const standing = countCrossings(x, before);
    const wall = twoEnds(holds) === null && !inLine(holds) ? onWall(mesh, p, holds, x) : null;
    if (wall) onWalls.add(p);
    let best = Number.POSITIVE_INFINITY;
    let kept = x.slice();
    for (const variant of variants(bag, mesh, p, holds, wall, x)) {
      for (const v of own) for (let d = 0; d < 3; d++) x[3 * v + d] = variant[3 * v + d];
      yield;
      const crossings = countCrossings(x, after) - standing;
      if (crossings < best) {
        best = crossings;
        kept = x.slice();
      }
      if (crossings === 0) break;
    }
    x.set(kept);
    // A flat pocket keeps its lift: settled, it would lie in the very plane of the wall behind it.
    if (best === 0 && (twoEnds(holds) !== null || inLine(holds) || bag.panels[p].role !== 'pocket')) yield* settlingExtra(mesh, p, own, after, x);
    waiting = waiting.filter((q) => q !== p);
  }
  return onWalls;
}

/** Lets one hanging panel find its lengths with everything else held; taken back if that makes it cross something. */
function* settlingExtra(mesh: BagMesh, p: number, own: ReadonlySet<number>, tris: Uint32Array, x: Float64Array): Work<void> {
  const before = x.slice();
  const held = new Uint8Array(mesh.vertexCount).fill(1);
  for (const v of own) held[v] = 0;
  const area = mesh.triPanel.reduce((sum, q, t) => {
    const f = 6 * t;
    const { triFlat: c } = mesh;
    return q === p ? sum + ((c[f + 2] - c[f]) * (c[f + 5] - c[f + 1]) - (c[f + 3] - c[f + 1]) * (c[f + 4] - c[f])) / 2 : sum;
  }, 0);
  const relaxer = new Relaxer(
    mesh,
    new Set([p]),
    { tris: new Uint32Array(0), loops: [] },
    mesh.panelNames.map(() => 1),
    new Set(),
  );
  yield;
  yield* relaxer.running(x, { bending: 1e-6 * area, crease: 0, give: 1, pressure: 0, onTable: [], held, iterations: 12, tolerance: 1e-4 * Math.sqrt(area) });
  yield;
  if (countCrossings(x, tris) > countCrossings(before, tris)) x.set(before);
}

function trianglesOf(mesh: BagMesh, panels: ReadonlySet<number>): Uint32Array {
  const out: number[] = [];
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (panels.has(mesh.triPanel[t])) out.push(mesh.triVerts[3 * t], mesh.triVerts[3 * t + 1], mesh.triVerts[3 * t + 2]);
  return Uint32Array.from(out);
}

function* variants(bag: Bag, mesh: BagMesh, p: number, holds: readonly Hold[], wall: OnWall | null, x: Float64Array): Generator<Float64Array> {
  const role = bag.panels[p].role;
  const ends = twoEnds(holds);
  if (ends) for (const lean of [0.1, 0.4, 0.8, -0.3, 1.4]) yield archStrap(mesh, p, ends[0], ends[1], lean, x);
  else if (inLine(holds)) for (const lean of role === 'flap' ? LEANS.flap : role === 'trim' ? LEANS.inside : LEANS.other) yield hang(mesh, p, holds, lean, x);
  else for (const lift of [1, 2, -1, -2, 4]) yield spanBetween(mesh, p, holds, wall, role === 'pocket' ? lift : lift / 4, x);
}

/** Seams of panel p to placed panels. */
function holdsOf(mesh: BagMesh, p: number, placed: ReadonlySet<number>, x: Float64Array): Hold[] {
  const bySeam = new Map<number, { walls: Set<number>; flat: Map<number, [number, number]>; normal: number[]; onward: number[] }>();
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    for (const side of [0, 1]) {
      const [t, u] = [mesh.edgeTris[2 * e + side], mesh.edgeTris[2 * e + 1 - side]];
      if (mesh.triPanel[t] !== p || !placed.has(mesh.triPanel[u])) continue;
      const hold = bySeam.get(mesh.edgeSeam[e]) ?? { walls: new Set(), flat: new Map(), normal: [0, 0, 0], onward: [0, 0, 0] };
      bySeam.set(mesh.edgeSeam[e], hold);
      hold.walls.add(mesh.triPanel[u]);
      const k = mesh.edgeLocal[2 * e + side];
      for (const c of [(k + 1) % 3, (k + 2) % 3]) hold.flat.set(mesh.triVerts[3 * t + c], [mesh.triFlat[6 * t + 2 * c], mesh.triFlat[6 * t + 2 * c + 1]]);
      const q = mesh.edgeLocal[2 * e + 1 - side];
      const at = (v: number): Vec => [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
      const [a, b, o] = [(q + 1) % 3, (q + 2) % 3, q].map((c) => at(mesh.triVerts[3 * u + c]));
      const along: Vec = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
      const n = cross(along, [o[0] - a[0], o[1] - a[1], o[2] - a[2]]);
      // Cloth on the left of its edge: past the edge lies along x normal.
      const out = cross(along, unit(n));
      for (let d = 0; d < 3; d++) {
        hold.normal[d] += n[d];
        hold.onward[d] += out[d];
      }
    }
  }
  return [...bySeam].map(([seam, h]) => ({
    seam,
    verts: [...h.flat.keys()],
    flat: [...h.flat.values()].flat(),
    walls: h.walls,
    normal: unit(h.normal as unknown as Vec),
    onward: unit(h.onward as unknown as Vec),
  }));
}

const middle = (flat: readonly number[]): [number, number] => {
  let [u, v] = [0, 0];
  for (let i = 0; i < flat.length; i += 2) {
    u += (2 * flat[i]) / flat.length;
    v += (2 * flat[i + 1]) / flat.length;
  }
  return [u, v];
};

const reach = (flat: readonly number[]): number => {
  const [u, v] = middle(flat);
  let most = 0;
  for (let i = 0; i < flat.length; i += 2) most = Math.max(most, libm.hypot(flat[i] - u, flat[i + 1] - v));
  return most;
};

/** The two holds farthest apart in the flat, when each is short against that distance: a strap. */
function twoEnds(holds: readonly Hold[]): [Hold, Hold] | null {
  let best: [Hold, Hold] | null = null;
  let most = 0;
  for (const a of holds)
    for (const b of holds) {
      const [p, q] = [middle(a.flat), middle(b.flat)];
      const far = libm.hypot(p[0] - q[0], p[1] - q[1]);
      if (far > most) {
        most = far;
        best = [a, b];
      }
    }
  return best && most > 2.5 * Math.max(...holds.map((h) => reach(h.flat))) ? best : null;
}

/** All held places lie on one straight line of the flat panel. */
function inLine(holds: readonly Hold[]): boolean {
  const all = holds.flatMap((h) => h.flat);
  const [u, v] = middle(all);
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < all.length; i += 2) {
    xx += libm.square(all[i] - u);
    xy += (all[i] - u) * (all[i + 1] - v);
    yy += libm.square(all[i + 1] - v);
  }
  const half = (xx + yy) / 2;
  const least = half - Math.sqrt(Math.max(0, half * half - (xx * yy - xy * xy)));
  return least < 1e-3 * (xx + yy);
}

/** Panel laid rigidly from its held line in the direction past the edge, leaned by an angle toward the normal. */
function hang(mesh: BagMesh, p: number, holds: readonly Hold[], lean: number, x: Float64Array): Float64Array {
  const out = x.slice();
  const all = holds.flatMap((h) => h.flat);
  const verts = holds.flatMap((h) => h.verts);
  const [u0, v0] = middle(all);
  const mean: Vec = [0, 1, 2].map((d) => verts.reduce((sum, v) => sum + x[3 * v + d], 0) / verts.length) as unknown as Vec;
  // Direction of the held line in the flat and in space: from the vertex lowest along it to the highest.
  let [fu, fv] = [0, 0];
  let space: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < verts.length; i++) {
    const s = Math.abs(all[2 * i] - u0) > Math.abs(all[2 * i + 1] - v0) ? Math.sign(all[2 * i] - u0) : Math.sign(all[2 * i + 1] - v0);
    fu += s * (all[2 * i] - u0);
    fv += s * (all[2 * i + 1] - v0);
    space = space.map((c, d) => c + s * (x[3 * verts[i] + d] - mean[d])) as [number, number, number];
  }
  const f = libm.hypot(fu, fv);
  const axis = unit(space);
  const { normal, onward } = holds[0];
  const lift: Vec = [0, 1, 2].map((d) => libm.cos(lean) * onward[d] + libm.sin(lean) * normal[d]) as unknown as Vec;
  const straight = dot(lift, axis);
  const away = unit([lift[0] - straight * axis[0], lift[1] - straight * axis[1], lift[2] - straight * axis[2]]);
  const { verts: own, flat } = mesh.panelVerts[p];
  // Which side of the line the panel lies on.
  let side = 0;
  for (let i = 0; i < own.length; i++) side += (-fv * (flat[2 * i] - u0) + fu * (flat[2 * i + 1] - v0)) / f;
  const sign = side >= 0 ? 1 : -1;
  for (let i = 0; i < own.length; i++) {
    const [du, dv] = [flat[2 * i] - u0, flat[2 * i + 1] - v0];
    const along = (du * fu + dv * fv) / f;
    const off = (sign * (-fv * du + fu * dv)) / f;
    for (let d = 0; d < 3; d++) out[3 * own[i] + d] = mean[d] + along * axis[d] + off * away[d];
  }
  return out;
}
