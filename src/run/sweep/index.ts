/** A bag hung from its anchors at several places, under several loads, and with single changes. */
export { type AnchorSweepOptions, sweepAnchors } from './anchors.ts';
export { type LoadSweepOptions, sweepLoad } from './load.ts';
export type { SweepOptions } from './plan.ts';
export { singleChanges } from './single-changes.ts';
export { usualDistances } from './usual.ts';
