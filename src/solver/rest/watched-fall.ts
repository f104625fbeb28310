import { activateContacts, findContacts, limitStep, updateAnchors } from '../contact-state.ts';
import { predictStress } from '../elastic/action.ts';
import { findingDirection, type StepResult } from '../newton.ts';
import { createSystem, forces, type System, type SystemOptions } from '../system.ts';
import type { Formulation, Model } from '../types.ts';
import { toEnd, type Work } from '../work.ts';
import { handOn } from './hand.ts';
import { capStep } from './pseudo-transient.ts';

/** Damping by the air when a fall is watched, 1/s. */
const DRAG = 0.5;

/** A Newton step smaller than this, m, ends a time step's iterations; how far CG solves each, over the force. */
const ENOUGH = 5e-5;
const CG = 0.03;

function largest(d: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < d.length; i++) if (Math.abs(d[i]!) > worst) worst = Math.abs(d[i]!);
  return worst;
}

interface FallStep {
  readonly x: Float64Array;
  readonly speed: number;
  readonly iterations: number;
  readonly exact: boolean;
}

/** A sheet in motion: real masses, one Newton step of implicit Euler per frame. */
export interface Fall {
  readonly sys: System;
  /** Advances by dt (default 1/60 s). Returns positions (3n, the working array) and the largest speed, m/s. */
  step(dt?: number): FallStep;
  /** The same in steps of its own. */ stepping(dt?: number): Work<FallStep>;
  /** Takes hold of a point, or moves the hand that has one to another place, m; null lets go. */
  hold(vertex: number, at: readonly [number, number, number] | null): void;
  readonly x: Float64Array;
}

export interface FallOptions {
  /** Default arc-corrected. */ readonly formulation?: Formulation;
  /** Newton iterations a step. One is enough to watch; three, with the predicted stress carried from one to the next, keep the true speed
   * (one alone is held back by the sheet's in-plane stiffness: measured 3.5 s instead of 0.5 s for a soft tote to go down). */
  readonly iterations?: number;
  /** 1/s */ readonly drag?: number;
  /** m; default ENOUGH. */ readonly enough?: number;
  /** Default CG. */ readonly cg?: number;
}

/**
 * Motion of the model from x0 (copied): M (x - x_old - dt v)/dt^2 + drag + forces(x) = 0 by one Newton step a frame, projected only
 * when the exact Hessian is not positive. For watching; a verdict comes from standing().
 */
export const createFall = (model: Model, x0: Float64Array, options: FallOptions & SystemOptions = {}): Fall =>
  fallOf(createSystem(model, options), x0, options);

/** The same over a system at hand (its friction anchors go on from where they are). */
export function fallOf(sys: System, x0: Float64Array, options: FallOptions = {}): Fall {
  const { model } = sys,
    N = x0.length,
    formulation = options.formulation ?? 'arc-corrected',
    iterations = options.iterations ?? 1,
    drag = options.drag ?? DRAG,
    enough = options.enough ?? ENOUGH,
    cg = options.cg ?? CG;
  const x = x0.slice(),
    v = new Float64Array(N),
    g = new Float64Array(N),
    d = new Float64Array(N);
  const from = new Float64Array(N),
    predicted = new Float64Array(3 * sys.el.sheet.m);
  findContacts(sys, x);
  updateAnchors(sys, x);
  function* stepping(dt = 1 / 60): Work<FallStep> {
    const inertia = 1 / (dt * dt) + drag / dt;
    from.set(x);
    let usePrediction = false,
      spent = 0,
      positive = false;
    for (let it = 0; it < iterations; it++) {
      forces(sys, x, g, formulation);
      for (let i = 0; i < N; i++) {
        const vertex = (i / 3) | 0;
        if (!model.held[vertex]) g[i] = g[i]! + model.mass[vertex]! * (inertia * (x[i]! - from[i]!) - v[i]! / dt);
      }
      const step: StepResult = yield* findingDirection(sys, g, d, {
        massFactor: inertia,
        predicted: usePrediction ? predicted : null,
        tolerance: cg,
        positive,
      });
      if (!step.ok) break;
      // Tried exact first in every time step (projected-only freezes buckling); once it failed, it would fail again a moment later.
      positive = step.projected;
      const whole = capStep(d, 0.02) === 1;
      limitStep(sys, x, d);
      if (it + 1 < iterations) {
        predictStress(sys.el, d, predicted);
        usePrediction = whole;
      }
      for (let i = 0; i < N; i++) x[i] = x[i]! + d[i]!;
      activateContacts(sys, x);
      spent++;
      if (largest(d) < enough) break;
    }
    let speed = 0;
    for (let i = 0; i < N; i++) {
      v[i] = (x[i]! - from[i]!) / dt;
      if (Math.abs(v[i]!) > speed) speed = Math.abs(v[i]!);
    }
    updateAnchors(sys, x);
    return { x, speed, iterations: spent, exact: !positive };
  }
  return {
    sys,
    x,
    hold(vertex, at) {
      sys.hand = at && handOn(vertex, at, sys.meanWeight * (sys.bodies?.sheet ?? model.vertexCount));
    },
    step: (dt) => toEnd(stepping(dt)),
    stepping,
  };
}
