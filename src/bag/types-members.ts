/** Lines that are stiff by themselves: what lies along an edge, a seam or a stretch of one. */
import type { EdgeRun } from './types.ts';
import type { MEMBERS } from './words.ts';

/** Kinds of member that have figures of their own; 'figures': all of them are stated. */
export type MemberKind = (typeof MEMBERS)[number];

/** A line drawn on a panel, by name. */
export interface PanelLine {
  readonly panel: string;
  readonly line: string;
}

/** A line member, resolved, SI. */
export interface Member {
  readonly name: string;
  readonly kind: MemberKind;
  /** Stretches of edges, of one panel or of several; those that meet in the sewn bag are one line. An edge may be sewn or open. */ readonly runs: readonly EdgeRun[];
  /** Lines drawn on panels that it runs along; absent where there are none. */ readonly lines?: readonly PanelLine[];
  /** Diameter of a round one, width of a flat one or of a zip's closed chain, m; null: its kind's usual one. */
  readonly size: number | null;
  /** Stated bending rigidity EI, N*m2; null: by its kind. */ readonly rodRigidity: number | null;
  /** Stated mass per length, kg/m; null: by its kind. */ readonly lineMass: number | null;
  /** Stated stretch EA, N; absent: by its kind. */ readonly stretch?: number;
  /** What it is bent to before it is sewn in: its line as drawn, as sewn, or a radius, m; absent: straight. */ readonly formed?: 'drawn' | 'sewn' | number;
  /** 'ring': its two ends are joined, on a line that closes. Absent: open. */ readonly ends?: 'ring';
  /** Its own length, of a frame or zip bought ready, m; absent: cut to its line. */ readonly length?: number;
  /** Left out at each end of the stretches, m: a cord is cut out of a seam's allowance. */ readonly stopsShort: number;
}
