import type { Model, Support } from '../../types.ts';
import { addContactBlock, addOuter, coulombSpring, freeStretch, keptShare, noSpring, spring, tangentialStretch } from '../coulomb.ts';
import { normal, normalContact } from '../normal-law.ts';
import { direct, free, freeWay, type Running } from './running.ts';
import { distance } from './shapes.ts';
import { softStiffness } from './stiffness.ts';

/** Contact of the sheet's vertices with rigid supports; mutable anchors, one per vertex and support. */
export interface SupportContact {
  readonly model: Model;
  /** per support: n stiffness along its normal and along its surface, N/m; see stiffness.ts */ readonly stiffness: Float64Array[];
  readonly tangential: Float64Array[];
  /** per support: 3n tangential anchors (NaN: not touching yet) */ readonly anchors: Float64Array[];
  /** per support: n distances of the points it was last asked about, m */ readonly distances: Float64Array[];
  /** per support: 3n force on the sheet at the last evaluation, N */ readonly force: Float64Array[];
  /** Straps that are being let run; null: friction acts every way. */ running: Running | null;
  deepest: number;
  touching: number;
}

/** Vertices of sheet and straps: the points of rigid bodies come after them. */
const verticesOf = (model: Model): number => model.bodies?.[0]?.at ?? model.vertexCount;

export function createSupportContact(model: Model): SupportContact {
  const n = model.vertexCount;
  return {
    model,
    stiffness: model.supports.map((s) => softStiffness(model, s)),
    tangential: model.supports.map((s) => softStiffness(model, s)),
    anchors: model.supports.map(() => new Float64Array(3 * n).fill(Number.NaN)),
    distances: model.supports.map(() => new Float64Array(n)),
    force: model.supports.map(() => new Float64Array(3 * n)),
    running: null,
    deepest: 0,
    touching: 0,
  };
}

const out = new Float64Array(4);

/** Tangential stretch of vertex v from its anchor, to `spring`; along a strap that is let run there is none. */
function stretchOf(c: SupportContact, anchor: Float64Array, x: Float64Array, v: number, nx: number, ny: number, nz: number): void {
  tangentialStretch(x[3 * v]! - anchor[3 * v]!, x[3 * v + 1]! - anchor[3 * v + 1]!, x[3 * v + 2]! - anchor[3 * v + 2]!, nx, ny, nz);
  if (!c.running) return;
  freeWay(c.running, v, nx, ny, nz);
  freeStretch(free.x, free.y, free.z);
}

/** Most that friction holds vertex v with under the force in `normal`, N; beside a strap that is let run it holds whatever comes. */
const limitOf = (c: SupportContact, sup: Support, v: number): number =>
  c.running && c.running.beside[2 * v]! >= 0 ? Number.POSITIVE_INFINITY : sup.friction * normal.force;

/**
 * Adds contact and friction to gradient g (3n) and 3x3 blocks to diag (9n); returns the energy, J. Normal: contact/normal-law.ts. Friction: contact/coulomb.ts, its
 * spring fixed at the anchor.
 */
export function evaluateSupports(c: SupportContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const { model } = c,
    sheet = verticesOf(model);
  let energy = 0,
    deepest = 0,
    touching = 0;
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      r = sup.offset,
      K = c.stiffness[s]!,
      T = c.tangential[s]!,
      anchor = c.anchors[s]!,
      force = c.force[s]!,
      distances = c.distances[s]!;
    force.fill(0);
    for (let v = 0; v < sheet; v++) {
      if (sup.only && sup.only[v] !== 1) continue;
      const X = x[3 * v]!,
        Y = x[3 * v + 1]!,
        Z = x[3 * v + 2]!;
      distance(sup.sdf, X, Y, Z, out);
      const d = out[0]!;
      distances[v] = d;
      if (d >= r || model.held[v]) continue;
      touching++;
      if (-d > deepest) deepest = -d;
      const nx = out[1]!,
        ny = out[2]!,
        nz = out[3]!,
        k = K[v]!;
      normalContact(k, d, r);
      energy += normal.energy;
      const N = normal.force,
        kn = normal.stiffness;
      if (sup.friction > 0 && !Number.isNaN(anchor[3 * v]!)) {
        stretchOf(c, anchor, x, v, nx, ny, nz);
        coulombSpring(T[v]!, limitOf(c, sup, v));
      } else noSpring();
      energy += spring.energy;
      const kt = spring.pull,
        fx = N * nx - kt * spring.ex,
        fy = N * ny - kt * spring.ey,
        fz = N * nz - kt * spring.ez;
      force[3 * v] = fx;
      force[3 * v + 1] = fy;
      force[3 * v + 2] = fz;
      if (g) {
        g[3 * v] = g[3 * v]! - fx;
        g[3 * v + 1] = g[3 * v + 1]! - fy;
        g[3 * v + 2] = g[3 * v + 2]! - fz;
      }
      if (diag) {
        addContactBlock(diag, 9 * v, kn, kt, nx, ny, nz, spring.tx, spring.ty, spring.tz);
        if (c.running && kt > 0) addOuter(diag, 9 * v, -kt, free.x, free.y, free.z);
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
    sheet = verticesOf(model);
  if (c.running) direct(c.running, x);
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      anchor = c.anchors[s]!,
      distances = c.distances[s]!;
    for (let v = 0; v < sheet; v++) {
      if (sup.only && sup.only[v] !== 1) continue;
      const X = x[3 * v]!,
        Y = x[3 * v + 1]!,
        Z = x[3 * v + 2]!;
      distance(sup.sdf, X, Y, Z, out);
      const d = out[0]!,
        q = 3 * v;
      distances[v] = d;
      if (d >= sup.offset) {
        anchor[q] = Number.NaN;
        continue;
      }
      if (Number.isNaN(anchor[q]!)) {
        anchor[q] = X;
        anchor[q + 1] = Y;
        anchor[q + 2] = Z;
        continue;
      }
      // Below the surface too the limit is that of the force felt there: it was left out here once, an oversight that moved no settled shape.
      normalContact(c.stiffness[s]![v]!, d, sup.offset);
      stretchOf(c, anchor, x, v, out[1]!, out[2]!, out[3]!);
      const keep = keptShare(c.tangential[s]![v]!, limitOf(c, sup, v));
      anchor[q] = X - keep * spring.ex;
      anchor[q + 1] = Y - keep * spring.ey;
      anchor[q + 2] = Z - keep * spring.ez;
    }
  }
}

/** Shortens the step d (3n) per vertex so that no vertex uses more than 90 % of its distance to any support. Mutates d. */
export function truncateAtSupports(c: SupportContact, x: Float64Array, d: Float64Array): void {
  const { model } = c,
    sheet = verticesOf(model);
  for (let s = 0; s < model.supports.length; s++) {
    const sup = model.supports[s]!,
      distances = c.distances[s]!;
    for (let v = 0; v < sheet; v++) {
      if (sup.only && sup.only[v] !== 1) continue;
      distance(sup.sdf, x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!, out);
      distances[v] = out[0]!;
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
