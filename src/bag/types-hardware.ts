/** Metal parts that are set on a bag: named things with a mass, at points of a panel. */
import type { Point2 } from './types.ts';
import type { HARDWARE } from './words.ts';

/** Kinds of hardware that have figures of their own; 'other': its mass is stated. */
export type HardwareKind = (typeof HARDWARE)[number];

/** Pieces of one kind, resolved, SI. */
export interface Hardware {
  readonly name: string;
  readonly kind: HardwareKind;
  readonly panel: string;
  /** Where each piece sits, m, panel frame. */ readonly at: readonly Point2[];
  /** Width of what passes through a ring, slider or buckle, diameter of a rivet, stud or foot, leg of a corner plate, m; null: its kind's usual one. */
  readonly size: number | null;
  /** Stated mass of each piece, kg; null: by its kind and size. */ readonly mass: number | null;
  /** How far a foot lifts its panel off the table, m; null: its kind's usual one, or not a foot. */ readonly height: number | null;
}
