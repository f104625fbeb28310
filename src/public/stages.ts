/**
 * `slumpline/stages`: the way through the house one step at a time, for those who look inside or bring a mesh or a model of their own:
 * parseBag -> draftPanels -> meshPanels -> layUp -> assemble (all in `prepare`) -> settle -> measure -> judge.
 */
export { checkBulk, checkMembers, checkThread } from '../assembly/index.ts';
export { BagError, parseBag } from '../bag/index.ts';
export { layUp } from '../material/index.ts';
export type { BagLaminates, Band, Laminate } from '../material/types.ts';
export { measure } from '../measures/index.ts';
export type * from '../measures/types.ts';
export { type BagMesh, countCrossings, EDGE_FREE, EDGE_INNER, EDGE_SEAM, type MeshOptions, meshPanels } from '../mesh/index.ts';
export { checkPattern, type Draft, draftPanels, PatternError, refuseUnsewable } from '../panels/index.ts';
export { judge } from '../report/index.ts';
export type * from '../report/types.ts';
export {
  coarseEdge,
  cornersPressed,
  EDGE_RANGE,
  fall,
  prepare,
  type Scene,
  type SceneOptions,
  type Settled,
  settledMaps,
  sew,
  usualEdge,
} from '../run/index.ts';
export { createFall, type Fall, settle } from '../solver/index.ts';
export type * from '../solver/types.ts';
