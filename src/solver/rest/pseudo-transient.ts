import { libm } from '../../numerics/index.ts';
import { activateContacts, findingContacts, limitStep, updateAnchors } from '../contact-state.ts';
import { predictStress } from '../elastic/action.ts';
import { pullCords } from '../elastic/cords.ts';
import { CG_LIMIT, findingDirection } from '../newton.ts';
import { type Energies, forces, residualOf, type System, unbalanced } from '../system.ts';
import type { Formulation, Status } from '../types.ts';
import { toEnd, type Work } from '../work.ts';

/** With rigid contents: pseudo-time step, s, down to which an exact Hessian that is not positive is asked for a shorter step before it is projected. */
const DT_MIN_EXACT = 0.05;
/**
 * Shortest pseudo-time step, s, at which a step that will not lower the energy ends the run. Nothing else ends it: a hung bag whose arcs CG cannot follow
 * was given up after twelve refusals, at 5e-3 s (residual 316), where the next shorter steps bring it to rest.
 */
const DT_MIN = 1e-7;
/** Longest pseudo-time step with rigid contents, s. */
const DT_MAX_BODIES = 100;
/**
 * Further Newton steps at the same pseudo-time step where one alone does not lower the energy. Where the sheet turns, a straight step strains it in its plane:
 * refused and shortened instead, steps shrank to what the in-plane stiffness allows, a hundredth of what bending does (0.01 s where 2 s go).
 */
const CORRECTIONS = 3;
/** Rise over the energies' size above which a step is corrected: smaller ones come from contacts that switch, which no correction helps. */
const CORRECT_ABOVE = 1e-5;
/** Reduction of a refused step; the next refusal in a row reduces by its square, and so on: a Newton step hardly feels the first ones. */
const REDUCTION = 0.3;
/**
 * Most iterations of CG on hung bags, near rest: doubled from CG_LIMIT on after each step that CG did not solve and that lowered the energy by less than SMALL_DECREASE of
 * its size. With 40 a lined crescent crept for 800 steps without arriving (3e-2); so it comes to rest after 406, and the market tote's ten hangings in half the time.
 */
const CG_LIMIT_HUNG = 640;
const SMALL_DECREASE = 1e-5;
/** What a step that CG solved takes off the count of those it did not. */
const SOLVED_CREDIT = 0.2;

/** Pseudo-time step, s, that a run on its way to rest has left behind soon: near it steps grow without bound. */
const SHORT_STEP = 0.1;

/** Residual below which cords that are not at their lengths are pulled on. */
const PULLED_BELOW = 1;

/** CG iterations over which a kept factor is made anew: as long as a factorisation takes. */
const CG_STALE = 8;

export interface PseudoTransientOptions {
  readonly formulation: Formulation;
  /** Stop when the residual (over the mean vertex weight) is below this. */ readonly tolerance: number;
  /** First pseudo-time step, s, its growth per accepted step and its largest value. */
  readonly dt: number;
  readonly grow: number;
  readonly dtMax: number;
  /** Largest movement of a vertex in one step, m. */ readonly cap: number;
  /** true: every step must lower the energy (monotone descent). false: mixed-integration-point Newton, trusted only near its start. */
  readonly monotone: boolean;
  readonly maxIterations: number;
  /**
   * Monotone steps: read the energy anew once friction anchors have followed. What slipped has then given energy away; compared with the energy before,
   * the next steps may climb by as much, and a slipping strap point chatters for ever.
   */
  readonly energyAfterFriction?: boolean;
  /** Monotone steps: correct a step that raises the energy by further ones at the same pseudo-time step, before it is refused. Default false: of no use where
   * contacts that switch, not turning, make it rise (hung bags, nudges). */
  readonly correct?: boolean;
  /** CG tolerance. */ readonly cg?: number;
  /** Keep one factor as preconditioner as long as CG is content with it: for states close to the one it was made for. */ readonly keepFactor?: boolean;
  /** Stop after this many steps for which CG ran to its limit, less SOLVED_CREDIT for each that it solved; default never. */ readonly maxUnsolved?: number;
  /** Stop after so many projected Hessians in a row (default never): for runs that are trusted only where they end stable. */ readonly maxProjected?: number;
  /** Stop after so many steps where they are still shorter than SHORT_STEP (default never): sheets that slide over one another by the millimetre get there sooner by falling on. */ readonly maxShortSteps?: number;
  /** Called after every step; return false to stop. */
  readonly watch?: (step: number, residual: number, x: Float64Array) => boolean | undefined;
}

export interface PseudoTransientResult {
  /** In which x was brought here, and in which its residual and energies are. */ readonly formulation: Formulation;
  readonly status: Status;
  readonly residual: number;
  readonly iterations: number;
  readonly energies: Energies;
  /** The last step used the exact Hessian and found no negative curvature. */ readonly stable: boolean;
}

/**
 * Runs x (3n, mutated) to rest: implicit Euler without velocity, H + M/dt^2, dt growing (pseudo-transient continuation).
 * Mass acts only as a bound on the step here; the rest state does not depend on it.
 */
export function* pseudoTransientSteps(sys: System, x: Float64Array, o: PseudoTransientOptions): Work<PseudoTransientResult> {
  const { formulation } = o,
    N = x.length,
    d = new Float64Array(N),
    trial = new Float64Array(N),
    predicted = new Float64Array(3 * sys.el.sheet.m);
  // A thing that may roll has nothing but its inertia to hold it in the step.
  const dtMax = sys.bodies ? Math.min(o.dtMax, DT_MAX_BODIES) : o.dtMax;
  let g = new Float64Array(N),
    gTrial = new Float64Array(N);
  yield;
  yield* findingContacts(sys, x);
  yield;
  updateAnchors(sys, x);
  yield;
  let e = forces(sys, x, g, formulation),
    residual = residualOf(sys, g),
    dt = Math.min(o.dt, dtMax),
    stable = false,
    havePrediction = false,
    fresh = true;
  let it = 0,
    unsolvedSteps = 0,
    refused = 0,
    projected = 0,
    lastCg = 0,
    limit = CG_LIMIT,
    polish = false;
  for (; it < o.maxIterations; it++) {
    yield;
    if (residual < o.tolerance || (o.maxShortSteps !== undefined && it >= o.maxShortSteps && dt < SHORT_STEP)) break;
    if (!Number.isFinite(residual)) return { status: 'diverged', formulation, residual, iterations: it, energies: e, stable: false };
    if (!fresh) forces(sys, x, g, formulation);
    fresh = true;
    const step = yield* findingDirection(sys, g, d, {
      massFactor: 1 / (dt * dt),
      predicted: havePrediction && !o.monotone ? predicted : null,
      tolerance: o.cg ?? 1e-3,
      positive: false,
      keepFactor: (o.keepFactor ?? false) && lastCg <= CG_STALE,
      ...(o.energyAfterFriction ? { limit } : {}),
    });
    if (!step.ok) {
      dt *= 0.25;
      if (dt < 1e-6) break;
      continue;
    }
    if (sys.bodies && o.energyAfterFriction && step.projected && dt > DT_MIN_EXACT) {
      dt *= 0.3;
      continue;
    }
    lastCg = step.cgIterations;
    stable = !step.projected;
    projected = stable ? 0 : projected + 1;
    if (o.maxProjected !== undefined && projected >= o.maxProjected) break;
    const unsolved = step.cgIterations >= limit;
    unsolvedSteps = unsolved ? unsolvedSteps + 1 : Math.max(0, unsolvedSteps - SOLVED_CREDIT);
    if (o.maxUnsolved !== undefined && unsolvedSteps >= o.maxUnsolved) break;
    const scale = capStep(d, o.cap);
    yield;
    limitStep(sys, x, d);
    yield;
    if (!o.monotone) {
      predictStress(sys.el, d, predicted);
      havePrediction = scale === 1;
      for (let i = 0; i < N; i++) x[i] = x[i]! + d[i]!;
      activateContacts(sys, x);
      updateAnchors(sys, x);
      yield;
      e = forces(sys, x, g, formulation);
      residual = residualOf(sys, g);
      dt = Math.min(dtMax, dt * o.grow);
    } else {
      for (let i = 0; i < N; i++) trial[i] = x[i]! + d[i]!;
      activateContacts(sys, trial);
      let eT = forces(sys, trial, gTrial, formulation),
        rT = residualOf(sys, gTrial);
      // What was scaled down by the cap is the step of a shorter time.
      const inertia = 1 / (dt * dt * scale);
      const size = Math.abs(e.stretch) + Math.abs(e.bend) + Math.abs(e.contact) + 1e-12;
      for (let c = 0; o.correct && c < CORRECTIONS && !(eT.total - e.total < CORRECT_ABOVE * size) && rT > residual; c++) {
        for (let i = 0; i < N; i++) if (!sys.model.held[(i / 3) | 0]) gTrial[i] = gTrial[i]! + inertia * sys.model.mass[(i / 3) | 0]! * (trial[i]! - x[i]!);
        if (c === 0) predictStress(sys.el, d, predicted);
        const once = { massFactor: inertia, predicted: c === 0 ? predicted : null, tolerance: o.cg ?? 1e-3, positive: step.projected };
        if (!(yield* findingDirection(sys, gTrial, d, once)).ok) break;
        capStep(d, o.cap);
        limitStep(sys, trial, d);
        for (let i = 0; i < N; i++) trial[i] = trial[i]! + d[i]!;
        activateContacts(sys, trial);
        eT = forces(sys, trial, gTrial, formulation);
        rT = residualOf(sys, gTrial);
      }
      // Near rest the energy differences drown in rounding: there a falling residual is the better witness.
      polish = rT < residual && Math.abs(eT.total - e.total) < 1e-9 * size;
      if (eT.total < e.total || polish) {
        if (o.energyAfterFriction)
          limit = unsolved && e.total - eT.total < SMALL_DECREASE * size ? Math.min(2 * limit, CG_LIMIT_HUNG) : Math.max(limit / 2, CG_LIMIT);
        x.set(trial);
        [g, gTrial] = [gTrial, g];
        e = eT;
        residual = rT;
        // What CG did not get to the end of is asked for less: where arcs make it hard, shorter steps are mostly all it takes.
        dt = o.maxUnsolved !== undefined && unsolved ? dt / 2 : Math.min(dtMax, dt * (scale === 1 ? o.grow : 1));
        refused = 0;
        updateAnchors(sys, x);
        if (o.energyAfterFriction) e = forces(sys, x, g, formulation);
      } else {
        dt *= libm.power(REDUCTION, o.correct ? ++refused : 1);
        activateContacts(sys, x);
        fresh = false;
        if (dt < DT_MIN) break;
        continue;
      }
    }
    if (sys.el.cords) {
      // A cord's pull follows its length: what it is at rest with is known only then.
      e = forces(sys, x, g, formulation);
      residual = residualOf(sys, g);
      if (unbalanced(sys, g) < PULLED_BELOW) {
        pullCords(sys.el.cords, sys.el.cables!);
        e = forces(sys, x, g, formulation);
        residual = residualOf(sys, g);
      }
    }
    if (o.watch?.(it + 1, residual, x) === false) {
      it++;
      break;
    }
  }
  const status: Status = residual < o.tolerance ? 'settled' : Number.isFinite(residual) ? 'notConverged' : 'diverged';
  return { status, formulation, residual, iterations: it, energies: e, stable };
}

/** The same at one go. */
export const pseudoTransient = (sys: System, x: Float64Array, o: PseudoTransientOptions): PseudoTransientResult => toEnd(pseudoTransientSteps(sys, x, o));

/** Scales d so that no vertex moves further than cap; returns the factor. */
export function capStep(d: Float64Array, cap: number): number {
  let worst = 0;
  for (let v = 0; v < d.length; v += 3) {
    const l = d[v]! * d[v]! + d[v + 1]! * d[v + 1]! + d[v + 2]! * d[v + 2]!;
    if (l > worst) worst = l;
  }
  worst = Math.sqrt(worst);
  if (!(worst > cap)) return 1;
  const f = cap / worst;
  for (let i = 0; i < d.length; i++) d[i] = d[i]! * f;
  return f;
}
