/** Triangles that conform across seams, welded; exact crossing counts. */

export { countCrossings, findCrossings, strapCrossings } from './crossings.ts';
export { type FootPoint, feetOf, standsOnFeet } from './feet.ts';
export { EDGES_A_WAVE, shareAt } from './gathers.ts';
export { type Located, locate } from './locate.ts';
export { meshingPanels, meshPanels } from './mesh-panels.ts';
export { type BagMesh, EDGE_FREE, EDGE_INNER, EDGE_SEAM, type MeshOptions } from './types.ts';
export { edgeKey } from './weld.ts';
