import { libm } from '../../../numerics/index.ts';
import { coulombSpring, keptShare, spring, tangentialStretch } from '../coulomb.ts';
import { commitBodySpans, evaluateBodySpans } from '../edge-face/body-spans.ts';
import { normal, normalContact } from '../normal-law.ts';
import { distance } from '../support/shapes.ts';
import { type Bodies, type BodyContact, distanceTo, pose, SLOT, type Slots, STIFFNESS, toOwn, toWorld, weightOf } from './bodies.ts';
import { curvatureAt } from './body-geometry.ts';
import { lever } from './pose.ts';

const out4 = new Float64Array(4),
  p1 = new Float64Array(3),
  p2 = new Float64Array(3);

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
    const t = bodies.contacts[k]!;
    scatterForces(bodies, t, g, diag);
    if (diag) curvatureAt(bodies, t, x, t.point, t.curvature);
  }
  return energy + evaluateBodySpans(bodies.spans, bodies, x, g, diag);
}

function sheetOn(bodies: Bodies, slots: Slots, x: Float64Array): number {
  const i = slots.body,
    body = bodies.list[i]!,
    c = 3 * body.at,
    near = libm.square(body.reach + body.offset),
    stiffness = bodies.stiffness[i]!;
  let energy = 0;
  for (let v = 0; v < bodies.sheet; v++) {
    const X = x[3 * v]!,
      Y = x[3 * v + 1]!,
      Z = x[3 * v + 2]!;
    if (libm.square(X - x[c]!) + libm.square(Y - x[c + 1]!) + libm.square(Z - x[c + 2]!) > near) continue;
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
    energy += evaluateContact(bodies, t, x, out4[0]!, body.offset, stiffness[v]!, body.friction);
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
    W = other ? Math.min(weightOf(model, body), weightOf(model, other)) : weightOf(model, body),
    friction = support ? Math.min(body.friction, support.friction) : Math.min(body.friction, other!.friction);
  if (other) {
    const c = 3 * body.at,
      d = 3 * other.at,
      gap = libm.hypot(x[c]! - x[d]!, x[c + 1]! - x[d + 1]!, x[c + 2]! - x[d + 2]!);
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
    energy += evaluateContact(bodies, t, x, d, offset, (STIFFNESS * W) / offset, friction);
  }
  return energy;
}

function next(bodies: Bodies): BodyContact {
  if (bodies.count === bodies.contacts.length) {
    const f = (k: number) => new Float64Array(k);
    const slots = bodies.slots[0]!;
    bodies.contacts.push({
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
  return bodies.contacts[bodies.count++]!;
}

/** Force and stiffness of one contact at distance d (its normal in out4) under the offset r; returns its energy. */
function evaluateContact(bodies: Bodies, t: BodyContact, x: Float64Array, d: number, r: number, k: number, friction: number): number {
  if (-d > bodies.deepest) bodies.deepest = -d;
  t.n[0] = out4[1]!;
  t.n[1] = out4[2]!;
  t.n[2] = out4[3]!;
  normalContact(k, d, r);
  const N = normal.force,
    kn = normal.stiffness,
    B = t.B;
  let { energy } = normal;
  t.normal = N;
  t.stiffness = k;
  t.friction = friction;
  for (let i = 0; i < 3; i++) {
    t.force[i] = N * t.n[i]!;
    for (let j = 0; j < 3; j++) B[3 * i + j] = kn * t.n[i]! * t.n[j]!;
  }
  if (!stretchOf(bodies, t, x) || friction === 0) return energy;
  coulombSpring(k, friction * N);
  const { slips, pull: kt, length: l } = spring;
  energy += spring.energy;
  for (let i = 0; i < 3; i++) {
    t.force[i] = t.force[i]! - kt * t.e[i]!;
    for (let j = 0; j < 3; j++) {
      const along = slips ? (t.e[i]! * t.e[j]!) / (l * l) : 0;
      B[3 * i + j] = B[3 * i + j]! + kt * ((i === j ? 1 : 0) - t.n[i]! * t.n[j]! - along);
    }
  }
  return energy;
}

/**
 * Tangential stretch of side 1 against side 2 since they met, to `spring` and t.e; false where they did not touch at the last commit. Material points are
 * followed on both sides, so that what rolls does not slide.
 */
function stretchOf(bodies: Bodies, t: BodyContact, x: Float64Array): boolean {
  const m = t.slots.memory,
    q = SLOT * t.index;
  if (Number.isNaN(m[q]!)) return false;
  if (t.a < 0) p1.set(t.at);
  else toWorld(bodies, x, t.a, m[q + 3]!, m[q + 4]!, m[q + 5]!, p1);
  if (t.b < 0) {
    for (let k = 0; k < 3; k++) p2[k] = m[q + 6 + k]!;
  } else toWorld(bodies, x, t.b, m[q + 6]!, m[q + 7]!, m[q + 8]!, p2);
  tangentialStretch(m[q]! + p1[0]! - p2[0]!, m[q + 1]! + p1[1]! - p2[1]!, m[q + 2]! + p1[2]! - p2[2]!, t.n[0]!, t.n[1]!, t.n[2]!);
  t.e[0] = spring.ex;
  t.e[1] = spring.ey;
  t.e[2] = spring.ez;
  return true;
}

/** Hands one contact's force to both sides, and its stiffness to their own blocks. */
function scatterForces(bodies: Bodies, t: BodyContact, g: Float64Array | null, diag: Float64Array | null): void {
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

function onBody(bodies: Bodies, t: BodyContact, i: number, sign: number, G: Float64Array, g: Float64Array | null, diag: Float64Array | null): void {
  const c = bodies.list[i]!.at,
    at = bodies.centre;
  lever(t.at[0]! - at[3 * i]!, t.at[1]! - at[3 * i + 1]!, t.at[2]! - at[3 * i + 2]!, bodies.J[i]!, G);
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
    const a = B[0]! * G[j]! + B[1]! * G[3 + j]! + B[2]! * G[6 + j]!,
      b = B[3]! * G[j]! + B[4]! * G[3 + j]! + B[5]! * G[6 + j]!,
      e = B[6]! * G[j]! + B[7]! * G[3 + j]! + B[8]! * G[6 + j]!;
    for (let k = 0; k < 3; k++) diag[w + 3 * k + j] = diag[w + 3 * k + j]! + G[k]! * a + G[3 + k]! * b + G[6 + k]! * e;
  }
}

/** Moves what friction remembers to the accepted state x: kept while it sticks, cut to the limit where it slips, dropped where it lifts. */
export function commitBodies(bodies: Bodies, x: Float64Array): void {
  evaluateBodies(bodies, x, null, null);
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!,
      keep = stretchOf(bodies, t, x) ? keptShare(t.stiffness, t.friction * t.normal) : 0;
    for (let j = 0; j < 3; j++) t.e[j] = keep === 0 ? 0 : keep * t.e[j]!;
  }
  for (const slots of bodies.slots) slots.memory.fill(Number.NaN);
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!,
      q = SLOT * t.index,
      m = t.slots.memory;
    m.set(t.e, q);
    m.set(t.at, q + 3);
    m.set(t.at, q + 6);
    if (t.a >= 0) toOwn(bodies, x, t.a, t.at[0]!, t.at[1]!, t.at[2]!, m, q + 3);
    if (t.b >= 0) toOwn(bodies, x, t.b, t.at[0]!, t.at[1]!, t.at[2]!, m, q + 6);
  }
  commitBodySpans(bodies.spans, bodies, x);
}
