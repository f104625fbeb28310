import type { Wanted } from '../../bag/types.ts';
import type { Status } from '../../solver/types.ts';
import type { Fit, VerdictWord } from '../types.ts';

/** What one way of making the bag comes to, middle of the band. */
export interface Effect {
  readonly word: VerdictWord;
  readonly reason: string;
  /** null without a verdict, or where it cannot be said. */ readonly meetsWanted: boolean | null;
  /** How it misses what is wanted; null where that cannot be said. */ readonly fit: Fit | null;
  /** As Verdict.margin: 1 as drafted, 0 at the limit of "holds"; null without a verdict. */ readonly margin: number | null;
  /** m; null where it does not apply */ readonly rimHeight: number | null;
  readonly baseSag: number | null;
  readonly massKg: number;
  readonly status: Status;
  readonly residual: number;
}

/** What one change of the stacks does. */
export interface ChangeEffect {
  /** The change in a maker's words: "fuse fleece behind the walls". */ readonly change: string;
  /** Material id that goes in or comes out. */ readonly material: string;
  /** Panels whose stack changes. */ readonly panels: readonly string[];
  readonly effect: Effect;
}

/** Single changes of one option, ranked: what serves the wanted look best comes first. */
export interface ChangeReport {
  readonly bag: string;
  readonly option: string;
  readonly stance: string;
  /** The stance hangs the bag from its straps. */ readonly hung: boolean;
  readonly wanted: Wanted;
  /** Mesh of all runs, m. */ readonly edgeLength: number;
  /** Settles that this took, the bag as it is included. */ readonly runs: number;
  readonly asDrawn: Effect;
  readonly changes: readonly ChangeEffect[];
}
