import { analysing } from '../sparse/index.ts';
import type { Formulation, Model } from '../types.ts';
import { toEnd, type Work } from '../work.ts';
import { type Angles, addSpread, computeAngles, createAngles } from './angles.ts';
import { phi, phi1, phi2 } from './arc.ts';
import { type Arcs, assembleArcs, createArcs } from './arcs.ts';
import { type Bending, type BendingScratch, condensedFor, creatingBending, momentsWithArcs } from './bending.ts';
import { type CableState, createCables, evaluateCables, lineariseCables } from './cables.ts';
import { type CordState, createCords } from './cords.ts';
import { createRods, evaluateRods, lineariseRods, type RodState } from './rods.ts';
import { times } from './rows.ts';
import { buildSheet, type Sheet } from './sheet.ts';
import { assembleShell, createShell, type Shell } from './shell.ts';
import { addEdgeStrains, addStretchForces, edgeTension, gradients, greenStrains, projectStress, stresses, tangents } from './stretch.ts';
import { addTensionOnly, createTensionOnly, type TensionOnlyState } from './tension-only.ts';

/** Working arrays of the sheet's energy; mutated by evaluate and linearise below and by apply (action.ts). A angles, Y condensed, E edges: see bending.ts. */
export interface Elastic {
  readonly model: Model;
  readonly sheet: Sheet;
  readonly bending: Bending;
  /** Formulation of the last evaluation, which alone sets it; what is linearised and applied next follows it. */ formulation: Formulation;
  readonly angles: Angles;
  /** 6m deformation gradient columns F1 F2 */ readonly F: Float64Array;
  /** 3m strain and stress (Voigt 11, 22, 12; strain 12 doubled) */ readonly strain: Float64Array;
  readonly stress: Float64Array;
  /** A moments conjugate to the angles, N*m */ readonly moment: Float64Array;
  /** E averaged arc angles y_e */ readonly arcAngle: Float64Array;
  /** Linearisation: stress and moments of the geometric stiffness, tau, phi', tau phi'' */
  readonly geoStress: Float64Array;
  readonly geoMoment: Float64Array;
  readonly tau: Float64Array;
  readonly slope: Float64Array;
  readonly bendSlope: Float64Array;
  /** 6m area x in-plane stiffness C11 C22 C12 C66 C16 C26, layers that are taut included, N*m */ readonly tangent: Float64Array;
  /** What the linearisation comes to in numbers. */
  readonly shell: Shell;
  readonly coupling: Arcs;
  /** Layers with ease, or null. */ readonly tensionOnly: TensionOnlyState | null;
  /** Straps, or null. */ readonly cables: CableState | null;
  /** Cords among them, or null. */ readonly cords: CordState | null;
  /** Rods, or null. */ readonly rods: RodState | null;
  readonly scratch: Scratch;
}

interface Scratch extends BendingScratch {
  /** A: the angles of `phiY`. */ readonly phi: Float64Array;
  /** Y */ readonly load: Float64Array;
  /** A */ readonly moment: Float64Array;
  /** E */ readonly edge: Float64Array;
  readonly arcMoment: Float64Array;
  /** 6m: gradient columns of a displacement */ readonly dF: Float64Array;
}

/** Sets up the energy of a model. One sparse scalar factorisation; no positions yet. */
export const createElastic = (model: Model): Elastic => toEnd(creatingElastic(model));

/** The same in steps. */
export function* creatingElastic(model: Model): Work<Elastic> {
  const sheet = buildSheet(model);
  yield;
  const seams: [number, number, number][] = [];
  for (let h = 0; h < sheet.hinges; h++) {
    if (!(sheet.seamSpring[h]! > 0)) continue;
    const y1 = sheet.condensedOf[3 * model.hingeTris[2 * h]! + model.hingeLocal[2 * h]!]!;
    const y2 = sheet.condensedOf[3 * model.hingeTris[2 * h + 1]! + model.hingeLocal[2 * h + 1]!]!;
    seams.push([h, y1, y2]);
  }
  const cables = model.cables ? createCables(model.cables) : null,
    rods = model.rods ? createRods(model.rods) : null,
    shell = createShell(model, sheet, cables, rods);
  yield;
  // The matrix needs the same analysis, and finds it done.
  const { perm } = yield* analysing(shell.pattern);
  yield;
  const bending = yield* creatingBending(sheet, model.hingeRest, seams, perm);
  yield;
  const m3 = 3 * sheet.m,
    A = bending.angles,
    E = bending.edges,
    f = (k: number) => new Float64Array(k);
  const phiY = f(A + bending.condensed),
    adjoint = f(A + bending.condensed);
  return {
    model,
    sheet,
    bending,
    formulation: 'plain',
    angles: createAngles(model),
    F: f(2 * m3),
    strain: f(m3),
    stress: f(m3),
    moment: f(A),
    arcAngle: f(E),
    geoStress: f(m3),
    geoMoment: f(A),
    tau: f(E),
    slope: f(E),
    bendSlope: f(E),
    tangent: f(2 * m3),
    shell,
    coupling: createArcs(sheet, bending),
    tensionOnly: model.tensionOnly ? createTensionOnly(model.tensionOnly) : null,
    cables,
    cords: createCords(model, cables),
    rods,
    scratch: {
      phiY,
      phi: phiY.subarray(0, A),
      y: phiY.subarray(A),
      adjoint,
      adjointAngles: adjoint.subarray(0, A),
      adjointCondensed: adjoint.subarray(A),
      load: f(bending.condensed),
      z: f(bending.condensed),
      moment: f(A),
      edge: f(E),
      arcMoment: f(E),
      dF: f(2 * m3),
    },
  };
}

/**
 * Energies at x (3n) and, when g (3n) is given, the gradient ADDED to g. Mutates el's state arrays; call before linearise.
 * stretch = sum A/2 E:C:E, bend = sum A/2 kappa:D:kappa + 1/2 k (theta - theta0 - rotations beside the seam)^2, J.
 */
export function evaluate(el: Elastic, x: Float64Array, g: Float64Array | null, formulation: Formulation): { stretch: number; bend: number } {
  const { model, sheet, bending, angles, stress, strain, moment } = el,
    s = el.scratch;
  el.formulation = formulation;
  computeAngles(model, x, angles);
  for (let k = 0; k < s.phi.length; k++) s.phi[k] = angles.theta[k]! - bending.rest[k]!;
  condensedFor(bending, s.phi, s.load, s.y);
  times(bending.moment, 1, s.phiY, moment);
  let bend = 0,
    stretch = 0;
  for (let k = 0; k < moment.length; k++) bend += 0.5 * s.phi[k]! * moment[k]!;
  gradients(sheet, x, el.F);
  greenStrains(el.F, strain);
  if (formulation === 'arc-corrected') {
    times(bending.arc, 1, s.phiY, el.arcAngle);
    for (let e = 0; e < s.edge.length; e++) s.edge[e] = phi(el.arcAngle[e]!);
    addEdgeStrains(sheet, bending.edgeOf, s.edge, strain);
  }
  stresses(sheet, strain, stress);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t;
    stretch += 0.5 * sheet.area[t]! * (strain[q]! * stress[q]! + strain[q + 1]! * stress[q + 1]! + strain[q + 2]! * stress[q + 2]!);
  }
  if (el.tensionOnly) stretch += addTensionOnly(el.tensionOnly, sheet.area, strain, stress);
  if (el.cables) stretch += evaluateCables(el.cables, x, g);
  if (el.rods) {
    const own = evaluateRods(el.rods, x, g, formulation === 'arc-corrected');
    stretch += own.stretch;
    bend += own.bend;
  }
  if (g) {
    if (formulation === 'arc-corrected') addArcMoments(el);
    addSpread(angles.verts, angles.grad, moment, g);
    addStretchForces(sheet, el.F, stress, g);
  }
  return { stretch, bend };
}

/** el.moment += what the stress does to the angles through the arcs; keeps tau and phi' for the linearisation. */
function addArcMoments(el: Elastic): void {
  const { bending, moment } = el,
    s = el.scratch;
  edgeTension(el.sheet, bending.edgeOf, el.stress, el.tau);
  for (let e = 0; e < s.arcMoment.length; e++) {
    el.slope[e] = phi1(el.arcAngle[e]!);
    s.arcMoment[e] = el.tau[e]! * el.slope[e]!;
  }
  momentsWithArcs(bending, s, s.arcMoment, moment);
}

/**
 * Fixes the geometric stiffness for apply() and assembleMatrix() after an evaluate() with gradient, and assembles what they are made of.
 * `predicted` (3m, or null for the actual stress): the mixed-integration-point stress (Magisano, Leonetti, Garcea 2017).
 * `positive`: project so that the action has no negative curvature (compressive stress, moments and tau'' dropped).
 */
export function linearise(el: Elastic, predicted: Float64Array | null, positive: boolean): void {
  const { geoStress, geoMoment, tau, bendSlope, arcAngle } = el;
  geoStress.set(predicted ?? el.stress);
  if (el.cables) lineariseCables(el.cables, predicted !== null, positive);
  if (el.rods) lineariseRods(el.rods, predicted !== null, positive);
  if (el.formulation === 'arc-corrected') {
    if (predicted) edgeTension(el.sheet, el.bending.edgeOf, predicted, tau);
    for (let e = 0; e < tau.length; e++) bendSlope[e] = positive && tau[e]! < 0 ? 0 : tau[e]! * phi2(arcAngle[e]!);
  }
  if (positive) {
    geoMoment.fill(0);
    projectStress(geoStress);
  } else geoMoment.set(el.moment);
  tangents(el.sheet, el.tensionOnly, el.tangent);
  assembleShell(el);
  if (el.formulation === 'arc-corrected') assembleArcs(el);
}
