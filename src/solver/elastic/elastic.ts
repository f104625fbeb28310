import type { Model } from '../types.ts';
import { type Angles, addSpread, computeAngles, createAngles } from './angles.ts';
import { phi, phi1, phi2 } from './arc.ts';
import { type Arcs, assembleArcs, createArcs } from './arcs.ts';
import { type Bending, type Bent, createBending, momentsUnder, slavesOf } from './bending.ts';
import { type CordState, createCords, evaluateCords, lineariseCords } from './cords.ts';
import { times } from './rows.ts';
import { buildSheet, type Sheet } from './sheet.ts';
import { assembleShell, createShell, type Shell } from './shell.ts';
import { addEdgeStrains, addStretchForces, edgeTension, gradients, greenStrains, projectStress, stresses, tangents } from './stretch.ts';
import { addTaut, createTaut, type TautState } from './tension-only.ts';

/** Working arrays of the sheet's energy; mutated by evaluate and linearise below and by apply (action.ts). A angles, Y slaves, E edges: see bending.ts. */
export interface Elastic {
  readonly model: Model;
  readonly sheet: Sheet;
  readonly bending: Bending;
  /** true: edge lengths carry the arc correction (see arc.ts). Switched off for crumpled states, where edges bend past what an arc means. */ arcs: boolean;
  readonly angles: Angles;
  /** 6m deformation gradient columns F1 F2 */ readonly F: Float64Array;
  /** 3m strain and stress (Voigt 11, 22, 12; strain 12 doubled) */ readonly strain: Float64Array;
  readonly stress: Float64Array;
  /** A moments conjugate to the angles, N*m */ readonly moment: Float64Array;
  /** E averaged arc turns y_e */ readonly turnOf: Float64Array;
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
  /** Layers with ease, or null. */ readonly taut: TautState | null;
  /** Straps, or null. */ readonly cords: CordState | null;
  readonly scratch: Scratch;
}

interface Scratch extends Bent {
  /** A: the angles of `bent`. */ readonly phi: Float64Array;
  /** Y */ readonly load: Float64Array;
  /** A */ readonly moment: Float64Array;
  /** E */ readonly edge: Float64Array;
  readonly pull: Float64Array;
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
  const bending = createBending(sheet, model.hingeRest, seams),
    cords = model.cords ? createCords(model.cords) : null;
  const m3 = 3 * sheet.m,
    A = bending.angles,
    E = bending.edges,
    f = (k: number) => new Float64Array(k);
  const bent = f(A + bending.slaves),
    back = f(A + bending.slaves);
  return {
    model,
    sheet,
    bending,
    arcs,
    angles: createAngles(model),
    F: f(2 * m3),
    strain: f(m3),
    stress: f(m3),
    moment: f(A),
    turnOf: f(E),
    geoStress: f(m3),
    geoMoment: f(A),
    tau: f(E),
    slope: f(E),
    bendSlope: f(E),
    tangent: f(2 * m3),
    shell: createShell(model, sheet, cords),
    coupling: createArcs(sheet, bending),
    taut: model.taut ? createTaut(model.taut) : null,
    cords,
    scratch: {
      bent,
      phi: bent.subarray(0, A),
      y: bent.subarray(A),
      back,
      backAngles: back.subarray(0, A),
      backSlaves: back.subarray(A),
      load: f(bending.slaves),
      z: f(bending.slaves),
      moment: f(A),
      edge: f(E),
      pull: f(E),
      dF: f(2 * m3),
    },
  };
}

/**
 * Energies at x (3n) and, when g (3n) is given, the gradient ADDED to g. Mutates el's state arrays; call before linearise.
 * stretch = sum A/2 E:C:E, bend = sum A/2 kappa:D:kappa + 1/2 k (theta - theta0 - turns)^2, J.
 */
export function evaluate(el: Elastic, x: Float64Array, g: Float64Array | null): { stretch: number; bend: number } {
  const { model, sheet, bending, angles, stress, strain, moment } = el,
    s = el.scratch;
  computeAngles(model, x, angles);
  for (let k = 0; k < s.phi.length; k++) s.phi[k] = angles.theta[k]! - bending.rest[k]!;
  slavesOf(bending, s.phi, s.load, s.y);
  times(bending.moment, 1, s.bent, moment);
  let bend = 0,
    stretch = 0;
  for (let k = 0; k < moment.length; k++) bend += 0.5 * s.phi[k]! * moment[k]!;
  gradients(sheet, x, el.F);
  greenStrains(el.F, strain);
  if (el.arcs) {
    times(bending.arc, 1, s.bent, el.turnOf);
    for (let e = 0; e < s.edge.length; e++) s.edge[e] = phi(el.turnOf[e]!);
    addEdgeStrains(sheet, bending.edgeOf, s.edge, strain);
  }
  stresses(sheet, strain, stress);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t;
    stretch += 0.5 * sheet.area[t]! * (strain[q]! * stress[q]! + strain[q + 1]! * stress[q + 1]! + strain[q + 2]! * stress[q + 2]!);
  }
  if (el.taut) stretch += addTaut(el.taut, sheet.area, strain, stress);
  if (el.cords) stretch += evaluateCords(el.cords, x, g);
  if (g) {
    if (el.arcs) addArcMoments(el);
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
  for (let e = 0; e < s.pull.length; e++) {
    el.slope[e] = phi1(el.turnOf[e]!);
    s.pull[e] = el.tau[e]! * el.slope[e]!;
  }
  momentsUnder(bending, s, s.pull, moment);
}

/**
 * Fixes the geometric stiffness for apply() and assembleMatrix() after an evaluate() with gradient, and assembles what they are made of.
 * `predicted` (3m, or null for the actual stress): the mixed-integration-point stress (Magisano, Leonetti, Garcea 2017).
 * `positive`: project so that the action has no negative curvature (compressive stress, moments and tau'' dropped).
 */
export function linearise(el: Elastic, predicted: Float64Array | null, positive: boolean): void {
  const { geoStress, geoMoment, tau, bendSlope, turnOf } = el;
  geoStress.set(predicted ?? el.stress);
  if (el.cords) lineariseCords(el.cords, predicted !== null, positive);
  if (el.arcs) {
    if (predicted) edgeTension(el.sheet, el.bending.edgeOf, predicted, tau);
    for (let e = 0; e < tau.length; e++) bendSlope[e] = positive && tau[e]! < 0 ? 0 : tau[e]! * phi2(turnOf[e]!);
  }
  if (positive) {
    geoMoment.fill(0);
    projectStress(geoStress);
  } else geoMoment.set(el.moment);
  tangents(el.sheet, el.taut, el.tangent);
  assembleShell(el);
  if (el.arcs) assembleArcs(el);
}
