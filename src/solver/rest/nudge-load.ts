import { libm } from '../../numerics/index.ts';
import { resetFriction, updateAnchors } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { RestState } from './settle-run.ts';

/** Lateral gravity of the nudge test as a fraction of g: a few per cent, what a hand brushing past does (common practice, no source). */
export const NUDGE = 0.03;
/** Residual to which a nudge is followed, there and back. */
export const AWAY = 1e-3;
/** Sides a nudge comes from: +x, -x, +y, -y. */
export const SIDES = 4;

/** Gravity and the nudge from side s, m/s2. */
export const nudged = (rest: readonly [number, number, number], s: number): [number, number, number] => {
  const aside = (s % 2 === 0 ? NUDGE : -NUDGE) * libm.norm(rest);
  return s < 2 ? [rest[0] + aside, rest[1], rest[2]] : [rest[0], rest[1] + aside, rest[2]];
};

/** A state at rest and the formulation that it rests in. */
export type AtRest = Pick<RestState, 'x' | 'formulation'>;

/** A nudge starts with no friction but that of the state at rest. */
export function takeHold(sys: System, x: Float64Array): void {
  resetFriction(sys);
  updateAnchors(sys, x);
}
