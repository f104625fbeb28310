import { libm } from '../../../numerics/index.ts';
import { applyBodySpans, cutFaces, faceShare } from '../edge-face/body-span-steps.ts';
import { distance } from '../support/shapes.ts';
import { type Bodies, type BodyContact, distanceTo, pose, type Slots, toWorld } from './bodies.ts';
import { applyGeometry } from './body-geometry.ts';

/**
 * out += what the contacts' stiffness makes of p, less what the 3x3 blocks in `diag` already give: the coupling of vertices with bodies, and of a body's
 * centre with its rotation.
 */
export function applyBodies(bodies: Bodies, p: Float64Array, out: Float64Array): void {
  if (bodies.exact) applyGeometry(bodies, p, out);
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!;
    relative(bodies, t, p);
    const x = rel[0]!,
      y = rel[1]!,
      z = rel[2]!,
      B = t.B,
      fx = B[0]! * x + B[1]! * y + B[2]! * z,
      fy = B[3]! * x + B[4]! * y + B[5]! * z,
      fz = B[6]! * x + B[7]! * y + B[8]! * z;
    if (t.vertex >= 0) add(B, p, out, 3 * t.vertex, fx, fy, fz);
    else toBody(bodies, t, t.a, t.Ga, p, out, fx, fy, fz);
    if (t.b >= 0) toBody(bodies, t, t.b, t.Gb, p, out, -fx, -fy, -fz);
  }
  applyBodySpans(bodies.spans, bodies, bodies.exact, p, out);
}

const rel = new Float64Array(3);

/** Motion of side 1 against side 2 of a contact in the step p, to `rel`. */
function relative(bodies: Bodies, t: BodyContact, p: Float64Array): void {
  rel.fill(0);
  if (t.vertex >= 0) for (let k = 0; k < 3; k++) rel[k] = p[3 * t.vertex + k]!;
  else addMotion(bodies, t.a, t.Ga, p, 1);
  if (t.b >= 0) addMotion(bodies, t.b, t.Gb, p, -1);
}

function addMotion(bodies: Bodies, i: number, G: Float64Array, p: Float64Array, sign: number): void {
  const c = 3 * bodies.list[i]!.at;
  for (let k = 0; k < 3; k++) rel[k] = rel[k]! + sign * (p[c + k]! + G[3 * k]! * p[c + 3]! + G[3 * k + 1]! * p[c + 4]! + G[3 * k + 2]! * p[c + 5]!);
}

/** out += f - B p at one point. */
function add(B: Float64Array, p: Float64Array, out: Float64Array, q: number, fx: number, fy: number, fz: number): void {
  const a = p[q]!,
    b = p[q + 1]!,
    c = p[q + 2]!;
  out[q] = out[q]! + fx - (B[0]! * a + B[1]! * b + B[2]! * c);
  out[q + 1] = out[q + 1]! + fy - (B[3]! * a + B[4]! * b + B[5]! * c);
  out[q + 2] = out[q + 2]! + fz - (B[6]! * a + B[7]! * b + B[8]! * c);
}

function toBody(bodies: Bodies, t: BodyContact, i: number, G: Float64Array, p: Float64Array, out: Float64Array, fx: number, fy: number, fz: number): void {
  const c = 3 * bodies.list[i]!.at,
    w = c + 3,
    B = t.B;
  add(B, p, out, c, fx, fy, fz);
  const a = G[0]! * p[w]! + G[1]! * p[w + 1]! + G[2]! * p[w + 2]!,
    b = G[3]! * p[w]! + G[4]! * p[w + 1]! + G[5]! * p[w + 2]!,
    e = G[6]! * p[w]! + G[7]! * p[w + 1]! + G[8]! * p[w + 2]!,
    ox = fx - (B[0]! * a + B[1]! * b + B[2]! * e),
    oy = fy - (B[3]! * a + B[4]! * b + B[5]! * e),
    oz = fz - (B[6]! * a + B[7]! * b + B[8]! * e);
  for (let k = 0; k < 3; k++) out[w + k] = out[w + k]! + G[k]! * ox + G[3 + k]! * oy + G[6 + k]! * oz;
}

const out4 = new Float64Array(4),
  from = new Float64Array(3),
  moved = new Float64Array(3);

/** Share of the room between two things that one step may use up. */
const USE = 0.9;

/** Movement of the material point of body i at a world point by its step in d; written to moved. */
function motion(bodies: Bodies, i: number, px: number, py: number, pz: number, d: Float64Array): void {
  const c = 3 * bodies.list[i]!.at,
    J = bodies.J[i]!,
    rx = px - bodies.centre[3 * i]!,
    ry = py - bodies.centre[3 * i + 1]!,
    rz = pz - bodies.centre[3 * i + 2]!,
    u = J[0]! * d[c + 3]! + J[1]! * d[c + 4]! + J[2]! * d[c + 5]!,
    v = J[3]! * d[c + 3]! + J[4]! * d[c + 4]! + J[5]! * d[c + 5]!,
    w = J[6]! * d[c + 3]! + J[7]! * d[c + 4]! + J[8]! * d[c + 5]!;
  moved[0] = d[c]! + v * rz - w * ry;
  moved[1] = d[c + 1]! + w * rx - u * rz;
  moved[2] = d[c + 2]! + u * ry - v * rx;
}

/** What vertexMeets() found: the room, m, and how far the vertex and the body come toward one another, m. */
const meeting = { room: 0, vertex: 0, body: 0 };

/** How far the points of body i could go by the step d from the middle of the body, m. */
function reachOf(bodies: Bodies, d: Float64Array, i: number): number {
  const c = 3 * bodies.list[i]!.at,
    steps = libm.hypot(d[c]!, d[c + 1]!, d[c + 2]!) + libm.hypot(d[c + 3]!, d[c + 4]!, d[c + 5]!);
  return bodies.list[i]!.reach + steps;
}

/** true where vertex v and body i would use up more than the room between them in the step d; fills `meeting`, and out4 with distance and normal. near: reachOf(). */
function vertexMeets(bodies: Bodies, x: Float64Array, d: Float64Array, i: number, v: number, near: number): boolean {
  const c = 3 * bodies.list[i]!.at,
    X = x[3 * v]!,
    Y = x[3 * v + 1]!,
    Z = x[3 * v + 2]!;
  const far = libm.hypot(d[3 * v]!, d[3 * v + 1]!, d[3 * v + 2]!) + near;
  if (libm.square(X - x[c]!) + libm.square(Y - x[c + 1]!) + libm.square(Z - x[c + 2]!) > far * far) return false;
  distanceTo(bodies, x, i, X, Y, Z, out4);
  meeting.room = USE * Math.max(out4[0]!, 0);
  motion(bodies, i, X, Y, Z, d);
  meeting.vertex = -(d[3 * v]! * out4[1]! + d[3 * v + 1]! * out4[2]! + d[3 * v + 2]! * out4[3]!);
  meeting.body = moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!;
  return meeting.vertex + meeting.body > meeting.room;
}

/**
 * First half of keeping sheet and bodies apart: of vertices that come toward a body faster than the room allows, the part of the step along the normal
 * is cut; a body that comes the other way leaves them half the room. Mutates d.
 */
export function cutAtBodies(bodies: Bodies, x: Float64Array, d: Float64Array): void {
  pose(bodies, x);
  for (let i = 0; i < bodies.list.length; i++) {
    const near = reachOf(bodies, d, i);
    for (let v = 0; v < bodies.sheet; v++) {
      if (!vertexMeets(bodies, x, d, i, v, near)) continue;
      const { room, vertex, body } = meeting,
        allowed = Math.max(room - Math.max(body, 0), room / 2);
      if (vertex <= allowed) continue;
      const cut = vertex - allowed;
      for (let k = 0; k < 3; k++) d[3 * v + k] = d[3 * v + k]! + cut * out4[1 + k]!;
    }
  }
  cutFaces(bodies.spans, bodies, x, d);
}

/** Second half, once every vertex's step is final: bodies are slowed until no vertex, support or other body is passed. Mutates d. */
export function slowBodies(bodies: Bodies, x: Float64Array, d: Float64Array): void {
  const { list } = bodies;
  for (let i = 0; i < list.length; i++) {
    let t = faceShare(bodies.spans, bodies, x, d, i);
    const near = reachOf(bodies, d, i);
    for (let v = 0; v < bodies.sheet; v++) {
      if (!vertexMeets(bodies, x, d, i, v, near)) continue;
      const { room, vertex, body } = meeting;
      if (body > 0) t = Math.min(t, Math.max(0, (room - vertex) / body));
    }
    for (const slots of bodies.slots) if (slots.body === i && slots.kind !== 'sheet') t = shareOfPoints(bodies, slots, x, d, t);
    if (t < 1) {
      const c = 3 * list[i]!.at;
      for (let q = c; q < c + 6; q++) d[q] = d[q]! * t;
    }
  }
}

/** The share t of a body's step, made less until none of its points passes the support or body of `slots`; the other body's step is cut by itself. Mutates d. */
function shareOfPoints(bodies: Bodies, slots: Slots, x: Float64Array, d: Float64Array, t: number): number {
  const { points } = bodies.list[slots.body]!,
    support = slots.kind === 'support' ? bodies.model.supports[slots.other]! : null,
    // Two bodies share the room between them.
    share = support ? USE : USE / 2;
  let least = t;
  for (let k = 0; k < points.length / 4; k++) {
    toWorld(bodies, x, slots.body, points[4 * k]!, points[4 * k + 1]!, points[4 * k + 2]!, from);
    if (support) distance(support.sdf, from[0]!, from[1]!, from[2]!, out4);
    else distanceTo(bodies, x, slots.other, from[0]!, from[1]!, from[2]!, out4);
    const room = share * Math.max(out4[0]! - points[4 * k + 3]!, 0);
    motion(bodies, slots.body, from[0]!, from[1]!, from[2]!, d);
    const toward = -(moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!);
    if (toward > room) least = Math.min(least, room / toward);
    if (support) continue;
    // The other body may come the same way.
    motion(bodies, slots.other, from[0]!, from[1]!, from[2]!, d);
    const meets = moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!;
    if (meets > room) {
      const c = 3 * bodies.list[slots.other]!.at;
      for (let q = c; q < c + 6; q++) d[q] = (d[q]! * room) / meets;
    }
  }
  return least;
}
