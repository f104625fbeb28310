import { relaxing } from './relax.ts';
import { furthest, GIVEN_WAY, heightKept, REST, type RestState, type SettleOptions, STRAYING, TRUSTED } from './run.ts';
import { resting } from './settle.ts';
import { commit, forces, giveBack, gripOf, letGo, type System } from './system.ts';
import type { Work } from './work.ts';

/** Lateral gravity of the nudge test as a fraction of g: a few per cent, what a hand brushing past does (common practice, no source). */
export const NUDGE = 0.03;
/** Movement left after a nudge, m, that still counts as having come back: half of a maker's tolerance of 5 mm. */
export const CAME_BACK = 0.0025;
/** Heights kept between which the inward start is run as well: above, the bag stands; below, it lies, and a heap's height is chance anyway. */
const INWARD_BELOW = 0.95;
const INWARD_ABOVE = GIVEN_WAY;
/**
 * Height kept below which a bag has slumped already: the nudge test asks whether a bag that stands comes back. Its inward start is asked only whether it
 * stands, since another heap would not change the word: following a second heap to rest took two thirds of a soft bag's time.
 */
const STANDS_ABOVE = 0.85;
/** Heights kept that differ by more than this are two different shapes. */
const SAME_HEIGHT = 0.02;

export interface StandOptions extends SettleOptions {
  /** 3n start with the walls pressed inward; run when the outward start loses height. */ readonly inward?: Float64Array;
  /** Told when rest was reached, before the nudge test: for the caller's clock. */ readonly settled?: () => void;
  /** Run the nudge test. Default true. */ readonly nudge?: boolean;
}

export interface Stood {
  readonly rest: RestState;
  readonly nudge: { readonly tested: boolean; readonly comesBack: boolean; readonly fraction: number; readonly worstShift: number };
  /** height null: not run, or it crumpled as the outward start had slumped and was followed no further (then differs is false: the word is the same). */
  readonly inward: { readonly ran: boolean; readonly height: number | null; readonly differs: boolean };
}

/**
 * The standing procedure: from the stuffed start (walls outward) to rest; if it lost height, again from the inward start, because a
 * real band of rigidities has two rest shapes and then the answer is "depends on how it is filled"; then nudged from four sides.
 */
export function* standing(sys: System, start: Float64Array, o: StandOptions): Work<Stood> {
  const arcs = sys.el.arcs;
  const first = yield* resting(sys, start, o);
  const firstArcs = sys.el.arcs,
    grip = gripOf(sys);
  const kept = (x: Float64Array) => heightKept(o.watch, x);
  let inward: Stood['inward'] = { ran: false, height: null, differs: false };
  if (!first.cancelled && !first.stillFalling && first.status === 'settled' && o.inward && kept(first.x) < INWARD_BELOW && kept(first.x) >= INWARD_ABOVE) {
    sys.el.arcs = arcs;
    letGo(sys);
    const second = yield* resting(sys, o.inward, {
      ...o,
      onlyStanding: kept(first.x) < STANDS_ABOVE,
      progress: o.progress && ((_, f, x) => o.progress?.('filled the other way', f, x)),
    });
    const height = second.gaveWay ? null : kept(second.x);
    const elsewhere = (h: number): boolean => second.stillFalling || (second.status === 'settled' && Math.abs(h - kept(first.x)) > SAME_HEIGHT);
    inward = { ran: true, height, differs: height !== null && elsewhere(height) };
  }
  sys.el.arcs = firstArcs;
  if (inward.ran) giveBack(sys, first.x, grip);
  const tested = (o.nudge ?? true) && first.status === 'settled' && !first.cancelled && kept(first.x) >= STANDS_ABOVE;
  o.settled?.();
  const worstShift = tested ? yield* nudgeFourWays(sys, first.x, o) : 0;
  // Leaves forces, anchors and contact counts of the state that is reported, not those of the last nudge.
  if (inward.ran || tested) giveBack(sys, first.x, grip);
  forces(sys, first.x, new Float64Array(first.x.length));
  return { rest: first, nudge: { tested, comesBack: tested && worstShift < CAME_BACK, fraction: NUDGE, worstShift }, inward };
}

/**
 * Pulls sideways from four sides, lets go each time, and returns the largest movement left, m (Infinity: it went over or did not settle).
 * The factor at hand serves as preconditioner until CG takes longer for it than a new one would: the states differ little as long as the bag stands.
 */
function* nudgeFourWays(sys: System, x: Float64Array, o: StandOptions): Work<number> {
  let worst = 0;
  const g = Math.hypot(...sys.model.gravity),
    sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount),
    sides = [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const;
  for (let s = 0; s < 4; s++) {
    sys.pull.set(sys.model.gravity);
    // The grip starts afresh each time, from the rest state.
    letGo(sys);
    commit(sys, x);
    const rest = sys.model.gravity,
      side = [rest[0] + sides[s]![0] * NUDGE * g, rest[1] + sides[s]![1] * NUDGE * g, rest[2]];
    const y = x.slice(),
      away = yield* push(sys, y, 1e-3, rest, side),
      back = away && (yield* push(sys, y, Math.max(REST, 1e-3), side, rest));
    sys.pull.set(rest);
    // A ball that rolls on in the bag is no matter of the bag's.
    worst = Math.max(worst, back ? furthest(y.subarray(0, sheet), x) : Number.POSITIVE_INFINITY);
    if (o.progress?.('nudged', (s + 1) / 4, y) === false || worst === Number.POSITIVE_INFINITY) break;
  }
  return worst;
}

/** Steps in which a nudge that moves the bag far is laid on, and taken off again. */
const RAMP = 3;

/**
 * Settles y (mutated) under the pull `to` from rest under `from`: first with the factor at hand; then by Newton steps up a ramp, each stage staying within
 * TRUSTED of the one before, so that no other rest shape is jumped to; then by steps that lower the energy.
 */
function* push(sys: System, y: Float64Array, tolerance: number, from: readonly number[], to: readonly number[]): Work<boolean> {
  const start = y.slice(),
    grip = gripOf(sys);
  sys.pull.set(to);
  const near = yield* relaxing(sys, y, {
    tolerance,
    dt: 1e4,
    grow: 1,
    dtMax: 1e4,
    cap: 0.005,
    monotone: false,
    maxIterations: 12,
    cg: 1e-2,
    keepFactor: true,
    watch: gaining(),
  });

  if (near.status === 'settled' && furthest(y, start) < TRUSTED) return true;
  y.set(start);
  giveBack(sys, start, grip);
  if (yield* ramp(sys, y, tolerance, from, to)) return true;
  y.set(start);
  giveBack(sys, start, grip);
  sys.pull.set(to);
  const slow = yield* relaxing(sys, y, { tolerance, dt: 0.02, grow: 2, dtMax: 1e4, cap: 0.005, monotone: true, maxIterations: 150, cg: 1e-2 });
  return slow.status === 'settled';
}

function* ramp(sys: System, y: Float64Array, tolerance: number, from: readonly number[], to: readonly number[]): Work<boolean> {
  const before = new Float64Array(y.length);
  for (let k = 1; k <= RAMP; k++) {
    for (let c = 0; c < 3; c++) sys.pull[c] = from[c]! + ((to[c]! - from[c]!) * k) / RAMP;
    before.set(y);
    const r = yield* relaxing(sys, y, {
      tolerance,
      dt: 0.02,
      grow: 10,
      dtMax: 1e4,
      cap: 0.005,
      monotone: false,
      straying: STRAYING,
      maxIterations: 25,
      cg: 1e-2,
    });

    if (r.status !== 'settled' || !r.stable || furthest(y, before) >= TRUSTED) return false;
  }
  return true;
}

/**
 * Goes on while each two steps at least halve the residual: with an old factor, what does not is not going to arrive. One step alone may do less where the sheet
 * has turned and is only then found to be strained: of 8 oz canvas as lining it went 455, 108, 57, 9, 0.02.
 */
function gaining(): (step: number, residual: number) => boolean {
  let [before, last] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  return (_, residual) => {
    const goes = residual < before / 2;
    [before, last] = [last, residual];
    return goes;
  };
}
