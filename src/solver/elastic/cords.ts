import type { Cords } from '../types.ts';

/**
 * Cords: straight pieces that pull along their length, such as the stretches of a strap. Each end is a weighted mean of vertices, so an end can be
 * one vertex or a whole patch of cloth that shares the pull by its weights.
 * l = |b - a|, t = (b - a)/l, T = EA (l - L)/L, W = sum EA (l - L)^2 / (2 L). Pushed together they resist alike, so that a slack cord stays a
 * chain of pieces of their own length. Assumes small strain; an end's weights add up to 1.
 */
export interface CordState {
  readonly cords: Cords;
  readonly count: number;
  /** Vertices of each cord and the signed weights of (b - a) on them. */ readonly verts: Uint32Array;
  readonly sign: Float64Array;
  /** count + 1: where each cord's vertices begin. */ readonly start: Uint32Array;
  /** 3c unit vectors from a to b. */ readonly dir: Float64Array;
  /** Lengths, m, and pulls, N, at the last evaluation. */ readonly length: Float64Array;
  readonly tension: Float64Array;
  /** Pull predicted by the last step, and the one the linearisation uses. */ readonly predicted: Float64Array;
  readonly geometric: Float64Array;
}

export function createCords(cords: Cords): CordState {
  const count = cords.rest.length,
    f = (k: number) => new Float64Array(k);
  return {
    cords,
    count,
    verts: cords.verts,
    sign: cords.weights,
    start: cords.start,
    dir: f(3 * count),
    length: f(count),
    tension: f(count),
    predicted: f(count),
    geometric: f(count),
  };
}

/** b - a of cord c in the field x (positions or displacements), written to out. */
function across(s: CordState, c: number, x: Float64Array, out: [number, number, number]): void {
  let a = 0,
    b = 0,
    d = 0;
  for (let q = s.start[c]!; q < s.start[c + 1]!; q++) {
    const v = 3 * s.verts[q]!,
      w = s.sign[q]!;
    a += w * x[v]!;
    b += w * x[v + 1]!;
    d += w * x[v + 2]!;
  }
  out[0] = a;
  out[1] = b;
  out[2] = d;
}

function spread(s: CordState, c: number, fx: number, fy: number, fz: number, out: Float64Array): void {
  for (let q = s.start[c]!; q < s.start[c + 1]!; q++) {
    const v = 3 * s.verts[q]!,
      w = s.sign[q]!;
    out[v] = out[v]! + w * fx;
    out[v + 1] = out[v + 1]! + w * fy;
    out[v + 2] = out[v + 2]! + w * fz;
  }
}

/** Energy, J; adds the gradient to g (3n) and keeps directions and pulls. */
export function evaluateCords(s: CordState, x: Float64Array, g: Float64Array | null): number {
  const e: [number, number, number] = [0, 0, 0];
  let energy = 0;
  for (let c = 0; c < s.count; c++) {
    across(s, c, x, e);
    const l = Math.sqrt(e[0] * e[0] + e[1] * e[1] + e[2] * e[2]),
      L = s.cords.rest[c]!,
      T = (s.cords.stiffness[c]! * (l - L)) / L,
      i = l > 0 ? 1 / l : 0;
    s.length[c] = l;
    s.tension[c] = T;
    for (let k = 0; k < 3; k++) s.dir[3 * c + k] = e[k]! * i;
    energy += 0.5 * T * (l - L);
    if (g) spread(s, c, T * s.dir[3 * c]!, T * s.dir[3 * c + 1]!, T * s.dir[3 * c + 2]!, g);
  }
  return energy;
}

/** Pull that carries the geometric stiffness: predicted or actual; `positive` drops pushes. */
export function lineariseCords(s: CordState, predicted: boolean, positive: boolean): void {
  s.geometric.set(predicted ? s.predicted : s.tension);
  if (positive) for (let c = 0; c < s.count; c++) s.geometric[c] = Math.max(0, s.geometric[c]!);
}

/** Stiffness of cord c along its length and across it, N/m. */
const along = (s: CordState, c: number): number => s.cords.stiffness[c]! / s.cords.rest[c]!;
const cross = (s: CordState, c: number): number => s.geometric[c]! / Math.max(s.length[c]!, 1e-9);

/** out += H dx. */
export function applyCords(s: CordState, dx: Float64Array, out: Float64Array): void {
  const e: [number, number, number] = [0, 0, 0];
  for (let c = 0; c < s.count; c++) {
    across(s, c, dx, e);
    const tx = s.dir[3 * c]!,
      ty = s.dir[3 * c + 1]!,
      tz = s.dir[3 * c + 2]!,
      p = e[0] * tx + e[1] * ty + e[2] * tz,
      n = cross(s, c),
      a = (along(s, c) - n) * p;
    spread(s, c, a * tx + n * e[0], a * ty + n * e[1], a * tz + n * e[2], out);
  }
}

/** Pulls after the step dx, to first order. */
export function predictCords(s: CordState, dx: Float64Array): void {
  const e: [number, number, number] = [0, 0, 0];
  for (let c = 0; c < s.count; c++) {
    across(s, c, dx, e);
    s.predicted[c] = s.tension[c]! + along(s, c) * (e[0] * s.dir[3 * c]! + e[1] * s.dir[3 * c + 1]! + e[2] * s.dir[3 * c + 2]!);
  }
}

/** Pairs of vertices that a cord couples, each once per cord, with the product of their weights. */
export function eachCordPair(s: CordState, visit: (a: number, b: number, weight: number, cord: number) => void): void {
  for (let c = 0; c < s.count; c++)
    for (let q = s.start[c]!; q < s.start[c + 1]!; q++) for (let r = s.start[c]!; r <= q; r++) visit(s.verts[q]!, s.verts[r]!, s.sign[q]! * s.sign[r]!, c);
}

/** 9 numbers (symmetric): stiffness of cord c between its two ends. */
export function cordBlock(s: CordState, c: number, out: Float64Array): void {
  const n = cross(s, c),
    a = along(s, c) - n;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) out[3 * i + j] = a * s.dir[3 * c + i]! * s.dir[3 * c + j]! + (i === j ? n : 0);
}
