import { type BodySpan, type BodySpans, measureFrom, type Posed } from './body-spans.ts';
import { HAIR, PASSES, stepOf, USE } from './span-steps.ts';
import { createSpan, faceSpan } from './spans.ts';

const rel = new Float64Array(9),
  moved = new Float64Array(9),
  back = new Float64Array(15),
  theta = new Float64Array(3),
  torque = new Float64Array(3);

/** theta = J dw, the body's turn by its rotation unknown's step at p[q..q+2]. */
function turnBy(J: Float64Array, p: Float64Array, q: number): void {
  for (let k = 0; k < 3; k++) theta[k] = J[3 * k]! * p[q]! + J[3 * k + 1]! * p[q + 1]! + J[3 * k + 2]! * p[q + 2]!;
}

/** torque += a x b, a and b at q. */
function addCross(a: Float64Array, b: Float64Array, q: number): void {
  torque[0] = torque[0]! + a[q + 1]! * b[q + 2]! - a[q + 2]! * b[q + 1]!;
  torque[1] = torque[1]! + a[q + 2]! * b[q]! - a[q]! * b[q + 2]!;
  torque[2] = torque[2]! + a[q]! * b[q + 1]! - a[q + 1]! * b[q]!;
}

/** moved (9: of the vertices, less the body's centre) and rel (9: less its turn as well) from the parts of a motion: dx (9), dc and dw (6, at q of p). */
function motions(b: Posed, t: BodySpan, dx: Float64Array, p: Float64Array, q: number): void {
  turnBy(b.J[t.body]!, p, q + 3);
  for (let i = 0; i < 9; i += 3) {
    for (let k = 0; k < 3; k++) moved[i + k] = dx[i + k]! - p[q + k]!;
    rel[i] = moved[i]! - (theta[1]! * t.arms[i + 2]! - theta[2]! * t.arms[i + 1]!);
    rel[i + 1] = moved[i + 1]! - (theta[2]! * t.arms[i]! - theta[0]! * t.arms[i + 2]!);
    rel[i + 2] = moved[i + 2]! - (theta[0]! * t.arms[i + 1]! - theta[1]! * t.arms[i]!);
  }
}

/**
 * What the exact Hessian of one contact has besides B, for a motion of its vertices (dx, 9) and body (p, 6 at q): the weighed law's second derivatives, and the
 * turning of the forces with the body, G_i.(-theta x u_i + theta x (theta x r_i)/2) of the pull G_i at arm r_i, u_i the vertex's motion less the centre's.
 * Written to `back`: 9 at the vertices, 3 at the centre, 3 at the rotation unknown.
 */
export function geometricStiffness(b: Posed, t: BodySpan, dx: Float64Array, p: Float64Array, q: number): Float64Array {
  motions(b, t, dx, p, q);
  const J = b.J[t.body]!,
    G = t.pull,
    r = t.arms;
  back.fill(0);
  for (let i = 0; i < 9; i++) {
    let f = 0;
    for (let j = 0; j < 9; j++) f += t.more[9 * i + j]! * rel[j]!;
    back[i] = f;
  }
  torque.fill(0);
  for (let i = 0; i < 9; i += 3) addCross(r, back, i);
  for (let k = 0; k < 3; k++) torque[k] = -torque[k]!;
  for (let i = 0; i < 9; i += 3) {
    const a = theta[0]!,
      c = theta[1]!,
      d = theta[2]!,
      gx = G[i]!,
      gy = G[i + 1]!,
      gz = G[i + 2]!,
      x = r[i]!,
      y = r[i + 1]!,
      z = r[i + 2]!;
    back[i] = back[i]! + c * gz - d * gy;
    back[i + 1] = back[i + 1]! + d * gx - a * gz;
    back[i + 2] = back[i + 2]! + a * gy - c * gx;
    // -u x G + [(G.theta) r + (theta.r) G]/2 - (G.r) theta
    const gt = (gx * a + gy * c + gz * d) / 2,
      rt = (x * a + y * c + z * d) / 2,
      gr = gx * x + gy * y + gz * z;
    torque[0] = torque[0]! + moved[i + 2]! * gy - moved[i + 1]! * gz + gt * x + rt * gx - gr * a;
    torque[1] = torque[1]! + moved[i]! * gz - moved[i + 2]! * gx + gt * y + rt * gy - gr * c;
    torque[2] = torque[2]! + moved[i + 1]! * gx - moved[i]! * gy + gt * z + rt * gz - gr * d;
  }
  for (let i = 0; i < 9; i += 3) for (let k = 0; k < 3; k++) back[9 + k] = back[9 + k]! - back[i + k]!;
  for (let k = 0; k < 3; k++) back[12 + k] = J[k]! * torque[0]! + J[3 + k]! * torque[1]! + J[6 + k]! * torque[2]!;
  return back;
}

const dx = new Float64Array(9),
  f = new Float64Array(3),
  s = new Float64Array(3),
  turn = new Float64Array(3),
  whole = new Float64Array(3);

/** out += what the contacts' stiffness makes of p, less what the 3x3 blocks already give. exact: with the parts of geometricStiffness(). */
export function applyBodySpans(bs: BodySpans, b: Posed, exact: boolean, p: Float64Array, out: Float64Array): void {
  for (let n = 0; n < bs.count; n++) {
    const t = bs.contacts[n]!,
      c = 3 * b.list[t.body]!.at,
      { B, G } = t;
    s.fill(0);
    for (let i = 0; i < 3; i++)
      for (let k = 0; k < 3; k++) {
        dx[3 * i + k] = p[3 * t.verts[i]! + k]!;
        s[k] = s[k]! + t.weights[i]! * dx[3 * i + k]!;
      }
    for (let k = 0; k < 3; k++) turn[k] = G[3 * k]! * p[c + 3]! + G[3 * k + 1]! * p[c + 4]! + G[3 * k + 2]! * p[c + 5]!;
    for (let k = 0; k < 3; k++) s[k] = s[k]! - p[c + k]! - turn[k]!;
    multiply(B, s, 0, whole);
    for (let i = 0; i < 3; i++) {
      const v = 3 * t.verts[i]!,
        w = t.weights[i]!;
      multiply(B, dx, 3 * i, f);
      for (let k = 0; k < 3; k++) out[v + k] = out[v + k]! + w * (whole[k]! - f[k]!);
    }
    multiply(B, p, c, f);
    for (let k = 0; k < 3; k++) out[c + k] = out[c + k]! - whole[k]! - f[k]!;
    s.set(turn);
    multiply(B, s, 0, f);
    for (let k = 0; k < 3; k++)
      out[c + 3 + k] = out[c + 3 + k]! - G[k]! * (whole[0]! + f[0]!) - G[3 + k]! * (whole[1]! + f[1]!) - G[6 + k]! * (whole[2]! + f[2]!);
    if (!exact) continue;
    const more = geometricStiffness(b, t, dx, p, c);
    for (let i = 0; i < 9; i++) {
      const v = 3 * t.verts[(i / 3) | 0]! + (i % 3);
      out[v] = out[v]! + more[i]!;
    }
    for (let k = 0; k < 6; k++) out[c + k] = out[c + k]! + more[9 + k]!;
  }
}

function multiply(B: Float64Array, a: Float64Array, q: number, out: Float64Array): void {
  for (let k = 0; k < 3; k++) out[k] = B[3 * k]! * a[q]! + B[3 * k + 1]! * a[q + 1]! + B[3 * k + 2]! * a[q + 2]!;
}

const span = createSpan(),
  normal = new Float64Array(3);

/** Measures the sheet from body i if the step d could bring any face to it; false where it cannot. Mutates bs. */
function reaches(bs: BodySpans, b: Posed, x: Float64Array, d: Float64Array, i: number): boolean {
  const { inSheet } = bs.spans;
  let most = 0;
  for (let v = 0; v < inSheet.length; v++) if (inSheet[v]) most = Math.max(most, stepOf(d, v));
  return measureFrom(bs, b, x, i, (most + bodyStep(b, d, i)) / USE);
}

/** How far the step d takes the points of body i at most, m. */
const bodyStep = (b: Posed, d: Float64Array, i: number): number => stepOf(d, b.list[i]!.at) + stepOf(d, b.list[i]!.at + 1);

/** What faceMeets() found: the room, m, and how far the body comes toward the face. */
const meeting = { room: 0, toward: 0 };

/** true where body i could reach face t by the step d; fills `meeting`, the span in `span` and its plane in `normal` (world directions). steps: bodyStep() before any was cut. */
function faceMeets(bs: BodySpans, b: Posed, x: Float64Array, d: Float64Array, i: number, t: number, steps: number): boolean {
  const { list, model } = b,
    R = b.R[i]!,
    c = 3 * list[i]!.at,
    tri = model.triVerts,
    reach = (Math.max(stepOf(d, tri[3 * t]!), stepOf(d, tri[3 * t + 1]!), stepOf(d, tri[3 * t + 2]!)) + steps) / USE;
  if (!(reach > 0) || !faceSpan(bs.spans, list[i]!.shape, bs.own, t, reach + HAIR, 0, span)) return false;
  for (let k = 0; k < 3; k++) normal[k] = R[3 * k]! * span.n[0]! + R[3 * k + 1]! * span.n[1]! + R[3 * k + 2]! * span.n[2]!;
  // The body's motion at the nearest place: dc + theta x r, r in world directions.
  turnBy(b.J[i]!, d, c + 3);
  let toward = 0;
  for (let k = 0; k < 3; k++) s[k] = 0;
  for (let j = 0; j < 3; j++) for (let k = 0; k < 3; k++) s[k] = s[k]! + span.weights[j]! * (x[3 * span.verts[j]! + k]! - x[c + k]!);
  toward += normal[0]! * (d[c]! + theta[1]! * s[2]! - theta[2]! * s[1]!);
  toward += normal[1]! * (d[c + 1]! + theta[2]! * s[0]! - theta[0]! * s[2]!);
  toward += normal[2]! * (d[c + 2]! + theta[0]! * s[1]! - theta[1]! * s[0]!);
  meeting.room = USE * Math.max(span.d - HAIR, 0);
  meeting.toward = toward;
  return true;
}

/** How far corner j of the face in `span` comes past its own height over the plane through the nearest place, by the step d, m. */
function past(x: Float64Array, d: Float64Array, c: number, j: number): number {
  const v = 3 * span.verts[j]!;
  // s holds the nearest place, seen from the centre.
  let above = 0,
    step = 0;
  for (let k = 0; k < 3; k++) {
    above += normal[k]! * (x[v + k]! - x[c + k]! - s[k]!);
    step -= normal[k]! * d[v + k]!;
  }
  return step - Math.max(0, above);
}

/** First half of keeping faces and bodies apart, as cutAtBodies has it for points: the part of a step along the plane's normal is cut. Mutates d. */
export function cutFaces(bs: BodySpans, b: Posed, x: Float64Array, d: Float64Array): void {
  const m = b.model.triVerts.length / 3;
  for (let i = 0; i < b.list.length; i++)
    for (let pass = 0, clean = false; pass <= PASSES && !clean; pass++) {
      clean = true;
      const steps = bodyStep(b, d, i);
      if (!reaches(bs, b, x, d, i)) continue;
      for (let t = 0; t < m; t++) if (faceMeets(bs, b, x, d, i, t, steps) && cutFace(x, d, 3 * b.list[i]!.at, pass === PASSES)) clean = false;
    }
}

/** Cuts the steps of the corners of the face in `span`; true when one had to be. stop: the last resort, they do not move at all. */
function cutFace(x: Float64Array, d: Float64Array, c: number, stop: boolean): boolean {
  const { room, toward } = meeting,
    allowed = Math.max(room - Math.max(toward, 0), room / 2);
  let did = false;
  for (let j = 0; j < 3; j++) {
    const over = past(x, d, c, j) - allowed,
      v = 3 * span.verts[j]!;
    if (!(over > 1e-15)) continue;
    did = true;
    for (let k = 0; k < 3; k++) d[v + k] = stop ? 0 : d[v + k]! + over * normal[k]!;
  }
  return did;
}

/** Second half: the share of body i's step, 0 .. 1, that passes no face, once every vertex's step is final. */
export function faceShare(bs: BodySpans, b: Posed, x: Float64Array, d: Float64Array, i: number): number {
  const m = b.model.triVerts.length / 3,
    steps = bodyStep(b, d, i);
  let share = 1;
  if (!reaches(bs, b, x, d, i)) return share;
  for (let t = 0; t < m; t++) {
    if (!faceMeets(bs, b, x, d, i, t, steps)) continue;
    const { room, toward } = meeting;
    if (!(toward > 0)) continue;
    let most = Number.NEGATIVE_INFINITY;
    for (let j = 0; j < 3; j++) most = Math.max(most, past(x, d, 3 * b.list[i]!.at, j));
    if (most + toward > room) share = Math.min(share, Math.max(0, (room - most) / toward));
  }
  return share;
}
