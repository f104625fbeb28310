/** How long a strap is cut. */
import type { Strap } from './types.ts';

/** Turned under at each end of a strap, m. Common practice, no source. */
export const TURN_UNDER = 0.025;
/** Of a strap with an adjuster: folded back through it at its longest, and folded and sewn round its bar and round its ring, m. Common practice, no source. */
export const ADJUSTER = { foldedBack: 0.075, roundBar: 0.025, roundRing: 0.025 } as const;

/** Length to cut a strap at, m: between the tops of its patches at its longest, both patches, both ends turned under, and what an adjuster takes. */
export const strapCut = (s: Strap): number =>
  s.length +
  s.anchors[0].height +
  s.anchors[1].height +
  2 * TURN_UNDER +
  (s.shortest === undefined ? 0 : ADJUSTER.foldedBack + ADJUSTER.roundBar + ADJUSTER.roundRing);
