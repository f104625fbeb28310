import type { Band } from '../../material/types.ts';
import type { Status } from '../../solver/types.ts';
import type { Gate, VerdictWord } from '../types.ts';

/** One thing that a plan varies, with all that it takes. Figures are in `unit`, as they were asked for. */
export interface Axis {
  /** As it was asked for, such as "W" or "stack.wall.bond". */ readonly name: string;
  /** A word for each choice, or figures. */ readonly kind: 'words' | 'figures';
  /** Of its figures; '' for plain numbers and words. */ readonly unit: string;
  /** All its values in order; null where every run draws its own between `from` and `to`. */ readonly values: readonly (number | string)[] | null;
  readonly from: number | null;
  readonly to: number | null;
  /** Where half of the way from `from` to `to` lies; null: in the middle of the two. A band of a material has its typical bolt here. */ readonly middle:
    | number
    | null;
  /** Are steps and draws even by ratio rather than by difference? Rigidities are. */ readonly byRatio: boolean;
  /** Drawn in a sample rather than gone through. */ readonly drawn: boolean;
}

/** All runs of one bag that were asked for. Plain data: the same bag and question give the same plan, and the same plan the same runs. */
export interface Plan {
  readonly format: string;
  readonly formatVersion: 1;
  /** Version of the program that made it. */ readonly version: string;
  /** SHA-256 of the bag file's text. */ readonly bagDigest: string;
  readonly bag: string;
  readonly wanted: string;
  readonly axes: readonly Axis[];
  /** Draws that the drawn axes share, and the seed of their chance; null: everything is gone through. */ readonly samples: {
    readonly count: number;
    readonly seed: number;
  } | null;
  /** Ends of the band that each run settles. */ readonly bands: readonly Band[];
  /** m, the same for every run */ readonly edgeLength: number;
  /** How many runs there are; they are numbered from 0. */ readonly runs: number;
}

/** What one end of the band came to. */
export interface PlannedBand {
  readonly word: VerdictWord;
  readonly status: Status;
  readonly heightKept: number | null;
}

/** One run of a plan as it is written down when it ends. SI; no clock, so that the same run always is the same line. */
export interface PlannedRun {
  /** Its number, from 0. */ readonly run: number;
  /** First 16 digits of the plan's SHA-256. */ readonly plan: string;
  /** By the names of the axes, in their units. */ readonly values: Readonly<Record<string, number | string>>;
  readonly option: string;
  readonly stance: string;
  /** null: this bag cannot be sewn, meshed or hung so; `reason` says why. */ readonly word: VerdictWord | null;
  readonly reason: string;
  readonly margin: number | null;
  /** Of the typical bolt, else of the first end that was run. */ readonly heightKept: number | null;
  /** Of a hung bag, rad. */ readonly tilt: number | null;
  readonly meetsWanted: boolean | null;
  readonly decidedBy: Gate | 'nudge' | 'falling' | null;
  readonly massKg: number | null;
  readonly bands: Readonly<Partial<Record<Band, PlannedBand>>>;
}

/** How many of some runs hold. */
export interface HoldShare {
  readonly holds: number;
  /** Runs with a verdict. */ readonly of: number;
  /** 95 % interval of Wilson for the share, of runs that were drawn. Absent where their values were gone through one by one: those are no sample. */ readonly low?: number;
  readonly high?: number;
}

/** How much of the spread of a figure one axis alone accounts for. */
export interface FirstOrder {
  readonly axis: string;
  /** 0 to 1 in truth; an estimate from draws may fall a little outside. */ readonly share: number;
  /** 95 % interval, of runs that were drawn; absent where values were gone through one by one. */ readonly low?: number;
  readonly high?: number;
  /** Groups in which its values were laid together. */ readonly groups: number;
}
