import { libm } from '../numerics/index.ts';
import { FIXED_ANGLE_LOAD, peirceRatio } from '../units/index.ts';

/** The heavy strip held level at one end: the exact shape that swatch tests and the solver are compared with. */

/** A strip of length 1 clamped level, hanging under its own weight: drop and reach of the tip over L, slope there, chord angle, rad. */
export interface HangingStrip {
  readonly drop: number;
  readonly reach: number;
  readonly tipSlope: number;
  readonly chordAngle: number;
}

/** theta'' of a strip as a function of the place along it and the slope there. */
export type Bending = (s: number, theta: number) => number;

/** Where a strip followed from one end arrives: slope and curvature there, and the integrals of cos and sin of the slope on the way. */
export interface Ray {
  readonly theta: number;
  readonly bend: number;
  readonly along: number;
  readonly up: number;
}

/**
 * Follows theta'' = bending(s, theta) over 0..end from a given slope and curvature: fourth-order Runge-Kutta. Fixed steps, because a shooting function must be
 * smooth in what it is solved for. visit: told slope, along and up after every step.
 */
export function shoot(
  bending: Bending,
  theta0: number,
  bend0: number,
  end: number,
  steps: number,
  visit?: (theta: number, along: number, up: number) => void,
): Ray {
  const h = end / steps;
  let [theta, bend, along, up] = [theta0, bend0, 0, 0];
  for (let i = 0; i < steps; i++) {
    const s = i * h;
    const k1 = bending(s, theta);
    const t2 = theta + (h / 2) * bend;
    const b2 = bend + (h / 2) * k1;
    const k2 = bending(s + h / 2, t2);
    const t3 = theta + (h / 2) * b2;
    const b3 = bend + (h / 2) * k2;
    const k3 = bending(s + h / 2, t3);
    const t4 = theta + h * b3;
    const b4 = bend + h * k3;
    const k4 = bending(s + h, t4);
    along += (h / 6) * (libm.cos(theta) + 2 * libm.cos(t2) + 2 * libm.cos(t3) + libm.cos(t4));
    up += (h / 6) * (libm.sin(theta) + 2 * libm.sin(t2) + 2 * libm.sin(t3) + libm.sin(t4));
    theta += (h / 6) * (bend + 2 * b2 + 2 * b3 + b4);
    bend += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    visit?.(theta, along, up);
  }
  return { theta, bend, along, up };
}

// At K = 125 these leave an error under 1e-7.
const STEPS = 500;

/**
 * theta'' = -K s cos(theta), s from the free tip, where no moment acts. A tip assumed too flat would swing on below level and come back: it is left to
 * run straight on there, so that the sign at the clamp tells on which side of the root it lies.
 */
const ownWeight =
  (load: number): Bending =>
  (s, theta) =>
    theta < 0 ? 0 : -load * s * libm.cos(theta);

/** Slope at the tip of a strip that leaves its clamp level, rad: it rises with the slope that arrives at the clamp; 60 halvings reach rounding. */
function tipSlopeAt(load: number, steps: number): number {
  let [low, high] = [0, Math.PI / 2];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (shoot(ownWeight(load), middle, 0, 1, steps).theta > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/**
 * Exact hanging shape of a strip clamped level, inextensible, linear in bending: B theta'' + w (L - s) cos(theta) = 0, theta(0) = 0, theta'(L) = 0.
 * Parameter: load K = w L^3/B, 0 < K <= 200 (beyond that the strip hangs straight down to 0.5 %). Lengths of the result are over L.
 * Source: the problem of Rohde 1953, Q. Appl. Math. 11, 337; solved here by shooting.
 */
export function hangingStrip(load: number): HangingStrip {
  if (!(load > 0 && load <= 200)) throw new Error(`invalid load ${load}: expected 0 < K <= 200`);
  const tipSlope = tipSlopeAt(load, STEPS);
  const { up: drop, along: reach } = shoot(ownWeight(load), tipSlope, 0, 1, STEPS);
  return { drop, reach, tipSlope, chordAngle: libm.atan2(drop, reach) };
}

/**
 * Load K = w L^3/B at which the chord of a strip clamped level hangs at an angle; B = w L^3/K and c/L = K^(-1/3) follow.
 * Exact where Peirce's formula is approximate (5.75 % high in rigidity at 41.5 deg). Parameter: chord angle, rad, 0.01 to 1.35.
 */
export function loadAtChordAngle(angle: number): number {
  if (!(angle >= 0.01 && angle <= 1.35)) throw new Error(`invalid chord angle ${angle}: expected 0.01 to 1.35 rad`);
  // Secant on log K from the approximate formula, which is at most 35 % off: the chord angle is smooth and nearly straight in log K.
  let before = -3 * libm.log(peirceRatio(angle));
  let now = before + 0.1;
  let missBefore = hangingStrip(libm.exp(before)).chordAngle - angle;
  for (let i = 0; i < 20; i++) {
    const miss = hangingStrip(libm.exp(now)).chordAngle - angle;
    if (Math.abs(miss) < 1e-12 || miss === missBefore) break;
    const next = now - (miss * (now - before)) / (miss - missBefore);
    before = now;
    missBefore = miss;
    now = next;
  }
  return libm.exp(now);
}

/** Above this load rounding hides the tip's slope, and the strip hangs straight down from its clamp. */
const HEAVIEST = 3000;

/**
 * Outline of the same strip for a picture: `count + 1` points [along, down] in units of its length, from the clamp to the tip.
 * standNumber S: length over the 41.5-degree overhang, so K = 8.0042 S^3; past K = 3000 the shape at 3000.
 */
export function bentStrip(standNumber: number, count = 24): (readonly [number, number])[] {
  const load = Math.min(HEAVIEST, FIXED_ANGLE_LOAD * libm.cube(Math.max(0, standNumber)));
  const each = Math.ceil(120 / count);
  const fromTip: [number, number][] = [[0, 0]];
  const end = shoot(ownWeight(load), tipSlopeAt(load, count * each), 0, 1, count * each, (_, along, up) => fromTip.push([along, up]));
  return Array.from({ length: count + 1 }, (_, i) => {
    const [along, up] = fromTip[(count - i) * each];
    return [end.along - along, end.up - up] as const;
  });
}
