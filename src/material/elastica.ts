import { peirceRatio } from '../units/index.ts';

/** The heavy strip held level at one end: the exact shape that swatch tests and the solver are compared with. */

/** A strip of length 1 clamped level, hanging under its own weight: drop and reach of the tip over L, slope there, chord angle, rad. */
export interface HangingStrip {
  readonly drop: number;
  readonly reach: number;
  readonly tipSlope: number;
  readonly chordAngle: number;
}

// Fixed steps: the shooting function must be smooth in the tip slope, and at K = 125 these leave an error under 1e-7.
const STEPS = 500;

/**
 * Shape from an assumed tip slope, integrated from the free end inward: theta'' = -K s cos(theta), s from the tip, theta'(0) = 0.
 * Returns the slope found at the clamp (which should be 0), and the tip's place. Runge-Kutta of fourth order.
 */
function fromTip(load: number, tipSlope: number): { clampSlope: number; drop: number; reach: number } {
  const h = 1 / STEPS;
  let theta = tipSlope;
  let bend = 0;
  let drop = 0;
  let reach = 0;
  for (let i = 0; i < STEPS; i++) {
    const s = i * h;
    const f = (at: number, t: number) => -load * at * Math.cos(t);
    const k1 = f(s, theta);
    const t2 = theta + (h / 2) * bend;
    const b2 = bend + (h / 2) * k1;
    const k2 = f(s + h / 2, t2);
    const t3 = theta + (h / 2) * b2;
    const b3 = bend + (h / 2) * k2;
    const k3 = f(s + h / 2, t3);
    const t4 = theta + h * b3;
    const b4 = bend + h * k3;
    const k4 = f(s + h, t4);
    drop += (h / 6) * (Math.sin(theta) + 2 * Math.sin(t2) + 2 * Math.sin(t3) + Math.sin(t4));
    reach += (h / 6) * (Math.cos(theta) + 2 * Math.cos(t2) + 2 * Math.cos(t3) + Math.cos(t4));
    theta += (h / 6) * (bend + 2 * b2 + 2 * b3 + b4);
    bend += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return { clampSlope: theta, drop, reach };
}

/**
 * Exact hanging shape of a strip clamped level, inextensible, linear in bending: B theta'' + w (L - s) cos(theta) = 0, theta(0) = 0, theta'(L) = 0.
 * Parameter: load K = w L^3/B, 0 < K <= 200 (beyond that the strip hangs straight down to 0.5 %). Lengths of the result are over L.
 * Source: the problem of Rohde 1953, Q. Appl. Math. 11, 337; solved here by shooting.
 */
export function hangingStrip(load: number): HangingStrip {
  if (!(load > 0 && load <= 200)) throw new Error(`invalid load ${load}: expected 0 < K <= 200`);
  let low = 0;
  let high = Math.PI / 2;
  // The slope that arrives at the clamp rises with the slope assumed at the tip; 60 halvings reach rounding.
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (fromTip(load, middle).clampSlope > 0) high = middle;
    else low = middle;
  }
  const tipSlope = (low + high) / 2;
  const { drop, reach } = fromTip(load, tipSlope);
  return { drop, reach, tipSlope, chordAngle: Math.atan2(drop, reach) };
}

/**
 * Load K = w L^3/B at which the chord of a strip clamped level hangs at an angle; B = w L^3/K and c/L = K^(-1/3) follow.
 * Exact where Peirce's formula is approximate (5.75 % high in rigidity at 41.5 deg). Parameter: chord angle, rad, 0.01 to 1.35.
 */
export function loadAtChordAngle(angle: number): number {
  if (!(angle >= 0.01 && angle <= 1.35)) throw new Error(`invalid chord angle ${angle}: expected 0.01 to 1.35 rad`);
  // Secant on log K from the approximate formula, which is at most 35 % off: the chord angle is smooth and nearly straight in log K.
  let before = Math.log(peirceRatio(angle) ** -3);
  let now = before + 0.1;
  let missBefore = hangingStrip(Math.exp(before)).chordAngle - angle;
  for (let i = 0; i < 20; i++) {
    const miss = hangingStrip(Math.exp(now)).chordAngle - angle;
    if (Math.abs(miss) < 1e-12 || miss === missBefore) break;
    const next = now - (miss * (now - before)) / (miss - missBefore);
    before = now;
    missBefore = miss;
    now = next;
  }
  return Math.exp(now);
}
