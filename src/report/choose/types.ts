import type { Wanted } from '../../bag/types.ts';
import type { Bought } from '../../shelf/types.ts';
import type { Status } from '../../solver/types.ts';
import type { NeedReport } from '../need/types.ts';
import type { Fit, Verdict, VerdictWord } from '../types.ts';

/** By what the stacks that do are ranked. */
export type Criterion = 'weight' | 'cost' | 'bulk' | 'layers';

/** What is taken of one material of the shelf. */
export interface ChosenCut {
  readonly item: string;
  readonly name: string;
  /** m2 at the cut lines. */ readonly area: number;
  /** null where the shelf does not say how it is sold. */ readonly bought: Bought | null;
}

/** A stack before it is settled: everything that follows from the pattern alone. */
export interface ChosenStack {
  /** Place in the order of the criterion, from 1. */ readonly place: number;
  readonly name: string;
  /** kg as cut, allowances and straps included. */ readonly weight: number;
  /** In the shelf's currency; null where a price is missing. */ readonly cost: number | null;
  /** Thickest seam, m. */ readonly bulk: number;
  /** Pieces to cut: layers of every panel. */ readonly layers: number;
  readonly cut: readonly ChosenCut[];
}

/** A stack that was settled. */
export interface SettledStack extends ChosenStack {
  /** Of the bolt that decides (`bolt` of the report). */ readonly word: VerdictWord;
  readonly fit: Fit | null;
  readonly side: 'soft' | 'meets' | 'stiff' | null;
  /** As Verdict.margin; null without a verdict. */ readonly margin: number | null;
  readonly status: Status;
  readonly residual: number;
  /** All three bolts and the verdict over them; of the ranked ones alone. */ readonly whole?: {
    readonly word: VerdictWord;
    readonly byBand: Verdict['byBand'];
    readonly margin: number | null;
  };
}

/** What a shelf has for a bag. */
export interface ChooseReport {
  readonly bag: string;
  readonly option: string;
  readonly stance: string;
  readonly hung: boolean;
  readonly wanted: Wanted;
  readonly by: Criterion;
  readonly bolt: 'typical' | 'soft';
  readonly shelf: string;
  readonly currency: string;
  readonly edgeLength: number;
  readonly vertices: number;
  /** Stacks that the shelf allows. */ readonly stacks: number;
  /** Stacks ruled out, by rule; none of them was settled. */ readonly ruledOut: { readonly softer: number; readonly stiffer: number; readonly behind: number };
  /** Stacks that do, best first. */ readonly ranked: readonly SettledStack[];
  /** All that was settled, in the order of the criterion. */ readonly settled: readonly SettledStack[];
  /** How many were asked for; fewer in `ranked` means that there are no more. */ readonly asked: number;
  /** Where nothing does: the settled stack that misses least, and what it would need. */
  readonly nearest: { readonly stack: SettledStack; readonly need: NeedReport | null } | null;
  readonly notes: readonly string[];
}
