import type { OutlineEdge } from '../bag/types.ts';
import { countCrossings, meshPanels } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm, seeded } from '../numerics/index.ts';
import { draftPanels } from '../panels/index.ts';
import { bendingLengthOf } from './figures.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel, swatchBag } from './sheet.ts';

/** Diameter of the support disc, m. Source: BS 5058 / ISO 9073-9 (from memory); as the check values have it. */
export const SUPPORT_DISC = 0.18;
/** Specimen diameters, m: limp, medium and stiff cloth. The medium one first; below 30 % the small one is called for, above 85 % the large one. */
export const SPECIMENS = [0.24, 0.3, 0.36] as const;

/** Drape coefficient, %: shadow of the hanging ring over the ring, from areas of the whole shadow, the disc and the specimen. Source: BS 5058 (from memory). */
export const drapeCoefficient = (shadow: number, disc: number, specimen: number): number => (100 * (shadow - disc)) / (specimen - disc);

/** Area of the ring that hangs free of the disc, m2. Parameter: diameter of the specimen, m. */
export const ringArea = (diameter: number): number => (Math.PI * (libm.square(diameter) - libm.square(SUPPORT_DISC))) / 4;

/** Height of the waviness that the flat specimen starts with, m: without any it would hang as a bowl that no cloth makes. */
const WAVE = 1e-3;
/** Directions in which the rim's shadow is measured. */
const RAYS = 720;
/** A fold is counted when it stands out from the valleys beside it by this much of the free ring's width. */
const FOLD = 0.03;

/** A circle as two arcs; clockwise for a hole. */
function circle(name: string, r: number, clockwise: boolean): OutlineEdge[] {
  const s = clockwise ? -1 : 1;
  return [
    { name: `${name}-a`, kind: 'arc', from: [r, 0], to: [-r, 0], via: [0, s * r] },
    { name: `${name}-b`, kind: 'arc', from: [-r, 0], to: [r, 0], via: [0, -s * r] },
  ];
}

/**
 * Drape coefficient of a round specimen lying on a round disc, its middle held flat by a second disc: shadow of the hanging ring over the ring, %.
 * DC = 100 (A_shadow - A_disc)/(A_specimen - A_disc). Only the free ring is meshed, clamped level at the disc's edge.
 * `length` is the specimen's diameter (default 0.30 m). Theory: none for a buckled ring. The shadow is taken as star-shaped about the middle.
 * The number of folds is one of several that can rest; it depends on the seeded waviness of the start, the coefficient much less.
 * Cloth does not meet itself here: `more.crossings` above 0 says that deep folds would have touched.
 * Source: BS 5058 / ISO 9073-9 (from memory); Cusick 1965.
 */
export function drape(setup: Setup): TestResult {
  const R = (setup.length ?? SPECIMENS[1]) / 2;
  const r = SUPPORT_DISC / 2;
  if (!(R > r + setup.mesh)) throw new RangeError(`invalid specimen diameter ${2 * R} m; expected more than the disc's ${SUPPORT_DISC} m`);
  const bag = swatchBag(circle('rim', R, false), [circle('disc', r, true)]);
  const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: setup.mesh, kind: 'graded' });
  const flat = flatOf(mesh);
  const place = (name: string) => mesh.outlines[0][name].verts;
  const inner = Uint32Array.from(new Set([...place('disc-a'), ...place('disc-b')]));
  const model = sheetModel(mesh, setup.sheet, -(setup.cut ?? 0), [{ verts: inner, direction: towardsMiddle(flat) }]);
  const state = settleFor(setup, model, wavy(flat, r, R, setup.seed ?? 1));
  const shadow = shadowOf(mesh, state.x);
  const [disc, whole] = [Math.PI * r * r, Math.PI * R * R];
  // Polygons lie inside their circles; the flat specimen's own polygon makes 100 %.
  const full = shadowOf(mesh, place3(flat)).area;
  const reading = drapeCoefficient(shadow.area, disc, full);
  let lowest = 0;
  for (let v = 0; v < mesh.vertexCount; v++) lowest = Math.min(lowest, state.x[3 * v + 2]);
  return finished(
    {
      test: 'drape',
      reading,
      theory: null,
      unit: '%',
      quantity: 'drape coefficient: shadow of the hanging ring over the ring',
      formula: 'DC = 100 (A_shadow - A_disc)/(A_specimen - A_disc)',
      source: 'BS 5058 / ISO 9073-9 (from memory); Cusick 1965, J. Text. Inst. 56 T596',
      load: Number.NaN,
      more: {
        diameter: 2 * R,
        folds: foldsOf(shadow.radius, R - r),
        drop: -lowest,
        bendingLength: bendingLengthOf(setup.sheet),
        crossings: countCrossings(state.x, mesh.triVerts),
        polygon: full / whole,
      },
    },
    model,
    state,
  );
}

function flatOf(mesh: BagMesh): Float64Array {
  const flat = new Float64Array(2 * mesh.vertexCount);
  const { verts, flat: own } = mesh.panelVerts[0];
  verts.forEach((v, i) => {
    flat[2 * v] = own[2 * i];
    flat[2 * v + 1] = own[2 * i + 1];
  });
  return flat;
}

const place3 = (flat: Float64Array): Float64Array =>
  Float64Array.from({ length: (flat.length / 2) * 3 }, (_, i) => (i % 3 === 2 ? 0 : flat[2 * Math.floor(i / 3) + (i % 3)]));

/** Away from the ring, level, across the edge: the direction in which the held middle goes on. */
const towardsMiddle =
  (flat: Float64Array) =>
  (a: number, b: number): readonly [number, number, number] => {
    const [x, y] = [flat[2 * a] + flat[2 * b], flat[2 * a + 1] + flat[2 * b + 1]];
    const l = libm.hypot(x, y);
    return [-x / l, -y / l, 0];
  };

/** The flat ring with a few seeded waves round it, growing from nothing at the disc to WAVE at the rim. */
function wavy(flat: Float64Array, r: number, R: number, seed: number): Float64Array {
  const random = seeded(seed);
  const waves = Array.from({ length: 12 }, (_, k) => ({ n: k + 2, size: random() - 0.5, turn: 2 * Math.PI * random() }));
  const x = place3(flat);
  for (let v = 0; v < flat.length / 2; v++) {
    const [px, py] = [flat[2 * v], flat[2 * v + 1]];
    const out = Math.max(0, (libm.hypot(px, py) - r) / (R - r));
    const angle = libm.atan2(py, px);
    for (const { n, size, turn } of waves) x[3 * v + 2] += WAVE * out * out * size * libm.cos(n * angle + turn);
  }
  return x;
}

/** Area of the shadow and its radius in each of RAYS directions: the furthest crossing of any edge with the ray. */
const shadowOf = (mesh: BagMesh, x: Float64Array): { area: number; radius: Float64Array } => shadowOfEdges(mesh.edgeVerts, x);

function shadowOfEdges(edgeVerts: ArrayLike<number>, x: Float64Array): { area: number; radius: Float64Array } {
  const radius = new Float64Array(RAYS);
  const step = (2 * Math.PI) / RAYS;
  for (let e = 0; e < edgeVerts.length; e += 2) {
    const [a, b] = [3 * edgeVerts[e]!, 3 * edgeVerts[e + 1]!];
    const [ax, ay, bx, by] = [x[a], x[a + 1], x[b], x[b + 1]];
    const from = libm.atan2(ay, ax);
    let turn = libm.atan2(by, bx) - from;
    turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    const [low, high] = turn >= 0 ? [from, from + turn] : [from + turn, from];
    for (let k = Math.ceil(low / step); k * step <= high; k++) {
      const [c, s] = [libm.cos(k * step), libm.sin(k * step)];
      const den = c * (by - ay) - s * (bx - ax);
      if (Math.abs(den) < 1e-14) continue;
      const reach = (ax * by - ay * bx) / den;
      const at = ((k % RAYS) + RAYS) % RAYS;
      if (reach > radius[at]) radius[at] = reach;
    }
  }
  let area = 0;
  for (let k = 0; k < RAYS; k++) area += 0.5 * radius[k] * radius[(k + 1) % RAYS] * libm.sin(step);
  return { area, radius };
}

/** Outline of a draped piece's shadow: its radius about the middle, m, in RAYS even directions from the warp on. Parameter: a result of drape(). */
export function shadowOutline({ model, x }: Pick<TestResult, 'model' | 'x'>): Float64Array {
  const edges: number[] = [];
  for (let t = 0; t < model.triVerts.length; t += 3) for (let k = 0; k < 3; k++) edges.push(model.triVerts[t + k]!, model.triVerts[t + ((k + 1) % 3)]!);
  return shadowOfEdges(edges, x).radius;
}

/** Folds of the rim: maxima of the shadow's radius that rise by FOLD of the ring's width above the valleys between them. */
function foldsOf(radius: Float64Array, ring: number): number {
  const rise = FOLD * ring;
  let start = 0;
  for (let k = 1; k < RAYS; k++) if (radius[k] < radius[start]) start = k;
  let folds = 0;
  let [low, high, climbing] = [radius[start], radius[start], true];
  for (let i = 1; i <= RAYS; i++) {
    const v = radius[(start + i) % RAYS];
    if (climbing) {
      high = Math.max(high, v);
      if (v < high - rise && high > low + rise) {
        folds++;
        climbing = false;
        low = v;
      } else if (v < low) [low, high] = [v, v];
    } else {
      low = Math.min(low, v);
      if (v > low + rise) {
        climbing = true;
        high = v;
      }
    }
  }
  return folds;
}
