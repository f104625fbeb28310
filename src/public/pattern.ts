/** `slumpline/pattern`: the flat panels of a bag: drafted, checked for what cannot be sewn, laid out to scale. */

export { BagError, edgeLength, flatten, outlineArea, pointAt, polygonOf } from '../bag/index.ts';
export type { Bag, EdgeRun, OutlineEdge, Panel, Point2, Seam } from '../bag/types.ts';
export { checkPattern, type Draft, draftPanels, type Finding, PatternError, refuseUnsewable, topologyFindings } from '../panels/index.ts';
export { type FlatLayout, type FlatOptions, flatLayout, flatSvg, type SideLengths, sideLengths } from '../pattern/index.ts';
