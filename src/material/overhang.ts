/** The finished stack as a maker tests it: a strip pushed over an edge until it hangs at 41.5 deg. */
import type { Panel } from '../bag/types.ts';
import { overhangAtFixedAngle } from '../units/index.ts';
import { stripRigidity } from './orthotropy.ts';
import type { Laminate } from './types.ts';

/** Rigidity per width of a narrow strip of the laminate, N*m. Parameter: direction of the strip from the panel's grain, rad, counterclockwise. */
export const rigidityAlong = (laminate: Laminate, direction: number): number => stripRigidity(laminate.bending, direction - laminate.angle);

/**
 * Overhang at 41.5 deg, m: O = 2 c, c = (B/w)^(1/3), B of a narrow strip cut along `direction`.
 * Assumes the strip bends under its own weight only and its layers are joined as in the stack.
 * Parameters: laminate; direction from the panel's grain, rad, counterclockwise. Source: Peirce 1930; fixed-angle tester practice.
 */
export const overhang = (laminate: Laminate, direction: number): number => overhangAtFixedAngle(rigidityAlong(laminate, direction), laminate.arealMass);

/** Overhang of a strip cut up the bag (the panel's +y), m. Parameters: laminate of the panel or region; the panel, for its grain. */
export const overhangUpright = (laminate: Laminate, panel: Pick<Panel, 'grain'>): number => overhang(laminate, -panel.grain);
