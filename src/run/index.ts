/** The way through the house as code: a scene, a band's run, previews, maps, sweeps, changes. */
export { type ChangeOptions, rankChanges } from './changes.ts';
export { GAP_REACH, type Settled, settledMaps } from './maps.ts';
export { Cancelled, DEFAULT_EDGE, fall, type PreviewOptions, prepare, previewBag, type Scene, type SceneOptions, sew } from './preview.ts';
export { preview } from './preview-file.ts';
export { EDGE_RANGE, prepareScene, settleBag, settlingBag, strapsAt } from './settle-bag.ts';
export { type SweepOptions, sweepAnchors, sweepLoad } from './sweep.ts';
