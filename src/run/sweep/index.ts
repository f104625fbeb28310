/** A bag hung from its anchors at several places, under several loads, and with single changes. */
export { type AnchorSweepOptions, anchorSeries, sweepAnchors } from './anchors.ts';
export { type LoadSweepOptions, loadSeries, sweepLoad } from './load.ts';
export type { SweepOptions } from './plan.ts';
export { type SingleChangeOptions, singleChangeSeries, singleChanges } from './single-changes.ts';
export { usualDistances } from './usual.ts';
