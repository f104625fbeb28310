/** Settled positions -> heights, lean, bulge, volume, strain and what hangs. */

export { type ClosureMeasures, measureClosures } from './closures.ts';
export { convexHull } from './footprint.ts';
export { type GapMap, gapMap, type Nearness, type Toucher } from './gap.ts';
export { hungGates, measureHung } from './hung.ts';
export { draftedHeightOf, markPositions, measure, measuring } from './measure.ts';
export { membraneOf } from './membrane.ts';
export { type Rim, rimOf } from './rim.ts';
export { type SeamForces, type SeamPoint, seamForces } from './seam-force.ts';
export { measureStrain, type PartStrain, STRAIN_LIMIT, type StrainInput, type StrainMeasures } from './strain.ts';
export { type PanelPoint, type StrainMap, strainMap } from './strain-map.ts';
export { type Balance, balanceOf } from './tipping.ts';
export { type Where, whereMeasured } from './where.ts';
