import type { Model } from '../../types.ts';
import { press, pressed, rub, rubbed } from '../normal-law.ts';
import { direct, free, freeWay, type Running } from './running.ts';
import { distance } from './shapes.ts';

/** Contact of the sheet's vertices with rigid supports; mutable anchors, one per vertex and support. */
export interface SupportContact {
  readonly model: Model;
  /** n stiffness of the contact spring, N/m, per support offset: k = 180 w_v / offset (w_v the vertex's weight). */
  readonly stiffness: Float64Array[];
  /** per support: 3n tangential anchors (NaN: not touching yet) */ readonly anchors: Float64Array[];
  /** per support: n distances of the points it was last asked about, m */ readonly apart: Float64Array[];
  /** per support: 3n force on the sheet at the last evaluation, N */ readonly force: Float64Array[];
  /** Straps that are being let run; null: friction acts every way. */ running: Running | null;
  deepest: number;
  touching: number;
}

/**
 * Spring stiffness. 60 times the vertex weight per offset lets a sheet lying flat sink 1/60 of the offset; supports are three
 * times stiffer because they also carry whole walls through one line of vertices.
 */
const STIFFNESS = 180;

/** No direction in which a vertex runs free. */
const NOWHERE = [0, 0, 0] as const;

/** Vertices of sheet and straps: the points of rigid bodies come after them. */
export const verticesOf = (model: Model): number => model.bodies?.[0]?.at ?? model.vertexCount;

export function createSupportContact(model: Model): SupportContact {
  const n = model.vertexCount,
    g = Math.hypot(...model.gravity) || 9.80665;
  return {
    model,
    stiffness: model.supports.map((s) => model.mass.map((m, v) => (STIFFNESS * Math.max(m * g, model.pressed?.[v] ?? 0)) / s.offset)),
    anchors: model.supports.map(() => new Float64Array(3 * n).fill(Number.NaN)),
    apart: model.supports.map(() => new Float64Array(n)),
    force: model.supports.map(() => new Float64Array(3 * n)),
    running: null,
    deepest: 0,
    touching: 0,
  };
}

/**
 * Adds contact and friction to gradient g (3n) and 3x3 blocks to diag (9n); returns the energy, J.
 * Normal: contact/normal-law.ts.
 * Friction: a tangential spring from the anchor, cut off at mu N of the CURRENT normal force (never the last step's). Slipping
 * stiffness is (mu N/|e|)(I - nn - tt): zero along the slip, because the secant form holds a sheet that should slide.
 */
export function evaluateSupports(c: SupportContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const { model } = c,
    out = new Float64Array(4),
    sheet = verticesOf(model);
  let energy = 0,
    deepest = 0,
    touching = 0;
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      r = sup.offset,
      K = c.stiffness[s]!,
      anchor = c.anchors[s]!,
      force = c.force[s]!,
      apart = c.apart[s]!;
    force.fill(0);
    for (let v = 0; v < sheet; v++) {
      const X = x[3 * v]!,
        Y = x[3 * v + 1]!,
        Z = x[3 * v + 2]!;
      distance(sup.sdf, X, Y, Z, out);
      const d = out[0]!;
      apart[v] = d;
      if (d >= r || model.held[v]) continue;
      touching++;
      if (-d > deepest) deepest = -d;
      const nx = out[1]!,
        ny = out[2]!,
        nz = out[3]!,
        k = K[v]!;
      press(k, d, r);
      energy += pressed.energy;
      const N = pressed.force,
        kn = pressed.stiffness;
      let fx = N * nx,
        fy = N * ny,
        fz = N * nz;
      let a = kn * nx * nx,
        b = kn * nx * ny,
        e = kn * nx * nz,
        f = kn * ny * ny,
        h = kn * ny * nz,
        i = kn * nz * nz;
      if (sup.friction > 0 && !Number.isNaN(anchor[3 * v]!)) {
        let ex = X - anchor[3 * v]!,
          ey = Y - anchor[3 * v + 1]!,
          ez = Z - anchor[3 * v + 2]!;
        const en = ex * nx + ey * ny + ez * nz;
        ex -= en * nx;
        ey -= en * ny;
        ez -= en * nz;
        let [ax, ay, az]: readonly number[] = NOWHERE;
        if (c.running) {
          freeWay(c.running, v, nx, ny, nz);
          [ax, ay, az] = [free.x, free.y, free.z];
          const ea = ex * ax + ey * ay + ez * az;
          ex -= ea * ax;
          ey -= ea * ay;
          ez -= ea * az;
        }
        const l = Math.sqrt(ex * ex + ey * ey + ez * ez);
        rub(k, l, c.running?.fast[v] ? Number.POSITIVE_INFINITY : sup.friction * N);
        const { slips, pull: w } = rubbed;
        energy += rubbed.energy;
        fx -= w * ex;
        fy -= w * ey;
        fz -= w * ez;
        const tx = slips ? ex / l : 0,
          ty = slips ? ey / l : 0,
          tz = slips ? ez / l : 0;
        a += w * (1 - nx * nx - tx * tx - ax * ax);
        b += w * (-nx * ny - tx * ty - ax * ay);
        e += w * (-nx * nz - tx * tz - ax * az);
        f += w * (1 - ny * ny - ty * ty - ay * ay);
        h += w * (-ny * nz - ty * tz - ay * az);
        i += w * (1 - nz * nz - tz * tz - az * az);
      }
      force[3 * v] = fx;
      force[3 * v + 1] = fy;
      force[3 * v + 2] = fz;
      if (g) {
        g[3 * v] = g[3 * v]! - fx;
        g[3 * v + 1] = g[3 * v + 1]! - fy;
        g[3 * v + 2] = g[3 * v + 2]! - fz;
      }
      if (diag) {
        const p = 9 * v;
        diag[p] = diag[p]! + a;
        diag[p + 1] = diag[p + 1]! + b;
        diag[p + 2] = diag[p + 2]! + e;
        diag[p + 3] = diag[p + 3]! + b;
        diag[p + 4] = diag[p + 4]! + f;
        diag[p + 5] = diag[p + 5]! + h;
        diag[p + 6] = diag[p + 6]! + e;
        diag[p + 7] = diag[p + 7]! + h;
        diag[p + 8] = diag[p + 8]! + i;
      }
    }
  }
  c.deepest = deepest;
  c.touching = touching;
  return energy;
}

/** Moves anchors to where friction leaves them at x: kept while sticking, dragged along while slipping, dropped when the vertex lifts. */
export function commitFriction(c: SupportContact, x: Float64Array): void {
  const { model } = c,
    out = new Float64Array(4),
    sheet = verticesOf(model);
  if (c.running) direct(c.running, x);
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      r = sup.offset,
      anchor = c.anchors[s]!,
      apart = c.apart[s]!;
    for (let v = 0; v < sheet; v++) {
      const X = x[3 * v]!,
        Y = x[3 * v + 1]!,
        Z = x[3 * v + 2]!;
      distance(sup.sdf, X, Y, Z, out);
      const d = out[0]!,
        q = 3 * v;
      apart[v] = d;
      if (d >= r) {
        anchor[q] = Number.NaN;
        continue;
      }
      if (Number.isNaN(anchor[q]!)) {
        anchor[q] = X;
        anchor[q + 1] = Y;
        anchor[q + 2] = Z;
        continue;
      }
      const k = c.stiffness[s]![v]!,
        dd = Math.max(d, 1e-3 * r),
        N = dd < r / 2 ? (k * r * r) / (4 * dd) : k * (r - dd);
      const nx = out[1]!,
        ny = out[2]!,
        nz = out[3]!;
      let ex = X - anchor[q]!,
        ey = Y - anchor[q + 1]!,
        ez = Z - anchor[q + 2]!;
      const en = ex * nx + ey * ny + ez * nz;
      ex -= en * nx;
      ey -= en * ny;
      ez -= en * nz;
      if (c.running) {
        freeWay(c.running, v, nx, ny, nz);
        const ea = ex * free.x + ey * free.y + ez * free.z;
        ex -= ea * free.x;
        ey -= ea * free.y;
        ez -= ea * free.z;
      }
      const l = Math.sqrt(ex * ex + ey * ey + ez * ez),
        limit = c.running?.fast[v] ? Number.POSITIVE_INFINITY : sup.friction * N;
      const keep = k * l > limit ? limit / (k * l) : 1;
      anchor[q] = X - keep * ex;
      anchor[q + 1] = Y - keep * ey;
      anchor[q + 2] = Z - keep * ez;
    }
  }
}

/** Shortens the step d (3n) per vertex so that no vertex uses more than 90 % of its distance to any support. Mutates d. */
export function truncateAtSupports(c: SupportContact, x: Float64Array, d: Float64Array): void {
  const { model } = c,
    out = new Float64Array(4),
    sheet = verticesOf(model);
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      apart = c.apart[s]!;
    for (let v = 0; v < sheet; v++) {
      distance(sup.sdf, x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!, out);
      apart[v] = out[0]!;
      const toward = d[3 * v]! * out[1]! + d[3 * v + 1]! * out[2]! + d[3 * v + 2]! * out[3]!,
        room = -0.9 * Math.max(out[0]!, 0);
      if (toward >= room) continue;
      // Only the part along the normal is cut: shortening the whole step would glue a sheet that slides along the table.
      const cut = room - toward;
      d[3 * v] = d[3 * v]! + cut * out[1]!;
      d[3 * v + 1] = d[3 * v + 1]! + cut * out[2]!;
      d[3 * v + 2] = d[3 * v + 2]! + cut * out[3]!;
    }
  }
}
