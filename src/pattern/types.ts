/** Records of the pattern that other rooms name. */
export type { FinishedPart } from './cutlist/types.ts';
