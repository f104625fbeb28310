import type { Bag, Fault, NeedOptions, NeedProgress, NeedReport } from './core.ts';

/** What a bag would need to be what is wanted of it. */
export interface Ask {
  readonly job: number;
  readonly bag: Bag;
  readonly options: Omit<NeedOptions, 'onProgress'>;
}

export type Say =
  | { readonly job: number; readonly kind: 'stage'; readonly at: Pick<NeedProgress, 'factor' | 'band' | 'alone' | 'finer' | 'fraction'> }
  | { readonly job: number; readonly kind: 'need'; readonly report: NeedReport }
  | { readonly job: number; readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly job: number; readonly kind: 'failed'; readonly message: string };
