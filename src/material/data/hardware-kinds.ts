/**
 * Hardware by kind: what one piece of the usual size weighs, and the power with which that grows with the size. All are estimates: die-cast zinc (6600 kg/m3) and steel wire (7850)
 * over the volumes of plain pieces, round figures; brass weighs a quarter more, aluminium less than half. No table of them was found.
 */
import type { HardwareKind } from '../../bag/types.ts';

export interface HardwareRow {
  /** m */ readonly size: number;
  /** kg */ readonly mass: number;
  readonly power: 2 | 3;
}

export const HARDWARE_ROWS: Readonly<Record<Exclude<HardwareKind, 'other'>, HardwareRow>> = {
  ring: { size: 0.025, mass: 7e-3, power: 2 }, // wire of 3.8 mm bent to a ring or D for a strap of 25 mm. Estimate
  slider: { size: 0.025, mass: 9e-3, power: 2 }, // three bars of 3.8 mm wire for a strap of 25 mm. Estimate
  buckle: { size: 0.025, mass: 16e-3, power: 2 }, // frame and prong of 4 mm wire for a strap of 25 mm. Estimate
  hook: { size: 0.025, mass: 25e-3, power: 2 }, // swivel hook of die-cast zinc for a strap of 25 mm. Estimate
  clasp: { size: 0.03, mass: 18e-3, power: 2 }, // turn lock or clasp with its plate, 30 mm wide. Estimate
  foot: { size: 0.012, mass: 3e-3, power: 3 }, // domed foot of 12 mm, 8 mm high, with two prongs. Estimate
  'corner plate': { size: 0.025, mass: 5e-3, power: 2 }, // stamped steel of 0.8 mm over a corner, legs of 25 mm. Estimate
  rivet: { size: 9e-3, mass: 0.9e-3, power: 3 }, // cap rivet of 9 mm, both halves. Estimate
  stud: { size: 8e-3, mass: 1.2e-3, power: 3 }, // button stud of 8 mm with its screw. Estimate
};

/** How far a foot lifts its panel where the file does not say, m. */
export const FOOT_HEIGHT = 8e-3;
