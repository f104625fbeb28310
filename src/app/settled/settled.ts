import type { Result } from '../core.ts';
import packed from './harbour-tote.json';
import { type PackedResults, unpackResults } from './pack.ts';

/** The example as `npm run bench:settled -- --write` settled it, whole band, on the quick mesh: what a first visit sees before this machine has settled anything itself. */
export const settledBefore = (): Result[] => unpackResults(packed as PackedResults);
