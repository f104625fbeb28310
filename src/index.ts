/**
 * The public API: preview() and the stages. The browser page and the command line reach the core only through here.
 *
 *   preview(spec):  bag = parseBag(spec); draft = draftPanels(bag); mesh = meshPanels(bag, draft, ...); laminates = layUp(bag, ...);
 *                   model = assemble(...); state = standing(model); return judge(measure(state))
 */
export { checkBulk } from './assembly/check-bulk.ts';
export { checkThread } from './assembly/check-thread.ts';
export * from './bag/index.ts';
export type * from './bag/types.ts';
export { BagError } from './bag/types.ts';
export { type ChangeOptions, rankChanges } from './changes.ts';
export { GAP_REACH, type Settled, settledMaps } from './maps.ts';
export * from './material/index.ts';
export type { GapMap, Nearness } from './measures/gap.ts';
export { measure } from './measures/measure.ts';
export type { SeamForces, SeamPoint } from './measures/seam-force.ts';
export { type PartStrain, STRAIN_LIMIT, type StrainMeasures } from './measures/strain.ts';
export type { PanelPoint, StrainMap } from './measures/strain-map.ts';
export type * from './measures/types.ts';
export { type Where, whereMeasured } from './measures/where.ts';
export { countCrossings } from './mesh/crossings.ts';
export { meshPanels } from './mesh/meshPanels.ts';
export { type BagMesh, EDGE_FREE, EDGE_INNER, EDGE_SEAM, type MeshOptions } from './mesh/types.ts';
export { checkPattern } from './panels/check.ts';
export { draftPanels } from './panels/draftPanels.ts';
export type { Draft } from './panels/types.ts';
export { type Move, moved, type SideLengths, sideLengths } from './pattern/edit.ts';
export { type FlatLayout, type FlatOptions, flatLayout, flatSvg } from './pattern/flat.ts';
export { type Handle, handlesOf } from './pattern/handles.ts';
export { Cancelled, DEFAULT_EDGE, fall, type PreviewOptions, prepare, previewBag, type Scene, type SceneOptions, sew } from './preview.ts';
export { preview } from './preview-file.ts';
export * from './report/index.ts';
export type * from './report/types.ts';
export { EDGE_RANGE, prepareScene, settleBag, settlingBag, strapsAt } from './settle-bag.ts';
export { createFall, type Drop, type Fall, settle } from './solver/index.ts';

import type { Drop } from './solver/index.ts';

/** How rigid contents are let fall, loaded when it is needed: 35 kB that most bags do without. */
export const loadDrop = async (): Promise<Drop> => (await import('./solver/rigid.ts')).drop;
export type * from './solver/types.ts';
export * from './swatch/index.ts';
export { type SweepOptions, sweepAnchors, sweepLoad } from './sweep.ts';
export * from './units/index.ts';
