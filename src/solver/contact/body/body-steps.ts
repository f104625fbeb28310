import { applyBodySpans, cutFaces, faceShare } from '../edge-face/body-span-steps.ts';
import { distance } from '../support/shapes.ts';
import { type Bodies, distanceTo, pose, type Touch, toWorld } from './bodies.ts';
import { applyGeometry } from './body-geometry.ts';

/**
 * out += what the contacts' stiffness makes of p, less what the 3x3 blocks in `diag` already give: the coupling of vertices with bodies, and of a body's
 * centre with its rotation.
 */
export function applyBodies(bodies: Bodies, p: Float64Array, out: Float64Array): void {
  if (bodies.exact) applyGeometry(bodies, p, out);
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.touch[k]!;
    const [x, y, z] = relative(bodies, t, p);
    const B = t.B,
      fx = B[0]! * x + B[1]! * y + B[2]! * z,
      fy = B[3]! * x + B[4]! * y + B[5]! * z,
      fz = B[6]! * x + B[7]! * y + B[8]! * z;
    if (t.vertex >= 0) add(B, p, out, 3 * t.vertex, fx, fy, fz);
    else toBody(bodies, t, t.a, t.Ga, p, out, fx, fy, fz);
    if (t.b >= 0) toBody(bodies, t, t.b, t.Gb, p, out, -fx, -fy, -fz);
  }
  applyBodySpans(bodies.spans, bodies, bodies.exact, p, out);
}

function relative(bodies: Bodies, t: Touch, p: Float64Array): [number, number, number] {
  const d: [number, number, number] = [0, 0, 0];
  if (t.vertex >= 0) for (let k = 0; k < 3; k++) d[k] = p[3 * t.vertex + k]!;
  else move(bodies, t.a, t.Ga, p, 1, d);
  if (t.b >= 0) move(bodies, t.b, t.Gb, p, -1, d);
  return d;
}

function move(bodies: Bodies, i: number, G: Float64Array, p: Float64Array, sign: number, d: [number, number, number]): void {
  const c = 3 * bodies.list[i]!.at;
  for (let k = 0; k < 3; k++) d[k] = d[k]! + sign * (p[c + k]! + G[3 * k]! * p[c + 3]! + G[3 * k + 1]! * p[c + 4]! + G[3 * k + 2]! * p[c + 5]!);
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

function toBody(bodies: Bodies, t: Touch, i: number, G: Float64Array, p: Float64Array, out: Float64Array, fx: number, fy: number, fz: number): void {
  const c = 3 * bodies.list[i]!.at,
    w = c + 3,
    B = t.B;
  add(B, p, out, c, fx, fy, fz);
  const [a, b, e] = [0, 1, 2].map((k) => G[3 * k]! * p[w]! + G[3 * k + 1]! * p[w + 1]! + G[3 * k + 2]! * p[w + 2]!) as [number, number, number],
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
    [rx, ry, rz] = [px - bodies.centre[3 * i]!, py - bodies.centre[3 * i + 1]!, pz - bodies.centre[3 * i + 2]!];
  const [u, v, w] = [0, 1, 2].map((k) => J[3 * k]! * d[c + 3]! + J[3 * k + 1]! * d[c + 4]! + J[3 * k + 2]! * d[c + 5]!) as [number, number, number];
  moved[0] = d[c]! + v * rz - w * ry;
  moved[1] = d[c + 1]! + w * rx - u * rz;
  moved[2] = d[c + 2]! + u * ry - v * rx;
}

/** Calls `each` for every vertex of the sheet that body i could reach by the step d: distance, its rate toward the body by the vertex's and by the body's own motion. */
function eachNear(bodies: Bodies, x: Float64Array, d: Float64Array, i: number, each: (v: number, room: number, vertex: number, body: number) => void): void {
  const c = 3 * bodies.list[i]!.at,
    steps = Math.hypot(d[c]!, d[c + 1]!, d[c + 2]!) + Math.hypot(d[c + 3]!, d[c + 4]!, d[c + 5]!),
    near = bodies.list[i]!.reach + steps;
  for (let v = 0; v < bodies.sheet; v++) {
    const X = x[3 * v]!,
      Y = x[3 * v + 1]!,
      Z = x[3 * v + 2]!;
    const far = Math.hypot(d[3 * v]!, d[3 * v + 1]!, d[3 * v + 2]!) + near;
    if ((X - x[c]!) ** 2 + (Y - x[c + 1]!) ** 2 + (Z - x[c + 2]!) ** 2 > far * far) continue;
    distanceTo(bodies, x, i, X, Y, Z, out4);
    const room = USE * Math.max(out4[0]!, 0);
    motion(bodies, i, X, Y, Z, d);
    const vertex = -(d[3 * v]! * out4[1]! + d[3 * v + 1]! * out4[2]! + d[3 * v + 2]! * out4[3]!),
      body = moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!;
    if (vertex + body > room) each(v, room, vertex, body);
  }
}

/**
 * First half of keeping sheet and bodies apart: of vertices that come toward a body faster than the room allows, the part of the step along the normal
 * is cut; a body that comes the other way leaves them half the room. Mutates d.
 */
export function cutAtBodies(bodies: Bodies, x: Float64Array, d: Float64Array): void {
  pose(bodies, x);
  for (let i = 0; i < bodies.list.length; i++)
    eachNear(bodies, x, d, i, (v, room, vertex, body) => {
      const allowed = Math.max(room - Math.max(body, 0), room / 2);
      if (vertex <= allowed) return;
      const cut = vertex - allowed;
      for (let k = 0; k < 3; k++) d[3 * v + k] = d[3 * v + k]! + cut * out4[1 + k]!;
    });
  cutFaces(bodies.spans, bodies, x, d);
}

/** Second half, once every vertex's step is final: bodies are slowed until no vertex, support or other body is passed. Mutates d. */
export function slowBodies(bodies: Bodies, x: Float64Array, d: Float64Array): void {
  const { list, model } = bodies;
  for (let i = 0; i < list.length; i++) {
    let t = faceShare(bodies.spans, bodies, x, d, i);
    eachNear(bodies, x, d, i, (_, room, vertex, body) => {
      if (body > 0) t = Math.min(t, Math.max(0, (room - vertex) / body));
    });
    for (const slots of bodies.slots) {
      if (slots.body !== i || slots.kind === 'sheet') continue;
      const support = slots.kind === 'support' ? model.supports[slots.other]! : null;
      // Two bodies share the room between them.
      const share = support ? USE : USE / 2;
      for (let k = 0; k < list[i]!.points.length / 4; k++) {
        toWorld(bodies, x, i, list[i]!.points[4 * k]!, list[i]!.points[4 * k + 1]!, list[i]!.points[4 * k + 2]!, from);
        if (support) distance(support.sdf, from[0]!, from[1]!, from[2]!, out4);
        else distanceTo(bodies, x, slots.other, from[0]!, from[1]!, from[2]!, out4);
        const room = share * Math.max(out4[0]! - list[i]!.points[4 * k + 3]!, 0);
        motion(bodies, i, from[0]!, from[1]!, from[2]!, d);
        const toward = -(moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!);
        if (toward > room) t = Math.min(t, room / toward);
        if (support) continue;
        // The other body may come the same way.
        motion(bodies, slots.other, from[0]!, from[1]!, from[2]!, d);
        const meets = moved[0]! * out4[1]! + moved[1]! * out4[2]! + moved[2]! * out4[3]!;
        if (meets > room) {
          const c = 3 * list[slots.other]!.at;
          for (let q = c; q < c + 6; q++) d[q] = (d[q]! * room) / meets;
        }
      }
    }
    if (t < 1) {
      const c = 3 * list[i]!.at;
      for (let q = c; q < c + 6; q++) d[q] = d[q]! * t;
    }
  }
}
