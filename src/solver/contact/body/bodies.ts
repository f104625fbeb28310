import { GRAVITY, libm } from '../../../numerics/index.ts';
import type { Model, RigidBody } from '../../types.ts';
import { type BodySpans, createBodySpans } from '../edge-face/body-spans.ts';
import { distance } from '../support/shapes.ts';
import { orient } from './pose.ts';

/** Numbers that friction remembers of one contact, see Slots. */
export const SLOT = 9;

/**
 * Rigid things among the sheet's unknowns. Body b has two points at the end of the positions: its centre, and its rotation vector from its first
 * orientation times `reach` (so that a step of a rotation is a length on the body's rim). Mutable: poses and contacts of the last evaluation, and what
 * friction remembers.
 */
export interface Bodies {
  readonly model: Model;
  readonly list: readonly RigidBody[];
  /** Vertices before the first body: sheet and straps. */ readonly sheet: number;
  /** Per body: 9 orientation (rows: world directions' parts along own axes, so own = R^T world), 9 left Jacobian over reach. */
  readonly R: Float64Array[];
  readonly J: Float64Array[];
  /** 3 per body, world. */ readonly centre: Float64Array;
  /** Contacts of the last evaluation; only the first `count` are. */ readonly contacts: BodyContact[];
  count: number;
  /** Friction per body and counterpart, see Slots. */ readonly slots: Slots[];
  /** Force of supports on all bodies, N. */ readonly carried: Float64Array;
  /** 3n forces of the bodies on the sheet, N. */ readonly onSheet: Float64Array;
  /** Per body: n stiffness of its contact with each vertex, N/m. */ readonly stiffness: readonly Float64Array[];
  /** The sheet between its points. */ readonly spans: BodySpans;
  deepest: number;
  /** The exact Hessian is wanted: with what turning the forces adds (body-geometry.ts). */ exact: boolean;
}

/**
 * Friction of one family of contacts (the sheet's vertices on a body; a body's points on a support; a body's points on another body), SLOT numbers each:
 * sideways displacement e (world), then where the two sides' material met at the last commit, in own coordinates of either side (world where the side is
 * a vertex or at rest). NaN: not touching.
 */
export interface Slots {
  readonly kind: 'sheet' | 'support' | 'body';
  /** Body whose points touch (kind sheet: the body touched). */ readonly body: number;
  /** Support or body touched. */ readonly other: number;
  readonly memory: Float64Array;
}

/** One touching pair: side 1 is a vertex or a body's point, side 2 a body or nothing that moves. */
export interface BodyContact {
  /** Vertex, or -1. */ vertex: number;
  /** Body of side 1, or -1. */ a: number;
  /** Body of side 2, or -1. */ b: number;
  slots: Slots;
  index: number;
  /** Contact point, world. */ readonly at: Float64Array;
  /** Side 1's own point: the vertex, or the middle of a body point's ball. */ readonly point: Float64Array;
  /** 9: curvature of the surface touched times the normal force. */ readonly curvature: Float64Array;
  /** Force on side 1, N. */ readonly force: Float64Array;
  /** 9 stiffness against relative motion. */ readonly B: Float64Array;
  /** 9 each: motion of the contact point per step of the body's rotation unknown. */ readonly Ga: Float64Array;
  readonly Gb: Float64Array;
  normal: number;
  readonly n: Float64Array;
  readonly e: Float64Array;
  stiffness: number;
  friction: number;
}

/** Share of a body's weight that gives its contact with one vertex its stiffness: at that force it yields by a 180th of its offset (contact/support/support.ts). */
const SHARE = 1 / 100;
export const STIFFNESS = 180;

/** Weight of a body, N. */
export const weightOf = (model: Model, b: RigidBody): number => model.mass[b.at]! * (libm.norm(model.gravity) || GRAVITY);

/** Stiffness of each vertex (n) against the body, N/m. */
function stiffnessOf(model: Model, b: RigidBody): Float64Array {
  const g = libm.norm(model.gravity) || GRAVITY,
    W = weightOf(model, b);
  return model.mass.map((m) => (STIFFNESS * Math.max(m * g, SHARE * W)) / b.offset);
}

export function createBodies(model: Model): Bodies | null {
  const list = model.bodies ?? [];
  if (list.length === 0) return null;
  const sheet = list[0]!.at,
    slots: Slots[] = [];
  const family = (kind: Slots['kind'], body: number, other: number, count: number): void => {
    slots.push({ kind, body, other, memory: new Float64Array(SLOT * count).fill(Number.NaN) });
  };
  list.forEach((b, i) => {
    family('sheet', i, -1, sheet);
    for (let s = 0; s < model.supports.length; s++) family('support', i, s, b.points.length / 4);
    for (let j = 0; j < list.length; j++) if (j !== i) family('body', i, j, b.points.length / 4);
  });
  return {
    model,
    list,
    sheet,
    R: list.map(() => new Float64Array(9)),
    J: list.map(() => new Float64Array(9)),
    centre: new Float64Array(3 * list.length),
    contacts: [],
    count: 0,
    slots,
    carried: new Float64Array(3),
    onSheet: new Float64Array(3 * sheet),
    stiffness: list.map((b) => stiffnessOf(model, b)),
    spans: createBodySpans(model),
    deepest: 0,
    exact: true,
  };
}

/** Orientations and Jacobians of all bodies at x. Mutates bodies. */
export function pose(bodies: Bodies, x: Float64Array): void {
  bodies.list.forEach((b, i) => {
    for (let k = 0; k < 3; k++) bodies.centre[3 * i + k] = x[3 * b.at + k]!;
    const J = bodies.J[i]!;
    orient(b, x, 3 * (b.at + 1), bodies.R[i]!, J);
    for (let k = 0; k < 9; k++) J[k] = J[k]! / b.reach;
  });
}

/** World place of own point p of body i; written to out. */
export function toWorld(bodies: Bodies, x: Float64Array, i: number, px: number, py: number, pz: number, out: Float64Array): void {
  const R = bodies.R[i]!,
    c = 3 * bodies.list[i]!.at;
  out[0] = x[c]! + R[0]! * px + R[1]! * py + R[2]! * pz;
  out[1] = x[c + 1]! + R[3]! * px + R[4]! * py + R[5]! * pz;
  out[2] = x[c + 2]! + R[6]! * px + R[7]! * py + R[8]! * pz;
}

/** Own coordinates of a world point; written to out at offset k. */
export function toOwn(bodies: Bodies, x: Float64Array, i: number, wx: number, wy: number, wz: number, out: Float64Array, k = 0): void {
  const R = bodies.R[i]!,
    c = 3 * bodies.list[i]!.at,
    dx = wx - x[c]!,
    dy = wy - x[c + 1]!,
    dz = wz - x[c + 2]!;
  out[k] = R[0]! * dx + R[3]! * dy + R[6]! * dz;
  out[k + 1] = R[1]! * dx + R[4]! * dy + R[7]! * dz;
  out[k + 2] = R[2]! * dx + R[5]! * dy + R[8]! * dz;
}

const own = new Float64Array(3);

/** Signed distance from body i's surface and its outward normal (world) at a world point; written to out. */
export function distanceTo(bodies: Bodies, x: Float64Array, i: number, wx: number, wy: number, wz: number, out: Float64Array): void {
  const R = bodies.R[i]!;
  toOwn(bodies, x, i, wx, wy, wz, own);
  distance(bodies.list[i]!.shape, own[0]!, own[1]!, own[2]!, out);
  const nx = out[1]!,
    ny = out[2]!,
    nz = out[3]!;
  out[1] = R[0]! * nx + R[1]! * ny + R[2]! * nz;
  out[2] = R[3]! * nx + R[4]! * ny + R[5]! * nz;
  out[3] = R[6]! * nx + R[7]! * ny + R[8]! * nz;
}
