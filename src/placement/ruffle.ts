import type { Bag } from '../bag/types.ts';
import { EDGES_A_WAVE, findCrossings, shareAt } from '../mesh/index.ts';
import { type BagMesh, type Gathered, restCorners } from '../mesh/types.ts';
import { libm, type Work } from '../numerics/index.ts';
import type { Draft } from '../panels/types.ts';
import { createPairContact, truncatePairs } from '../solver/index.ts';
import { baseVerts } from './base.ts';
import { outwardNormals } from './normals.ts';
import { Relaxer } from './relax.ts';
import { strainOf } from './strain.ts';

/** Bending over stretching while waves find their shape, m2: a wave of 10 mm radius is strained by it as little as 3e-3. */
const BENDING = 1e-9;
/** Times that waves which meet one another are made lower before the smooth start is kept. */
const ROUNDS = 24;
/** Most steps in which the waves find their lengths, and the mean strain that is good enough: what stuffing a bag strains it by. */
const STEPS = 20;
const FOUND = 2e-3;

/**
 * Lays the fullness of gathered panels in waves: from a smooth placed start, pressed together along its gathers, to one that holds the cloth's length.
 * Every vertex moves along the outward normal by A sin(2 pi N u), u = place along the panel's longest gathered edge (nearest point), N = whole
 * waves of at least 6 mesh edges of cloth. The height A is what the local shortening asks for: the arc of a sine of slope m is
 * mean sqrt(1 + m^2 cos^2) times its base. Then cloth is let find its lengths. Deterministic. Seams to other panels are not moved by the waves.
 * Mutates x (3n) where that makes no more triangles cross than before. Parameter like: what relaxed this mesh before, if anything did; saves setting up again.
 */
export function* ruffling(bag: Bag, draft: Draft, mesh: BagMesh, group: readonly number[], x: Float64Array, like?: Relaxer): Work<void> {
  const gathers = mesh.gathers;
  const gathered = gathers?.panels.filter((g) => group.includes(g.panel)) ?? [];
  if (!gathers || gathered.length === 0) return;
  if (findCrossings(x, mesh.triVerts, 1).length > 0) return;
  const normals = outwardNormals(mesh, x);
  const shift = new Float64Array(mesh.vertexCount);
  for (const g of gathered) addWaves(bag, draft, mesh, g, gathers.width, x, shift);
  const onBase = baseVerts(bag, mesh, group);
  const relaxer = new Relaxer(
    mesh,
    new Set(group),
    { tris: new Uint32Array(0), loops: [] },
    mesh.panelNames.map(() => 1),
    new Set(),
    restCorners(mesh),
    like,
  );
  const size = Math.sqrt(group.reduce((sum, p) => sum + draft.panels[p].area, 0));
  const smooth = x.slice();
  for (let round = 0; ; round++) {
    yield;
    for (let v = 0; v < shift.length; v++) for (let d = 0; d < 3; d++) x[3 * v + d] = smooth[3 * v + d] + shift[v] * normals[3 * v + d];
    const crossing = new Set(findCrossings(x, mesh.triVerts));
    if (crossing.size === 0) break;
    // Where the bag turns, waves on the inner side meet: they are lower there, and lower everywhere when that does not do.
    if (round === ROUNDS) return void x.set(smooth);
    const lower = new Set(round < ROUNDS / 2 ? [...crossing].flatMap((t) => [...mesh.triVerts.subarray(3 * t, 3 * t + 3)]) : shift.keys());
    for (const v of lower) shift[v] *= 0.8;
  }
  const before = new Float64Array(x.length);
  const move = new Float64Array(x.length);
  const pairs = pairsOf(mesh);
  const longest = gathers.width / (2 * EDGES_A_WAVE);
  for (let step = 0; step < STEPS; step++) {
    before.set(x);
    yield* relaxer.running(x, { onTable: onBase, bending: BENDING, crease: 0, give: step < 4 ? 0.1 : 1, pressure: 0, iterations: 1, tolerance: 0 });
    let most = 0;
    for (let i = 0; i < x.length; i++) most = Math.max(most, Math.abs(x[i] - before[i]));
    // Long steps would carry one fold through the next.
    const short = Math.min(1, longest / most);
    for (let i = 0; i < x.length; i++) move[i] = short * (x[i] - before[i]);
    yield;
    truncatePairs(pairs, before, move);
    for (let i = 0; i < x.length; i++) x[i] = before[i] + move[i];
    if (step > 4 && (most < 1e-4 * size || strainOf(mesh, x).mean < FOUND)) break;
  }
  // Back on the table, or at the height at which it hung.
  const rise = lowestOf(mesh, group, smooth) - lowestOf(mesh, group, x);
  for (const v of new Set(group.flatMap((p) => [...mesh.panelVerts[p].verts]))) x[3 * v + 2] += rise;
}

const lowestOf = (mesh: BagMesh, group: readonly number[], x: Float64Array): number =>
  group.reduce((least, p) => mesh.panelVerts[p].verts.reduce((low, v) => Math.min(low, x[3 * v + 2]), least), Number.POSITIVE_INFINITY);

/** What keeps folds from passing through one another: the solver's own truncation, which asks for nothing but the triangles. */
const pairsOf = (mesh: BagMesh) =>
  createPairContact({
    vertexCount: mesh.vertexCount,
    triVerts: mesh.triVerts,
    triRest: restCorners(mesh),
    triStretch: NOTHING,
    triBend: NOTHING,
    mass: new Float64Array(mesh.vertexCount),
    gravity: [0, 0, 0],
    hingeVerts: NONE,
    hingeTris: NONE,
    hingeLocal: new Uint8Array(0),
    hingeStiffness: NOTHING,
    hingeRest: NOTHING,
    held: new Uint8Array(mesh.vertexCount),
    clampVerts: NONE,
    clampTris: NONE,
    clampLocal: new Uint8Array(0),
    clampDir: NOTHING,
    supports: [],
  });
const NOTHING = new Float64Array(0);
const NONE = new Uint32Array(0);

/** Adds one gathered panel's waves to `shift` (m along the normal, mutated). */
function addWaves(bag: Bag, draft: Draft, mesh: BagMesh, g: Gathered, width: number, x: Float64Array, shift: Float64Array): void {
  const along = alongGather(bag, draft, g.panel);
  if (!along) return;
  const h = (2 * width) / EDGES_A_WAVE;
  const waves = Math.max(1, Math.floor(along.length / (EDGES_A_WAVE * h) + 1e-9));
  const { verts, flat } = mesh.panelVerts[g.panel];
  const elsewhere = new Set<number>();
  for (let t = 0; t < mesh.triPanel.length; t++) if (mesh.triPanel[t] !== g.panel) for (let k = 0; k < 3; k++) elsewhere.add(mesh.triVerts[3 * t + k]);
  const fullness = fullnessOf(mesh, g, width, x);
  for (let i = 0; i < verts.length; i++) {
    const v = verts[i];
    if (elsewhere.has(v)) continue;
    const { share } = shareAt(g, width, flat[2 * i], flat[2 * i + 1]);
    const full = fullness.get(v) ?? 1;
    const base = ((along.length / waves) * share) / full;
    const height = (slopeFor(full) * base) / (2 * Math.PI);
    shift[v] = height * libm.sin(2 * Math.PI * waves * along.place(flat[2 * i], flat[2 * i + 1]));
  }
}

/** Cloth over the room it is given, along the gathered seam's direction, at every vertex of a panel: area-weighted mean over its triangles, at least 1. */
function fullnessOf(mesh: BagMesh, g: Gathered, width: number, x: Float64Array): Map<number, number> {
  const rest = restCorners(mesh);
  const sum = new Map<number, [number, number]>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== g.panel) continue;
    const [q, f] = [6 * t, mesh.triFlat];
    const { tx, ty } = shareAt(g, width, (f[q] + f[q + 2] + f[q + 4]) / 3, (f[q + 1] + f[q + 3] + f[q + 5]) / 3);
    const [ax, ay, bx, by] = [rest[q + 2] - rest[q], rest[q + 3] - rest[q + 1], rest[q + 4] - rest[q], rest[q + 5] - rest[q + 1]];
    const det = ax * by - ay * bx;
    // t = a p + b q in the rest frame; in space the same combination of the placed sides.
    const [p, r] = [(tx * by - ty * bx) / det, (ax * ty - ay * tx) / det];
    const at = [0, 1, 2].map((k) => 3 * mesh.triVerts[3 * t + k]);
    const length = libm.norm([0, 1, 2].map((d) => p * (x[at[1] + d] - x[at[0] + d]) + r * (x[at[2] + d] - x[at[0] + d])));
    for (const a of at) {
      const entry = sum.get(a / 3) ?? [0, 0];
      sum.set(a / 3, [entry[0] + det * Math.min(6, 1 / Math.max(length, 1e-3)), entry[1] + det]);
    }
  }
  return new Map([...sum].map(([v, [total, weight]]) => [v, Math.max(1, total / weight)]));
}

/** Slope m of a sine whose arc is `full` times its base; 0 for full = 1. */
function slopeFor(full: number): number {
  if (full <= 1 + 1e-9) return 0;
  const arc = (m: number): number => {
    let sum = 0;
    for (let i = 0; i < 16; i++) sum += Math.sqrt(1 + libm.square(m * libm.cos(((i + 0.5) * Math.PI) / 32))) / 16;
    return sum;
  };
  // The arc is at least 2 m / pi long.
  let [low, high] = [0, (full * Math.PI) / 2];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (arc(middle) < full) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The panel's longest gathered edges as a line to count waves along: its length, m, and the fraction of it nearest to a flat place. Whole edges, so that stretches of one edge go on in step. */
function alongGather(bag: Bag, draft: Draft, panel: number): { length: number; place: (x: number, y: number) => number } | null {
  let best: number[] = [];
  let most = 0;
  draft.seams.forEach((seam, s) => {
    if ((bag.seams[s].gather ?? 1) <= 1) return;
    const edges = [...new Set(seam.sides[seam.longer].runs.filter((r) => r.panel === panel).map((r) => r.edge))];
    const length = edges.reduce((sum, e) => sum + draft.panels[panel].edges[e].length, 0);
    if (length > most * (1 + 1e-9)) [best, most] = [edges, length];
  });
  if (best.length === 0) return null;
  const order = draft.panels[panel].loops.flat().filter((e) => best.includes(e));
  const line: { x: number; y: number; dx: number; dy: number; from: number; length: number }[] = [];
  let walked = 0;
  for (const e of order) {
    const { curve, edge, length } = draft.panels[panel].edges[e];
    const pieces = edge.kind === 'line' ? 1 : 48;
    for (let i = 0; i < pieces; i++) {
      const [a, b] = [curve.at(i / pieces), curve.at((i + 1) / pieces)];
      line.push({ x: a[0], y: a[1], dx: b[0] - a[0], dy: b[1] - a[1], from: walked + (length * i) / pieces, length: length / pieces });
    }
    walked += length;
  }
  return {
    length: walked,
    place: (x, y) => {
      let [least, at] = [Number.POSITIVE_INFINITY, 0];
      for (const s of line) {
        const w = Math.min(1, Math.max(0, ((x - s.x) * s.dx + (y - s.y) * s.dy) / (s.dx * s.dx + s.dy * s.dy)));
        const offX = x - s.x - w * s.dx;
        const offY = y - s.y - w * s.dy;
        const d = Math.sqrt(offX * offX + offY * offY);
        if (d < least - 1e-12) [least, at] = [d, s.from + w * s.length];
      }
      return at / walked;
    },
  };
}
