import type { Settled, SettledMaps } from './core.ts';

/** One settled state whose maps are asked for. */
export interface Ask {
  readonly id: number;
  readonly settled: Settled;
}

export type Say = { readonly id: number; readonly maps: SettledMaps } | { readonly id: number; readonly failed: string };
