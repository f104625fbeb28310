/** Lines that are stiff by themselves: what lies along an edge, a seam or a stretch of one. */
import type { EdgeRun } from './types.ts';
import type { MEMBERS } from './words.ts';

/** Kinds of member that have figures of their own; 'figures': all of them are stated. */
export type MemberKind = (typeof MEMBERS)[number];

/** A line member, resolved, SI. */
export interface Member {
  readonly name: string;
  readonly kind: MemberKind;
  /** Stretches of one panel's edges, end to end; an edge may be sewn or open. */ readonly runs: readonly EdgeRun[];
  /** Diameter of a round one, width of a flat one or of a zip's closed chain, m; null: its kind's usual one. */
  readonly size: number | null;
  /** Stated bending rigidity EI, N*m2; null: by its kind. */ readonly rodRigidity: number | null;
  /** Stated mass per length, kg/m; null: by its kind. */ readonly lineMass: number | null;
  /** Left out at each end of the stretches, m: a cord is cut out of a seam's allowance. */ readonly stopsShort: number;
}
