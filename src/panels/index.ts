/** Flat panels: exact outlines, seams paired, what a pattern check finds. */

export { boxedPart } from './boxed.ts';
export { addBreakpoint, type Breakpoints, seamEnds, spreadBreakpoints } from './breakpoints.ts';
export { placeKey, placeOnSide, SewnPlaces } from './chains.ts';
export { checkPattern } from './check.ts';
export { topologyFindings, toRepeat } from './check-topology.ts';
export { draftPanels } from './draft-panels.ts';
export { advised, type Finding, millimetres } from './findings.ts';
export { type HeldStrip, heldStrips, type Quad, quadsOf } from './held-strips.ts';
export { polyline } from './outline.ts';
export { PatternError, refuseUnsewable } from './refuse.ts';
export { findSeamStretches, type SeamStretches } from './seam-stretches.ts';

export type { Draft } from './types.ts';
