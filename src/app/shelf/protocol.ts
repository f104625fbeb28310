import type { Bag, ChooseReport, Criterion, Fault, Kept, WrittenChoice } from './core.ts';

/** Which stacks of a shelf do what is wanted of a bag. */
export interface Ask {
  readonly job: number;
  readonly bag: Bag;
  /** Value of a shelf file. */ readonly shelf: unknown;
  readonly options: {
    readonly option: string;
    readonly stance: string;
    readonly by: Criterion;
    readonly keep: readonly ('shell' | 'lining')[];
    readonly most: number;
    readonly bolt: 'typical' | 'soft';
    readonly edgeLength?: number;
  };
  /** What earlier searches settled. */ readonly known: readonly Kept[];
}

export type Say =
  /** run: how many are settled and about how many are left, in words. stack: the one being settled. */
  | { readonly job: number; readonly kind: 'stage'; readonly run: string; readonly stack: string; readonly fraction: number }
  | { readonly job: number; readonly kind: 'ready'; readonly stacks: number }
  | { readonly job: number; readonly kind: 'kept'; readonly kept: Kept }
  /** chosen: what would make an option of each settled stack, by its place. */
  | { readonly job: number; readonly kind: 'done'; readonly report: ChooseReport; readonly chosen: readonly (readonly [number, WrittenChoice])[] }
  | { readonly job: number; readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly job: number; readonly kind: 'failed'; readonly message: string };
