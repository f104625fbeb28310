import { evaluate } from './elastic/elastic.ts';
import { fallOf } from './fall.ts';
import { hanging } from './hang.ts';
import { givesWay } from './probe.ts';
import { type RelaxResult, relax, relaxing } from './relax.ts';
import { createSystem, forces, giveBack, gripOf, residualOf, type System } from './system.ts';
import type { Model, Progress, Settled } from './types.ts';
import { toEnd, type Work } from './work.ts';

/** Residual (over the mean vertex weight) below which a state may carry a verdict; 1e-2 gives false "stands" (measured). */
export const REST = 1e-4;
/** Movement from the start, m, up to which big Newton steps are trusted not to have jumped to another branch. */
export const TRUSTED = 0.02;

export interface SettleOptions {
  /** Default REST. */ readonly tolerance?: number;
  /** Vertices whose mean height says whether the thing has fallen, and that height at the start, m. */
  readonly watch?: { readonly verts: Uint32Array; readonly height: number };
  readonly progress?: Progress;
  /** Ask only whether it stands: stop where it has crumpled (below CRUMPLED of its height), without following it to its heap. Default false. */
  readonly onlyStanding?: boolean;
  /** Default true, see elastic/arc.ts. */ readonly arcs?: boolean;
  /** Newton steps: first pseudo-time, s, its growth per step, largest movement, m. For measuring what they leave in a result; default STEPS. */ readonly steps?: Steps;
}

export interface Steps {
  readonly dt: number;
  readonly grow: number;
  readonly cap: number;
}

export interface RestState extends RelaxResult {
  readonly x: Float64Array;
  readonly factorisations: number;
  /** Below half the watched height and not at rest when the longest fall was over. */ readonly stillFalling: boolean;
  /** Which path led there: big Newton steps near the start, the fall, or (on straps) energy-lowering steps. */ readonly path: 'newton' | 'fall' | 'flow';
  readonly cancelled: boolean;
  /** It crumpled and, as asked (onlyStanding), was not followed further. */ readonly gaveWay: boolean;
}

const STEPS: Steps = { dt: 0.01, grow: 2.5, cap: TRUSTED };

/** The flow's first step, s, its growth and longest movement, m, and its most steps: the procedure that gave one answer over meshes and seeds. */
const FLOW = { dt: 0.01, grow: 1.6, cap: 0.005 } as const;
const FLOW_STEPS = 400;
/** Steps with CG at its limit (RelaxOptions.hard) after which arcs are given up on the flow. */
const HARD = 5;
/** Height kept below which the flow is left for the fall: what lies that low has given way, and only a fall finishes heaps. */
export const GIVEN_WAY = 0.7;

/** Height kept below which a bag counts as crumpled: its folds are tighter than the mesh's arcs can follow. */
const CRUMPLED = 0.8;
/** Step of the fall to rest, s, and its damping: implicit Euler itself damps at this step; the drag stops the last swinging. */
const FALL_STEP = 1 / 30;
const FALL_DRAG = 3;
/**
 * Simulated time, s, after which the fall goes on by shorter steps, s. Where folds touch, three iterations do not converge in the long step:
 * what truncation holds back is strained, and a heap then jerks on for ever (residual 1e4). The same heaps rest within 1-4 s of short steps.
 */
const LONG_STEPS = 3;
const SHORT_STEP = 1 / 120;
/**
 * Simulated time, s, after which a fall is tried to be let down to rest by energy-lowering steps, and every how much again. Where folds touch, steps of real time
 * jerk on while those arrive (a flat tote in heavy canvas: 66 s of fall, 3 s of 50 such steps); sooner the thing still topples, and 400 of them do not follow it.
 */
const EASE = 1.5;
const EASE_AGAIN = 1;
/** Speed, m/s, below which a sheet is about to rest. */
const STILL = 0.02;
/** Longest fall, s. */
const FALL_TIME = 10;

/**
 * Settles x0 (3n, not mutated). Big mixed-integration-point Newton steps first; if the result lies more than TRUSTED from the start,
 * is unstable or did not settle, energy-lowering steps go again from the start, because near the threshold a bag has several equilibria and the
 * path decides; what gives way on it is let fall from there with its real masses. A fall that has not come to rest in FALL_TIME but lies below half the watched height is told as such:
 * slumped, and still falling.
 */
export function* resting(sys: System, x0: Float64Array, o: SettleOptions = {}): Work<RestState> {
  const free = sys.model.supports.length === 0 && !o.watch;
  const run: Run = { sys, o, free, tolerance: o.tolerance ?? REST, iterations: 0, before: sys.counts.factorisations, cancelled: false };
  const x = x0.slice();
  if (sys.model.cords) {
    const hung = yield* hanging(sys, x, run.tolerance, (stage, fraction, at) => tell(run, stage, fraction, at));
    run.iterations += hung.iterations;
    return finish(run, hung, x, 'flow', false);
  }
  const quick = yield* newton(run, x, 'settling', x0, 40);
  // A held strip has one equilibrium to hang in: there is no second branch to be mistaken for.
  if (free && quick.status === 'settled' && !run.cancelled) return yield* steady(run, quick, x);
  if (run.cancelled || (quick.status === 'settled' && quick.stable && furthest(x, x0) < TRUSTED)) return finish(run, quick, x, 'newton', false);
  if (run.free || run.cancelled) return yield* sink(run, x0.slice());
  x.set(x0);
  const slow = yield* flow(run, x);
  if (run.cancelled || (slow.status === 'settled' && slow.stable) || leftAlone(run, x)) return finish(run, slow, x, 'flow', false);
  return yield* sink(run, x);
}

/** The same at one go. */
export const rest = (sys: System, x0: Float64Array, o: SettleOptions = {}): RestState => toEnd(resting(sys, x0, o));

interface Run {
  readonly sys: System;
  readonly o: SettleOptions;
  /** Held by clips alone: nothing to lie on and no height to lose. */ readonly free: boolean;
  readonly tolerance: number;
  readonly before: number;
  iterations: number;
  cancelled: boolean;
}

const tell = (run: Run, stage: string, fraction: number, x: Float64Array): boolean => {
  if (run.o.progress?.(stage, Math.min(1, fraction), x) === false) run.cancelled = true;
  return !run.cancelled;
};

/**
 * It has crumpled, and whether it would was all that was asked. None of ten bags followed on from there came back up (highest afterwards 0.800; all templates
 * in muslin and in their own options, 20 mm): what lowers the energy lets the mouth down.
 */
const leftAlone = (run: Run, x: Float64Array): boolean => run.o.onlyStanding === true && heightKept(run.o.watch, x) < CRUMPLED;

const finish = (run: Run, r: RelaxResult, x: Float64Array, path: RestState['path'], stillFalling: boolean): RestState => ({
  ...r,
  x,
  path,
  stillFalling,
  iterations: run.iterations,
  cancelled: run.cancelled,
  gaveWay: leftAlone(run, x),
  factorisations: run.sys.counts.factorisations - run.before,
});

/** Newton steps from x (mutated) to rest; ended when it strays from `home` by more than three times TRUSTED. */
function* newton(run: Run, x: Float64Array, stage: string, home: Float64Array, most: number): Work<RelaxResult> {
  const leash = run.free ? Number.POSITIVE_INFINITY : 3 * TRUSTED;
  const r = yield* relaxing(run.sys, x, {
    tolerance: run.tolerance,
    ...(run.o.steps ?? STEPS),
    dtMax: 1e4,
    monotone: false,
    maxIterations: run.free ? 4 * most : most,
    cg: 1e-3,
    // Convergence is fast but not monotone, so only the count says how far a run can still go.
    watch: (k, _, at) => tell(run, stage, k / most, at) && furthest(at, home) < leash,
  });
  run.iterations += r.iterations;
  return r;
}

/**
 * Steps from x (mutated) that must lower the energy, until it strays from `home`. For heaps: a pair on the rim of being felt switches on and off
 * from one big Newton step to the next (residual 0.1 for ever), while ten of these steps, 3 um in all, bring the same heap to rest.
 */
function* careful(run: Run, x: Float64Array, home: Float64Array): Work<RelaxResult> {
  const most = 60;
  const r = yield* relaxing(run.sys, x, {
    tolerance: run.tolerance,
    dt: 0.01,
    grow: 2,
    dtMax: 1e4,
    cap: TRUSTED / 4,
    monotone: true,
    maxIterations: most,
    cg: 1e-2,
    watch: (k, _, at) => tell(run, 'settling', k / most, at) && furthest(at, home) < TRUSTED,
  });
  run.iterations += r.iterations;
  return r;
}

/** How far an unstable balance is pushed the way it gives, m, and how often. */
const PUSH = 1e-3;
const PUSHES = 4;

/**
 * What is held by clips alone and came to rest at x (mutated), unless that is an unstable balance: then pushed off it and let go down from there. A straight
 * strip that stands above its buckling load is at rest to the last digit; nobody will ever see it stand. Told as unstable when it will not leave.
 */
function* steady(run: Run, first: RelaxResult, x: Float64Array): Work<RestState> {
  let at = first;
  for (let k = 0; k < PUSHES; k++) {
    const way = givesWay(run.sys, x);
    if (way === null) return finish(run, { ...at, stable: true }, x, k === 0 ? 'newton' : 'flow', false);
    const y = x.map((v, i) => v + PUSH * way[i]!);
    const down = yield* lower(run, y);
    const end = run.cancelled || down.status === 'settled' ? down : yield* newton(run, y, 'settling', y.slice(), 60);
    if (run.cancelled || end.status !== 'settled') return finish(run, end, y, 'flow', false);
    x.set(y);
    at = end;
  }
  return finish(run, { ...at, stable: givesWay(run.sys, x) === null }, x, 'flow', false);
}

/**
 * Energy-lowering steps from x (mutated), none longer than 5 mm: near the threshold a bag has several rest shapes, and a path that never gains energy
 * takes the same one on every mesh (a fall overshoots: one box stood from D = 2.0e-4 on one mesh and 3.5e-4 N*m on another). Left when the bag has
 * given way. Where its folds get tighter than the mesh's arcs can follow, the arcs' stiffness is nothing that the factor knows: CG runs to its limit in
 * every step and 400 such steps lead nowhere. From there plain triangles go on; what they bring to rest nearly whole is asked again with arcs: by Newton steps,
 * and where those stray (plain triangles lock, and hold up what arcs let go) by energy-lowering ones.
 */
function* flow(run: Run, x: Float64Array): Work<RelaxResult> {
  const { sys, o } = run,
    wanted = sys.el.arcs,
    height = () => heightKept(o.watch, x);
  const whole = yield* lower(run, x, wanted ? HARD : undefined);
  if (run.cancelled || whole.status !== 'notConverged' || !wanted || height() < GIVEN_WAY) return whole;
  sys.el.arcs = false;
  if (leftAlone(run, x)) return whole;
  const plain = yield* lower(run, x);
  if (run.cancelled || plain.status !== 'settled' || height() < CRUMPLED) return plain;
  sys.el.arcs = true;
  const y = x.slice(),
    grip = gripOf(sys),
    again = yield* newton(run, y, 'settling', x, 25);
  if (again.status === 'settled' && again.stable && furthest(y, x) < TRUSTED) {
    x.set(y);
    return again;
  }
  if (run.cancelled) return again;
  // What plain triangles held up by locking goes further than Newton steps are trusted.
  y.set(x);
  giveBack(sys, x, grip);
  const further = yield* lower(run, y, HARD);
  if (run.cancelled || (further.status === 'settled' && further.stable) || heightKept(o.watch, y) < GIVEN_WAY) {
    x.set(y);
    return further;
  }
  sys.el.arcs = false;
  giveBack(sys, x, grip);
  return plain;
}

function* lower(run: Run, x: Float64Array, hard?: number, least = GIVEN_WAY): Work<RelaxResult> {
  const r = yield* relaxing(run.sys, x, {
    tolerance: run.tolerance,
    ...FLOW,
    dtMax: 1e4,
    monotone: true,
    correct: true,
    maxIterations: FLOW_STEPS,
    cg: 1e-2,
    ...(hard === undefined ? {} : { hard }),
    watch: (k, _, at) => tell(run, 'settling', k / FLOW_STEPS, at) && heightKept(run.o.watch, at) >= least && !leftAlone(run, at),
  });
  run.iterations += r.iterations;
  return r;
}

/**
 * Lets x (mutated) fall, and from EASE on down to rest by energy-lowering steps. Plain triangles first: they fall fast and hold their folds. What comes to rest nearly whole is then asked again
 * with arc-corrected edges, which may let go of a wall that plain triangles held up (they lock); a crumpled heap stays as it is.
 */
function* sink(run: Run, x: Float64Array): Work<RestState> {
  const { sys, o } = run,
    wanted = sys.el.arcs,
    begin = () => fallOf(sys, x, { iterations: 3, drag: FALL_DRAG }),
    height = () => heightKept(o.watch, x);
  sys.el.arcs = false;
  const g = new Float64Array(x.length);
  let fall = begin(),
    tryAt = 0.3,
    failed = 0,
    easeAt = EASE;
  for (let t = 0; t < FALL_TIME; ) {
    yield;
    if (t >= easeAt) {
      sys.el.arcs = false;
      const down = yield* lower(run, x, undefined, Number.NEGATIVE_INFINITY);
      if (run.cancelled) break;
      if (down.status === 'settled' && down.stable && !(wanted && height() >= CRUMPLED)) return finish(run, down, x, 'fall', false);
      fall = begin();
      easeAt = t + EASE_AGAIN;
    }
    const dt = t < LONG_STEPS ? FALL_STEP : SHORT_STEP;
    const { speed, iterations, exact } = fall.step(dt);
    t += dt;
    run.iterations += iterations;
    x.set(fall.x);
    if (!tell(run, 'sinking', t / FALL_TIME, x) || !Number.isFinite(speed) || leftAlone(run, x)) break;
    if (speed > 3 * STILL || t < tryAt) continue;
    const whole = wanted && height() >= CRUMPLED;
    if (whole && !sys.el.arcs && failed < 2) {
      if (speed > STILL) continue;
      sys.el.arcs = true;
      tryAt = t + 0.2;
      fall = begin();
    }
    const energies = forces(sys, x, g),
      residual = residualOf(sys, g);
    if (residual < run.tolerance && exact) return finish(run, { status: 'settled', residual, iterations: 0, energies, stable: true }, x, 'fall', false);
    // What chatters by a tenth of a millimetre a step is slow in long steps and fast in short ones.
    if (speed > (t < LONG_STEPS ? STILL / 4 : STILL)) continue;
    const y = x.slice(),
      near = yield* newton(run, y, 'settling', x, 25);
    if (run.cancelled) break;
    if (near.status === 'settled' && near.stable && furthest(y, x) < TRUSTED) return finish(run, near, y, 'fall', false);
    if (t >= LONG_STEPS) {
      y.set(x);
      const slow = yield* careful(run, y, x);
      if (run.cancelled) break;
      if (slow.status === 'settled' && slow.stable && furthest(y, x) < TRUSTED) return finish(run, slow, y, 'fall', false);
    }
    // Folds tighter than an arc can follow show as Newton steps that do not settle, long before the height says so.
    if (++failed === 2) sys.el.arcs = false;
    tryAt = t + 0.3;
    fall = begin();
  }
  const end = measured(run, x);
  return finish(run, end, x, 'fall', end.status !== 'settled' && height() < 0.5);
}

/** The state as it is: residual and energies without a step. */
function measured(run: Run, x: Float64Array): RelaxResult {
  return relax(run.sys, x, { tolerance: run.tolerance, dt: 1, grow: 1, dtMax: 1, cap: TRUSTED, monotone: true, maxIterations: 0 });
}

/** Largest distance of a vertex from where it was, m. */
export function furthest(a: Float64Array, b: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < a.length; i += 3) {
    const d = (a[i]! - b[i]!) ** 2 + (a[i + 1]! - b[i + 1]!) ** 2 + (a[i + 2]! - b[i + 2]!) ** 2;
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

/** Forces of held vertices and supports on the sheet at rest, N (3n): what balances weight and sheet at each vertex. */
export function reactions(sys: System, x: Float64Array): { held: Float64Array; supports: Float64Array } {
  const held = new Float64Array(x.length),
    supports = new Float64Array(x.length);
  for (const f of sys.contact.force) for (let i = 0; i < f.length; i++) supports[i] = supports[i]! + f[i]!;
  // What supports carry of rigid contents stands at the first body's centre.
  if (sys.bodies) for (let k = 0; k < 3; k++) supports[3 * sys.bodies.sheet + k] = sys.bodies.carried[k]!;
  // At a held vertex the clip carries the sheet's pull plus the vertex's own weight.
  const g = sheetGradient(sys, x);
  for (let v = 0; v < sys.model.vertexCount; v++) {
    if (!sys.model.held[v]) continue;
    for (let k = 0; k < 3; k++) held[3 * v + k] = g[3 * v + k]! - sys.model.mass[v]! * sys.pull[k]!;
  }
  return { held, supports };
}

function sheetGradient(sys: System, x: Float64Array): Float64Array {
  const g = new Float64Array(x.length);
  evaluate(sys.el, x, g);
  return g;
}

/** One model from positions to rest: the general entry, for swatches and any other program. x0 is not mutated. */
export function settle(model: Model, x0: Float64Array, o: SettleOptions = {}): Settled {
  const sys = createSystem(model, { arcs: o.arcs ?? true });
  const r = rest(sys, x0, o);
  const f = reactions(sys, r.x),
    reaction = new Float64Array(x0.length);
  for (let i = 0; i < reaction.length; i++) reaction[i] = f.held[i]! + f.supports[i]!;
  return {
    status: r.status,
    x: r.x,
    residual: r.residual,
    iterations: r.iterations,
    factorisations: r.factorisations,
    stable: r.stable,
    reaction,
    contact: { touching: sys.contact.touching, deepestPenetration: sys.contact.deepest },
    energy: { stretch: r.energies.stretch, bend: r.energies.bend, weight: r.energies.weight },
  };
}
