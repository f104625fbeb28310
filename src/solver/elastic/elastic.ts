import type { Model } from '../types.ts';
import { type Angles, addAngleAction, addAngleForces, angleRates, computeAngles, createAngles } from './angles.ts';
import { phi, phi1, phi2 } from './arc.ts';
import { applyCords, type CordState, createCords, evaluateCords, lineariseCords, predictCords } from './cords.ts';
import { buildSheet, type Sheet } from './sheet.ts';
import { factoriseSlaves, type SlaveSolve } from './slaves.ts';
import { addEdgeStrains, addStretchAction, addStretchForces, gradients, greenStrains, projectStress, strainRates, stresses } from './stretch.ts';
import { addTaut, addTautRates, createTaut, type TautState, tautRates } from './taut.ts';

/** Working arrays of the sheet's energy; mutated by evaluate, linearise and apply below. */
export interface Elastic {
  readonly model: Model;
  readonly sheet: Sheet;
  readonly solveSlaves: SlaveSolve;
  readonly seams: readonly (readonly [hinge: number, y1: number, y2: number])[];
  /** true: edge lengths carry the arc correction (see arc.ts). Switched off for crumpled states, where edges bend past what an arc means. */ arcs: boolean;
  readonly angles: Angles;
  /** 6m deformation gradient columns F1 F2 */ readonly F: Float64Array;
  /** 3m strain and stress (Voigt 11, 22, 12; strain 12 doubled) */ readonly strain: Float64Array;
  readonly stress: Float64Array;
  /** H + C moments conjugate to the angles, N*m */ readonly moment: Float64Array;
  /** 3m averaged arc turns y_e */ readonly turnOf: Float64Array;
  /** Linearisation: stress and moments of the geometric stiffness, tau, phi', phi'' */
  readonly geoStress: Float64Array;
  readonly geoMoment: Float64Array;
  readonly tau: Float64Array;
  readonly slope: Float64Array;
  readonly bendSlope: Float64Array;
  /** Layers with ease, or null. */ readonly taut: TautState | null;
  /** Straps, or null. */ readonly cords: CordState | null;
  readonly scratch: Scratch;
}

interface Scratch {
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly rhs: Float64Array;
  readonly alpha: Float64Array;
  readonly c: Float64Array;
  readonly own: Float64Array;
  readonly rate: Float64Array;
  readonly dMoment: Float64Array;
  readonly dStress: Float64Array;
  readonly dTurn: Float64Array;
  /** 6m: gradient columns of a displacement */ readonly dF: Float64Array;
}

/** Sets up the energy of a model. One sparse scalar factorisation; no positions yet. */
export function createElastic(model: Model, arcs: boolean): Elastic {
  const sheet = buildSheet(model);
  const seams: [number, number, number][] = [];
  for (let h = 0; h < sheet.hinges; h++) {
    if (!(sheet.seamSpring[h]! > 0)) continue;
    const y1 = sheet.slaveOf[3 * model.hingeTris[2 * h]! + model.hingeLocal[2 * h]!]!;
    const y2 = sheet.slaveOf[3 * model.hingeTris[2 * h + 1]! + model.hingeLocal[2 * h + 1]!]!;
    seams.push([h, y1, y2]);
  }
  const solveSlaves = factoriseSlaves(
    sheet,
    seams.map(([h, i, j]) => [i, j, sheet.seamSpring[h]!] as const),
  );
  const m3 = 3 * sheet.m,
    A = sheet.hinges + sheet.clamps,
    f = (k: number) => new Float64Array(k);
  return {
    model,
    sheet,
    solveSlaves,
    seams,
    arcs,
    angles: createAngles(sheet.hinges, sheet.clamps),
    F: f(2 * m3),
    strain: f(m3),
    stress: f(m3),
    moment: f(A),
    turnOf: f(m3),
    geoStress: f(m3),
    geoMoment: f(A),
    tau: f(m3),
    slope: f(m3),
    bendSlope: f(m3),
    taut: model.taut ? createTaut(model.taut) : null,
    cords: model.cords ? createCords(model.cords) : null,
    scratch: {
      y: f(sheet.slaves),
      z: f(sheet.slaves),
      rhs: f(sheet.slaves),
      alpha: f(m3),
      c: f(m3),
      own: f(m3),
      rate: f(A),
      dMoment: f(A),
      dStress: f(m3),
      dTurn: f(m3),
      dF: f(2 * m3),
    },
  };
}

/** rhs = -(d/dy of the bending energy at y = 0 for these angles); rest angles enter only for the state itself. */
function slaveLoad(el: Elastic, theta: Float64Array, withRest: boolean): void {
  const { sheet } = el,
    { K, angleOf, angleCoef, slaveOf, slaveCoef } = sheet,
    rhs = el.scratch.rhs;
  rhs.fill(0);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      k = 9 * t;
    const i0 = angleOf[q]!,
      i1 = angleOf[q + 1]!,
      i2 = angleOf[q + 2]!;
    const a0 = i0 < 0 ? 0 : angleCoef[q]! * theta[i0]!,
      a1 = i1 < 0 ? 0 : angleCoef[q + 1]! * theta[i1]!,
      a2 = i2 < 0 ? 0 : angleCoef[q + 2]! * theta[i2]!;
    const y0 = slaveOf[q]!,
      y1 = slaveOf[q + 1]!,
      y2 = slaveOf[q + 2]!;
    if (y0 >= 0) rhs[y0] = rhs[y0]! - slaveCoef[q]! * (K[k]! * a0 + K[k + 1]! * a1 + K[k + 2]! * a2);
    if (y1 >= 0) rhs[y1] = rhs[y1]! - slaveCoef[q + 1]! * (K[k + 3]! * a0 + K[k + 4]! * a1 + K[k + 5]! * a2);
    if (y2 >= 0) rhs[y2] = rhs[y2]! - slaveCoef[q + 2]! * (K[k + 6]! * a0 + K[k + 7]! * a1 + K[k + 8]! * a2);
  }
  for (const [h, i, j] of el.seams) {
    const v = sheet.seamSpring[h]! * (theta[h]! - (withRest ? el.model.hingeRest[h]! : 0));
    rhs[i] = rhs[i]! + v;
    rhs[j] = rhs[j]! + v;
  }
}

/** alpha = a theta + s y for all triangle edges. */
function turns(sheet: Sheet, theta: Float64Array, y: Float64Array, alpha: Float64Array): void {
  const { angleOf, angleCoef, slaveOf, slaveCoef } = sheet;
  for (let q = 0; q < alpha.length; q++) {
    const i = angleOf[q]!,
      j = slaveOf[q]!;
    alpha[q] = (i < 0 ? 0 : angleCoef[q]! * theta[i]!) + (j < 0 ? 0 : slaveCoef[q]! * y[j]!);
  }
}

/** Averaged arc turns: out = w own + (1 - w) partner, own = R alpha per triangle. */
function arcTurns(el: Elastic, alpha: Float64Array, out: Float64Array): void {
  const { sheet } = el,
    { R, partner, ownWeight } = sheet,
    own = el.scratch.own;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      r = 9 * t,
      a = alpha[q]!,
      b = alpha[q + 1]!,
      c = alpha[q + 2]!;
    own[q] = R[r]! * a + R[r + 1]! * b + R[r + 2]! * c;
    own[q + 1] = R[r + 3]! * a + R[r + 4]! * b + R[r + 5]! * c;
    own[q + 2] = R[r + 6]! * a + R[r + 7]! * b + R[r + 8]! * c;
  }
  for (let q = 0; q < out.length; q++) {
    const p = partner[q]!;
    out[q] = p < 0 ? own[q]! : ownWeight[q]! * own[q]! + (1 - ownWeight[q]!) * own[p]!;
  }
}

/** c_alpha = R^T (w * v) per triangle: carries forces on averaged turns back to the turns alpha. */
function arcTurnsTransposed(el: Elastic, v: Float64Array, c: Float64Array): void {
  const { sheet } = el,
    { R, ownWeight } = sheet;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      r = 9 * t;
    const a = ownWeight[q]! * v[q]!,
      b = ownWeight[q + 1]! * v[q + 1]!,
      d = ownWeight[q + 2]! * v[q + 2]!;
    c[q] = R[r]! * a + R[r + 3]! * b + R[r + 6]! * d;
    c[q + 1] = R[r + 1]! * a + R[r + 4]! * b + R[r + 7]! * d;
    c[q + 2] = R[r + 2]! * a + R[r + 5]! * b + R[r + 8]! * d;
  }
}

/** tau_e = sum over the edge's triangles of A M_k . S; the same value on both. */
function edgeTension(sheet: Sheet, stress: Float64Array, own: Float64Array, tau: Float64Array): void {
  const { M, area, partner } = sheet;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      r = 9 * t,
      A = area[t]!,
      s0 = A * stress[q]!,
      s1 = A * stress[q + 1]!,
      s2 = A * stress[q + 2]!;
    own[q] = M[r]! * s0 + M[r + 3]! * s1 + M[r + 6]! * s2;
    own[q + 1] = M[r + 1]! * s0 + M[r + 4]! * s1 + M[r + 7]! * s2;
    own[q + 2] = M[r + 2]! * s0 + M[r + 5]! * s1 + M[r + 8]! * s2;
  }
  for (let q = 0; q < tau.length; q++) {
    const p = partner[q]!;
    tau[q] = p < 0 ? own[q]! : own[q]! + own[p]!;
  }
}

/** moment = a^T (K (a theta + s u) + c) + seam springs; u = y - z. `withRest` as in slaveLoad. */
function moments(el: Elastic, theta: Float64Array, u: Float64Array, c: Float64Array | null, withRest: boolean, moment: Float64Array): void {
  const { sheet } = el,
    { K, angleOf, angleCoef } = sheet,
    alpha = el.scratch.alpha;
  turns(sheet, theta, u, alpha);
  moment.fill(0);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      k = 9 * t,
      a = alpha[q]!,
      b = alpha[q + 1]!,
      d = alpha[q + 2]!;
    const i0 = angleOf[q]!,
      i1 = angleOf[q + 1]!,
      i2 = angleOf[q + 2]!;
    if (i0 >= 0) moment[i0] = moment[i0]! + angleCoef[q]! * (K[k]! * a + K[k + 1]! * b + K[k + 2]! * d + (c ? c[q]! : 0));
    if (i1 >= 0) moment[i1] = moment[i1]! + angleCoef[q + 1]! * (K[k + 3]! * a + K[k + 4]! * b + K[k + 5]! * d + (c ? c[q + 1]! : 0));
    if (i2 >= 0) moment[i2] = moment[i2]! + angleCoef[q + 2]! * (K[k + 6]! * a + K[k + 7]! * b + K[k + 8]! * d + (c ? c[q + 2]! : 0));
  }
  for (const [h, i, j] of el.seams) moment[h] = moment[h]! + sheet.seamSpring[h]! * (theta[h]! - (withRest ? el.model.hingeRest[h]! : 0) - u[i]! - u[j]!);
}

/**
 * Energies at x (3n) and, when g (3n) is given, the gradient ADDED to g. Mutates el's state arrays; call before linearise.
 * stretch = sum A/2 E:C:E, bend = sum A/2 kappa:D:kappa + 1/2 k (theta - theta0 - turns)^2, J.
 */
export function evaluate(el: Elastic, x: Float64Array, g: Float64Array | null): { stretch: number; bend: number } {
  const { model, sheet, angles, stress, strain } = el,
    s = el.scratch;
  computeAngles(model, x, angles);
  slaveLoad(el, angles.theta, true);
  el.solveSlaves(s.rhs, s.y);
  turns(sheet, angles.theta, s.y, s.alpha);
  let bend = 0,
    stretch = 0;
  const K = sheet.K,
    alpha = s.alpha;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      k = 9 * t,
      a = alpha[q]!,
      b = alpha[q + 1]!,
      c = alpha[q + 2]!;
    bend += 0.5 * (K[k]! * a * a + K[k + 4]! * b * b + K[k + 8]! * c * c) + K[k + 1]! * a * b + K[k + 2]! * a * c + K[k + 5]! * b * c;
  }
  for (const [h, i, j] of el.seams) {
    const gap = angles.theta[h]! - model.hingeRest[h]! - s.y[i]! - s.y[j]!;
    bend += 0.5 * sheet.seamSpring[h]! * gap * gap;
  }
  gradients(sheet, x, el.F);
  greenStrains(el.F, strain);
  if (el.arcs) {
    arcTurns(el, alpha, el.turnOf);
    for (let q = 0; q < s.c.length; q++) s.c[q] = phi(el.turnOf[q]!);
    addEdgeStrains(sheet, s.c, strain);
  }
  stresses(sheet, strain, stress);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t;
    stretch += 0.5 * sheet.area[t]! * (strain[q]! * stress[q]! + strain[q + 1]! * stress[q + 1]! + strain[q + 2]! * stress[q + 2]!);
  }
  if (el.taut) stretch += addTaut(el.taut, sheet.area, strain, stress);
  if (el.cords) stretch += evaluateCords(el.cords, x, g);
  if (g) {
    edgeMoments(el, stress, el.moment);
    addAngleForces(model, angles, el.moment, g);
    addStretchForces(sheet, el.F, stress, g);
  }
  return { stretch, bend };
}

/** Moments conjugate to the angles for the current angles and a given stress; keeps tau and phi' for the linearisation. */
function edgeMoments(el: Elastic, stress: Float64Array, moment: Float64Array): void {
  const { sheet, angles } = el,
    s = el.scratch;
  if (!el.arcs) {
    moments(el, angles.theta, s.y, null, true, moment);
    return;
  }
  edgeTension(sheet, stress, s.own, el.tau);
  for (let q = 0; q < el.tau.length; q++) {
    el.slope[q] = phi1(el.turnOf[q]!);
    s.dTurn[q] = el.tau[q]! * el.slope[q]!;
  }
  arcTurnsTransposed(el, s.dTurn, s.c);
  solveTransposed(el, s.c, s.z);
  for (let i = 0; i < s.z.length; i++) s.z[i] = s.y[i]! - s.z[i]!;
  moments(el, angles.theta, s.z, s.c, true, moment);
}

/** z = A_yy^-1 s^T c: the adjoint of the slave elimination. */
function solveTransposed(el: Elastic, c: Float64Array, z: Float64Array): void {
  const { slaveOf, slaveCoef } = el.sheet,
    rhs = el.scratch.rhs;
  rhs.fill(0);
  for (let q = 0; q < c.length; q++) {
    const i = slaveOf[q]!;
    if (i >= 0) rhs[i] = rhs[i]! + slaveCoef[q]! * c[q]!;
  }
  el.solveSlaves(rhs, z);
}

/**
 * Fixes the geometric stiffness for apply() and assemble() after an evaluate() with gradient.
 * `predicted` (3m, or null for the actual stress): the mixed-integration-point stress (Magisano, Leonetti, Garcea 2017).
 * `positive`: project so that the action has no negative curvature (compressive stress, moments and tau'' dropped).
 */
export function linearise(el: Elastic, predicted: Float64Array | null, positive: boolean): void {
  const { geoStress, geoMoment, tau, bendSlope, sheet, turnOf } = el;
  geoStress.set(predicted ?? el.stress);
  if (el.cords) lineariseCords(el.cords, predicted !== null, positive);
  if (el.arcs) {
    if (predicted) edgeTension(sheet, predicted, el.scratch.own, tau);
    for (let q = 0; q < tau.length; q++) bendSlope[q] = positive && tau[q]! < 0 ? 0 : tau[q]! * phi2(turnOf[q]!);
  }
  if (positive) {
    geoMoment.fill(0);
    projectStress(geoStress);
  } else geoMoment.set(el.moment);
}

/** out += H dx, the action of the exact Hessian (of the linearisation) on dx (3n). Two scalar sparse solves with arcs, one without. */
export function apply(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { model, sheet, angles } = el,
    s = el.scratch;
  angleRates(model, angles, dx, s.rate);
  slaveLoad(el, s.rate, false);
  el.solveSlaves(s.rhs, s.y);
  gradients(sheet, dx, s.dF);
  strainRates(el.F, s.dF, s.dStress);
  let c: Float64Array | null = null;
  if (el.arcs) addArcRates(el, s.dStress);
  stressRates(el, s.dStress);
  addStretchAction(el, s.dF, s.dStress, out);
  if (el.arcs) {
    edgeTension(sheet, s.dStress, s.own, s.alpha);
    for (let q = 0; q < s.c.length; q++) s.dTurn[q] = s.alpha[q]! * el.slope[q]! + el.bendSlope[q]! * s.dTurn[q]!;
    arcTurnsTransposed(el, s.dTurn, s.c);
    solveTransposed(el, s.c, s.z);
    for (let i = 0; i < s.z.length; i++) s.y[i] = s.y[i]! - s.z[i]!;
    c = s.c;
  }
  moments(el, s.rate, s.y, c, false, s.dMoment);
  addAngleAction(model, angles, el.geoMoment, s.dMoment, dx, out);
  if (el.cords) applyCords(el.cords, dx, out);
}

/** Strain rates to stress rates in place (3m). */
function stressRates(el: Elastic, rates: Float64Array): void {
  if (el.taut) tautRates(el.taut, rates);
  stresses(el.sheet, rates, rates);
  if (el.taut) addTautRates(el.taut, rates);
}

/** out += M phi' dy: what the turning edges add to the strain rates. Angle rates and their slaves must stand in the scratch; keeps dy in dTurn. */
function addArcRates(el: Elastic, out: Float64Array): void {
  const s = el.scratch;
  turns(el.sheet, s.rate, s.y, s.alpha);
  arcTurns(el, s.alpha, s.dTurn);
  for (let q = 0; q < s.c.length; q++) s.c[q] = el.slope[q]! * s.dTurn[q]!;
  addEdgeStrains(el.sheet, s.c, out);
}

/** Strain rates with the arc part, then predicted stress = stress + C dE (3m): the mixed-integration-point predictor. */
export function predictStress(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { sheet } = el,
    s = el.scratch;
  gradients(sheet, dx, s.dF);
  strainRates(el.F, s.dF, out);
  if (el.arcs) {
    angleRates(el.model, el.angles, dx, s.rate);
    slaveLoad(el, s.rate, false);
    el.solveSlaves(s.rhs, s.y);
    addArcRates(el, out);
  }
  stressRates(el, out);
  for (let q = 0; q < out.length; q++) out[q] = out[q]! + el.stress[q]!;
  if (el.cords) predictCords(el.cords, dx);
}
