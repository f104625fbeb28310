import { libm } from '../../numerics/index.ts';
import type { System } from '../system.ts';
import type { Formulation, Model, Progress } from '../types.ts';
import type { Work } from '../work.ts';
import { type PseudoTransientResult, pseudoTransientSteps } from './pseudo-transient.ts';
import { recheckStability } from './stability.ts';

/** Residual (over the mean vertex weight) below which a state may carry a verdict; 1e-2 gives false "stands" (measured). */
export const REST = 1e-4;
/** Movement from the start, m, up to which big Newton steps are trusted not to have jumped to another branch. */
export const TRUST_RADIUS = 0.02;

export interface SettleOptions {
  /** Default REST. */ readonly tolerance?: number;
  /** Vertices whose mean height says whether the thing has fallen, and that height at the start, m. */
  readonly watch?: { readonly verts: Uint32Array; readonly height: number };
  readonly progress?: Progress;
  /** Told after every step of the paths that lose energy (descent, fall), with the height kept there; false ends the run as `progress` does. Never told of Newton steps, which may stray and come back. */
  readonly lowered?: (kept: number, x: Float64Array) => boolean | undefined;
  /** Ask only whether it stands: stop where it has crumpled (below CRUMPLED of its height), without following it to its heap. Default false. */
  readonly onlyStanding?: boolean;
  /** In which the rest state is wanted; crumpled states end in plain triangles all the same. Default arc-corrected. */ readonly formulation?: Formulation;
  /** Residual at which big Newton steps may leave what stands, for the caller to go on from: 'notConverged' then, and no verdict. Default none. */ readonly rough?: number;
  /** Newton steps: first pseudo-time, s, its growth per step, largest movement, m. For measuring what they leave in a result; default STEPS. */ readonly steps?: Steps;
}

export interface Steps {
  readonly dt: number;
  readonly grow: number;
  readonly cap: number;
}

/** A result with its positions; `formulation` is what it rests in: pass it on to whatever asks for its forces. */
export interface RestState extends PseudoTransientResult {
  readonly x: Float64Array;
  readonly factorisations: number;
  /** Below half the watched height and not at rest when the longest fall was over. */ readonly stillFalling: boolean;
  /** Which path led there: big Newton steps near the start, energy-lowering steps, or the fall. */ readonly path: 'newton' | 'descent' | 'fall';
  readonly cancelled: boolean;
  /** It crumpled and, as asked (onlyStanding), was not followed further. */ readonly notFollowed: boolean;
}

/** Height kept below which the descent is left for the fall: what lies that low has collapsed and topples, which steps of real time follow faster. */
export const COLLAPSED = 0.7;

/** Height kept from which on a bag stands: asked again on hard supports, and nudged. What lies lower has slumped already, and its heap is a sample either way. */
export const STANDS_ABOVE = 0.85;

/** Height kept below which a bag counts as crumpled: its folds are tighter than the mesh's arcs can follow. */
export const CRUMPLED = 0.8;
/**
 * Newton steps in a row from projected Hessians after which big steps are given up: of 172 runs that came to rest at a stable state none took more than ten
 * (templates in their options, 20 mm, middle); of 76 that did not, 30 went on for up to forty.
 */
export const MAX_PROJECTED = 12;
const STEPS: Steps = { dt: 0.01, grow: 2.5, cap: TRUST_RADIUS };

/** One settling on its way: what is asked of it, and what it has cost. */
export interface Run {
  readonly sys: System;
  readonly o: SettleOptions;
  /** In which the rest state is wanted. */ readonly formulation: Formulation;
  /** Held by clips alone: nothing to lie on and no height to lose. */ readonly free: boolean;
  readonly tolerance: number;
  /** Factorisations of the system before this run. */ readonly before: number;
  iterations: number;
  cancelled: boolean;
}

/** Tells the caller how far a run is; false, and run.cancelled, when it is to stop. */
export const report = (run: Run, stage: string, fraction: number, x: Float64Array): boolean => {
  if (run.o.progress?.(stage, Math.min(1, fraction), x) === false) run.cancelled = true;
  return !run.cancelled;
};

/** Tells the caller that an energy-lowering step or a step of the fall has led to x; false, and run.cancelled, when it is to stop. */
export const lowered = (run: Run, x: Float64Array): boolean => {
  if (run.o.lowered?.(heightKept(run.o.watch, x), x) === false) run.cancelled = true;
  return !run.cancelled;
};

/**
 * It has crumpled, and whether it would was all that was asked. None of ten bags followed on from there came back up (highest afterwards 0.800; all templates
 * in muslin and in their own options, 20 mm): what lowers the energy lets the mouth down.
 */
export const notFollowed = (run: Run, x: Float64Array): boolean => run.o.onlyStanding === true && heightKept(run.o.watch, x) < CRUMPLED;

export const finish = (run: Run, r: PseudoTransientResult, x: Float64Array, path: RestState['path'], stillFalling: boolean): RestState => ({
  ...r,
  x,
  path,
  stillFalling,
  iterations: run.iterations,
  cancelled: run.cancelled,
  notFollowed: notFollowed(run, x),
  factorisations: run.sys.counts.factorisations - run.before,
});

/**
 * Newton steps from x (mutated) to rest; ended when it strays from `home` by more than three times TRUST_RADIUS, or where it stands near home and its residual is
 * under `rough`.
 */
export function* newton(
  run: Run,
  x: Float64Array,
  formulation: Formulation,
  stage: string,
  home: Float64Array,
  most: number,
  rough = 0,
): Work<PseudoTransientResult> {
  const leash = run.free ? Number.POSITIVE_INFINITY : 3 * TRUST_RADIUS;
  const r = yield* pseudoTransientSteps(run.sys, x, {
    formulation,
    tolerance: run.tolerance,
    ...(run.o.steps ?? STEPS),
    dtMax: 1e4,
    monotone: false,
    ...(run.free ? {} : { maxProjected: MAX_PROJECTED }),
    maxIterations: run.free ? 4 * most : most,
    cg: 1e-3,
    // Convergence is fast but not monotone, so only the count says how far a run can still go.
    watch: (k, residual, at) => report(run, stage, k / most, at) && largestMovement(at, home) < leash && !(residual < rough && standsNear(run, at, home)),
  });
  run.iterations += r.iterations;
  return yield* recheckStability(run.sys, r, x);
}

/** Does it stand, within the distance that big steps are trusted? */
export const standsNear = (run: Run, x: Float64Array, home: Float64Array): boolean =>
  heightKept(run.o.watch, x) >= STANDS_ABOVE && largestMovement(x, home) < TRUST_RADIUS;

/** Largest distance of a vertex from where it was, m. */
export function largestMovement(a: Float64Array, b: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < a.length; i += 3) {
    const d = libm.square(a[i]! - b[i]!) + libm.square(a[i + 1]! - b[i + 1]!) + libm.square(a[i + 2]! - b[i + 2]!);
    if (!(d <= worst)) worst = d;
  }
  return Math.sqrt(worst);
}

export function meanHeight(x: Float64Array, verts: Uint32Array): number {
  let s = 0;
  for (const v of verts) s += x[3 * v + 2]!;
  return s / Math.max(1, verts.length);
}

/** Mean height of the watched vertices over the one they started with; 1 where nothing is watched. */
export const heightKept = (watch: SettleOptions['watch'], x: Float64Array): number => (watch ? meanHeight(x, watch.verts) / watch.height : 1);

/** Does it hang by straps? Ties hold a sheet shut that otherwise stands or lies as any. */
export const strapped = ({ cables }: Model): boolean => cables !== undefined && (cables.ties?.first ?? 1) > 0;
