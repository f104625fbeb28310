import { commitBodySpans, evaluateBodySpans } from '../edge-face/body-spans.ts';
import { press as law, pressed, rub, rubbed } from '../normal-law.ts';
import { distance } from '../support/shapes.ts';
import { type Bodies, distanceTo, pose, SLOT, type Slots, type Touch, toOwn, toWorld } from './bodies.ts';
import { curvatureAt } from './body-geometry.ts';
import { lever } from './pose.ts';

/** Share of a body's weight that gives its contact with one vertex its stiffness: at that force it yields by a 180th of its offset (contact/support/support.ts). */
const SHARE = 1 / 100;
const STIFFNESS = 180;

const out4 = new Float64Array(4),
  p1 = new Float64Array(3),
  p2 = new Float64Array(3);

/** Weight of body i, N. */
const weight = (bodies: Bodies, i: number): number => bodies.model.mass[bodies.list[i]!.at]! * (Math.hypot(...bodies.model.gravity) || 9.80665);

/**
 * Adds contact and friction of rigid bodies with the sheet's vertices, supports and one another to gradient g (3n) and to the 3x3 blocks `diag` (9n);
 * returns the energy, J. The same normal law and the same anchored friction as contact/support/support.ts; a body's force acts at the contact point, so its
 * torque is arm x force. Second derivatives of the arm are left out of the blocks (as the curvature of supports is): the force is exact, the step nearly so.
 * Mutates bodies.
 */
export function evaluateBodies(bodies: Bodies, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  pose(bodies, x);
  bodies.count = 0;
  bodies.deepest = 0;
  bodies.carried.fill(0);
  bodies.onSheet.fill(0);
  let energy = 0;
  for (const slots of bodies.slots) energy += slots.kind === 'sheet' ? sheetOn(bodies, slots, x) : pointsOn(bodies, slots, x);
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.touch[k]!;
    give(bodies, t, g, diag);
    if (diag) curvatureAt(bodies, t, x, t.point, t.curvature);
  }
  return energy + evaluateBodySpans(bodies.spans, bodies, x, g, diag, stiffnessAt(bodies));
}

/** Stiffness of vertex v against body i, N/m. */
function stiffnessAt(bodies: Bodies): (v: number, i: number) => number {
  const { mass, gravity } = bodies.model,
    g = Math.hypot(...gravity) || 9.80665;
  return (v, i) => (STIFFNESS * Math.max(mass[v]! * g, SHARE * weight(bodies, i))) / bodies.list[i]!.offset;
}

function sheetOn(bodies: Bodies, slots: Slots, x: Float64Array): number {
  const i = slots.body,
    body = bodies.list[i]!,
    c = 3 * body.at,
    near = (body.reach + body.offset) ** 2,
    stiffness = stiffnessAt(bodies);
  let energy = 0;
  for (let v = 0; v < bodies.sheet; v++) {
    const X = x[3 * v]!,
      Y = x[3 * v + 1]!,
      Z = x[3 * v + 2]!;
    if ((X - x[c]!) ** 2 + (Y - x[c + 1]!) ** 2 + (Z - x[c + 2]!) ** 2 > near) continue;
    distanceTo(bodies, x, i, X, Y, Z, out4);
    if (out4[0]! >= body.offset) continue;
    const t = next(bodies);
    t.vertex = v;
    t.a = -1;
    t.b = i;
    t.slots = slots;
    t.index = v;
    t.at[0] = X;
    t.at[1] = Y;
    t.at[2] = Z;
    t.point.set(t.at);
    energy += press(bodies, t, x, out4[0]!, body.offset, stiffness(v, i), body.friction);
  }
  return energy;
}

function pointsOn(bodies: Bodies, slots: Slots, x: Float64Array): number {
  const { model } = bodies,
    i = slots.body,
    body = bodies.list[i]!,
    support = slots.kind === 'support' ? model.supports[slots.other]! : null,
    other = support ? null : bodies.list[slots.other]!,
    offset = support ? support.offset + body.offset : body.offset,
    W = other ? Math.min(weight(bodies, i), weight(bodies, slots.other)) : weight(bodies, i),
    friction = support ? Math.min(body.friction, support.friction) : Math.min(body.friction, other!.friction);
  if (other) {
    const c = 3 * body.at,
      d = 3 * other.at,
      gap = Math.hypot(x[c]! - x[d]!, x[c + 1]! - x[d + 1]!, x[c + 2]! - x[d + 2]!);
    if (gap > body.reach + other.reach + offset) return 0;
  }
  let energy = 0;
  for (let k = 0; k < body.points.length / 4; k++) {
    toWorld(bodies, x, i, body.points[4 * k]!, body.points[4 * k + 1]!, body.points[4 * k + 2]!, p1);
    const ball = body.points[4 * k + 3]!;
    if (support) distance(support.sdf, p1[0]!, p1[1]!, p1[2]!, out4);
    else distanceTo(bodies, x, slots.other, p1[0]!, p1[1]!, p1[2]!, out4);
    const d = out4[0]! - ball;
    if (d >= offset) continue;
    const t = next(bodies);
    t.vertex = -1;
    t.a = i;
    t.b = other ? slots.other : -1;
    t.slots = slots;
    t.index = k;
    t.point.set(p1);
    for (let j = 0; j < 3; j++) t.at[j] = p1[j]! - ball * out4[1 + j]!;
    energy += press(bodies, t, x, d, offset, (STIFFNESS * W) / offset, friction);
  }
  return energy;
}

function next(bodies: Bodies): Touch {
  if (bodies.count === bodies.touch.length) {
    const f = (k: number) => new Float64Array(k);
    const slots = bodies.slots[0]!;
    bodies.touch.push({
      vertex: -1,
      a: -1,
      b: -1,
      slots,
      index: 0,
      at: f(3),
      point: f(3),
      curvature: f(9),
      B: f(9),
      Ga: f(9),
      Gb: f(9),
      normal: 0,
      n: f(3),
      e: f(3),
      force: f(3),
      stiffness: 0,
      friction: 0,
    });
  }
  return bodies.touch[bodies.count++]!;
}

/** Force and stiffness of one contact at distance d (its normal in out4) under the offset r; returns its energy. */
function press(bodies: Bodies, t: Touch, x: Float64Array, d: number, r: number, k: number, friction: number): number {
  if (-d > bodies.deepest) bodies.deepest = -d;
  const [nx, ny, nz] = [out4[1]!, out4[2]!, out4[3]!];
  t.n[0] = nx;
  t.n[1] = ny;
  t.n[2] = nz;
  law(k, d, r);
  const N = pressed.force,
    kn = pressed.stiffness;
  let { energy } = pressed;
  t.normal = N;
  t.stiffness = k;
  t.friction = friction;
  t.force[0] = N * nx;
  t.force[1] = N * ny;
  t.force[2] = N * nz;
  const B = t.B;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) B[3 * i + j] = kn * t.n[i]! * t.n[j]!;
  if (!stretched(bodies, t, x) || friction === 0) return energy;
  const l = Math.sqrt(t.e[0]! ** 2 + t.e[1]! ** 2 + t.e[2]! ** 2);
  rub(k, l, friction * N);
  const { slips, pull: w } = rubbed;
  energy += rubbed.energy;
  for (let i = 0; i < 3; i++) {
    t.force[i] = t.force[i]! - w * t.e[i]!;
    for (let j = 0; j < 3; j++) {
      const along = slips ? (t.e[i]! * t.e[j]!) / (l * l) : 0;
      B[3 * i + j] = B[3 * i + j]! + w * ((i === j ? 1 : 0) - t.n[i]! * t.n[j]! - along);
    }
  }
  return energy;
}

/**
 * Sideways displacement of side 1 against side 2 since they met, written to t.e; false where they did not touch at the last commit. Material points are
 * followed on both sides, so that what rolls does not slide.
 */
export function stretched(bodies: Bodies, t: Touch, x: Float64Array): boolean {
  const m = t.slots.memory,
    q = SLOT * t.index;
  if (Number.isNaN(m[q]!)) return false;
  if (t.a < 0) p1.set(t.at);
  else toWorld(bodies, x, t.a, m[q + 3]!, m[q + 4]!, m[q + 5]!, p1);
  if (t.b < 0) {
    for (let k = 0; k < 3; k++) p2[k] = m[q + 6 + k]!;
  } else toWorld(bodies, x, t.b, m[q + 6]!, m[q + 7]!, m[q + 8]!, p2);
  let along = 0;
  for (let k = 0; k < 3; k++) {
    t.e[k] = m[q + k]! + p1[k]! - p2[k]!;
    along += t.e[k]! * t.n[k]!;
  }
  for (let k = 0; k < 3; k++) t.e[k] = t.e[k]! - along * t.n[k]!;
  return true;
}

/** Hands one contact's force to both sides, and its stiffness to their own blocks. */
function give(bodies: Bodies, t: Touch, g: Float64Array | null, diag: Float64Array | null): void {
  if (t.vertex >= 0) {
    const v = 3 * t.vertex;
    for (let k = 0; k < 3; k++) {
      bodies.onSheet[v + k] = bodies.onSheet[v + k]! + t.force[k]!;
      if (g) g[v + k] = g[v + k]! - t.force[k]!;
    }
    if (diag) for (let k = 0; k < 9; k++) diag[9 * t.vertex + k] = diag[9 * t.vertex + k]! + t.B[k]!;
  } else onBody(bodies, t, t.a, 1, t.Ga, g, diag);
  if (t.b >= 0) onBody(bodies, t, t.b, -1, t.Gb, g, diag);
  else for (let k = 0; k < 3; k++) bodies.carried[k] = bodies.carried[k]! + t.force[k]!;
}

function onBody(bodies: Bodies, t: Touch, i: number, sign: number, G: Float64Array, g: Float64Array | null, diag: Float64Array | null): void {
  const c = bodies.list[i]!.at,
    J = bodies.J[i]!,
    [rx, ry, rz] = [t.at[0]! - bodies.centre[3 * i]!, t.at[1]! - bodies.centre[3 * i + 1]!, t.at[2]! - bodies.centre[3 * i + 2]!];
  lever(rx, ry, rz, J, G);
  if (g)
    for (let k = 0; k < 3; k++) {
      g[3 * c + k] = g[3 * c + k]! - sign * t.force[k]!;
      g[3 * c + 3 + k] = g[3 * c + 3 + k]! - sign * (G[k]! * t.force[0]! + G[3 + k]! * t.force[1]! + G[6 + k]! * t.force[2]!);
    }
  if (!diag) return;
  const B = t.B;
  for (let k = 0; k < 9; k++) diag[9 * c + k] = diag[9 * c + k]! + B[k]!;
  const w = 9 * (c + 1);
  for (let j = 0; j < 3; j++) {
    const [a, b, e] = [0, 1, 2].map((r) => B[3 * r]! * G[j]! + B[3 * r + 1]! * G[3 + j]! + B[3 * r + 2]! * G[6 + j]!) as [number, number, number];
    for (let k = 0; k < 3; k++) diag[w + 3 * k + j] = diag[w + 3 * k + j]! + G[k]! * a + G[3 + k]! * b + G[6 + k]! * e;
  }
}

/** Moves what friction remembers to the accepted state x: kept while it sticks, cut to the limit where it slips, dropped where it lifts. */
export function commitBodies(bodies: Bodies, x: Float64Array): void {
  evaluateBodies(bodies, x, null, null);
  const kept = bodies.slots.map(() => new Map<number, [number, number, number]>());
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.touch[k]!,
      e: [number, number, number] = [0, 0, 0];
    if (stretched(bodies, t, x)) {
      const l = t.stiffness * Math.sqrt(t.e[0]! ** 2 + t.e[1]! ** 2 + t.e[2]! ** 2),
        limit = t.friction * t.normal,
        keep = l > limit ? limit / l : 1;
      for (let j = 0; j < 3; j++) e[j] = keep * t.e[j]!;
    }
    kept[bodies.slots.indexOf(t.slots)]!.set(k, e);
  }
  bodies.slots.forEach((slots, s) => {
    slots.memory.fill(Number.NaN);
    for (const [k, e] of kept[s]!) {
      const t = bodies.touch[k]!,
        q = SLOT * t.index,
        m = slots.memory;
      m.set(e, q);
      m.set(t.at, q + 3);
      m.set(t.at, q + 6);
      if (t.a >= 0) toOwn(bodies, x, t.a, t.at[0]!, t.at[1]!, t.at[2]!, m, q + 3);
      if (t.b >= 0) toOwn(bodies, x, t.b, t.at[0]!, t.at[1]!, t.at[2]!, m, q + 6);
    }
  });
  commitBodySpans(bodies.spans, bodies, x, stiffnessAt(bodies));
}
