import { hardenSupports, softenSupports } from '../contact/support/stiffness.ts';
import { frictionState, resetFriction, restoreState } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { Work } from '../work.ts';
import { descend } from './monotone-descent.ts';
import { resting } from './settle.ts';
import {
  finish,
  heightKept,
  largestMovement,
  newton,
  REST,
  type RestState,
  type Run,
  type SettleOptions,
  STANDS_ABOVE,
  type Steps,
  strapped,
  TRUST_RADIUS,
} from './settle-run.ts';
import { transientFall } from './transient-fall.ts';

/** From rest on soft supports the way is short: large steps at once (with those of a start from afar, twice as many). */
const SHORT_WAY: Steps = { dt: 0.1, grow: 10, cap: TRUST_RADIUS };

/** Residual on soft supports from which hard ones go on: what is still to come on soft ones would be lost again. */
const ROUGH = 50;
/**
 * The same with rigid things in the bag, which roll a long way from a rough rest: the commuter tote in canvas and board with its things, 25 mm, 75 steps on soft supports alone, rests
 * on hard ones after 126 from a residual of 50 and after 80 from one of 1.
 */
const ROUGH_WITH_THINGS = 1;
/** Most steps. */
const MOST = 40;

/** A rest state, and what its supports were: pass it to restOn() before its forces are asked for again. */
export interface Grounded extends RestState {
  readonly supports: 'soft' | 'hard';
}

/**
 * To rest on soft supports, and from there, where it stands, on hard ones (contact/support/stiffness.ts). Soft ones let a wall's edge sink by up to a tenth of a millimetre and
 * unevenly, which decides words: a box of 280 x 220 x 110 mm, 340 g/m2, D = 510 uN*m bulges 8.4 % on them and 6.3 % on hard ones. Hard ones from the start make
 * slumping bags slower. What gives way on hard supports falls as it would have on soft ones.
 * hardness: see hardenSupports().
 */
export function* restingOnHard(sys: System, x0: Float64Array, o: SettleOptions, hardness = 1): Work<Grounded> {
  softenSupports(sys.contact);
  if (!o.watch || strapped(sys.model) || sys.model.supports.length === 0) return { ...(yield* resting(sys, x0, o)), supports: 'soft' };
  const before = sys.counts.factorisations,
    rough = sys.model.bodies ? ROUGH_WITH_THINGS : ROUGH,
    near = yield* resting(sys, x0, { ...o, rough });
  // Rough only where big steps left it so: any other end that is not at rest is told as it is.
  const left = near.status === 'settled' || (near.path === 'newton' && near.residual < rough);
  if (!left || !stands(near, o)) return { ...near, supports: 'soft' };
  const first = goOn(sys, o, near, before),
    // Big steps that never left the start's neighbourhood are trusted within it, as on soft supports; after a descent, near its end.
    friction = frictionState(sys),
    hard = yield* onHard(first, near.x, near.path === 'newton' ? x0 : near.x, near.path, hardness);
  if (hard) return hard;
  let [soft, run, held] = [near, first, friction];
  if (near.residual >= first.tolerance) {
    softenSupports(sys.contact);
    resetFriction(sys);
    soft = yield* resting(sys, x0, o);
    run = goOn(sys, o, { ...soft, iterations: first.iterations + soft.iterations }, before);
    if (!(soft.status === 'settled' && stands(soft, o))) return { ...finish(run, soft, soft.x, soft.path, soft.stillFalling), supports: 'soft' };
    held = frictionState(sys);
    const again = yield* onHard(run, soft.x, soft.x, soft.path, hardness);
    if (again) return again;
  }
  // With rigid things in soft walls the way on leads anywhere (a book: 2744 steps, not at rest): what rests on soft supports is told.
  if (sys.model.bodies) {
    softenSupports(sys.contact);
    restoreState(sys, soft.x, held);
    return { ...finish(run, soft, soft.x, soft.path, soft.stillFalling), supports: 'soft' };
  }
  const x = soft.x.slice();
  restoreState(sys, x, held);
  const slow = yield* descend(run, x, soft.formulation);
  if (run.cancelled || (slow.status === 'settled' && slow.stable)) return { ...finish(run, slow, x, 'descent', false), supports: 'hard' };
  softenSupports(sys.contact);
  return { ...(yield* transientFall({ ...run, o }, x, slow.formulation)), supports: 'soft' };
}

const stands = (r: RestState, o: SettleOptions): boolean => !r.cancelled && heightKept(o.watch, r.x) >= STANDS_ABOVE;

/** A run that goes on from r. */
const goOn = (sys: System, o: SettleOptions, r: RestState, before: number): Run => ({
  sys,
  o: { ...o, steps: SHORT_WAY },
  formulation: r.formulation,
  free: false,
  tolerance: o.tolerance ?? REST,
  iterations: r.iterations,
  before,
  cancelled: r.cancelled,
});

/** Newton steps from `from` to rest on hard supports; null where they stray from `home`. */
function* onHard(run: Run, from: Float64Array, home: Float64Array, path: RestState['path'], hardness: number): Work<Grounded | null> {
  const x = from.slice();
  hardenSupports(run.sys.contact, hardness);
  const quick = yield* newton(run, x, run.formulation, 'settling', home, MOST);
  const there = run.cancelled || (quick.status === 'settled' && quick.stable && largestMovement(x, home) < TRUST_RADIUS);
  return there ? { ...finish(run, quick, x, path, false), supports: 'hard' } : null;
}

/** The supports that a state rests on. Mutates sys. */
export function restOn(sys: System, supports: Grounded['supports'], hardness = 1): void {
  if (supports === 'hard') hardenSupports(sys.contact, hardness);
  else softenSupports(sys.contact);
}
