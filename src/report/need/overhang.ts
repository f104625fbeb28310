/** What a stack weighs and how far a strip of it hangs over once its panels are stiffer: the figures in which a need is told. */
import { massWhenStiffer } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import type { NeedReport, NeedStack } from './types.ts';

/** kg/m2 of a stack `factor` times as stiff: its own, or with a nonwoven interfacing's added (material/stiffened.ts). */
export const massNeeded = (s: NeedStack, factor: number, mass: NeedReport['mass']): number =>
  mass === 'grows' ? massWhenStiffer({ arealMass: s.arealMass, bending: [s.mean, s.mean, 0, 0] }, factor) : s.arealMass;

/** Overhang at 41.5 deg of a strip up the bag `factor` times as stiff, m: O (factor w / w')^(1/3), because B = w (O/2)^3 (Peirce 1930). */
export const overhangNeeded = (s: NeedStack, factor: number, mass: NeedReport['mass']): number =>
  s.overhang * libm.cbrt((factor * s.arealMass) / massNeeded(s, factor, mass));
