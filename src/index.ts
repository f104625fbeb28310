/**
 * The public API: preview() and the stages. The browser page and the command line reach the core only through here.
 *
 *   preview(spec):  bag = parseBag(spec); draft = draftPanels(bag); mesh = meshPanels(bag, draft, ...); laminates = layUp(bag, ...);
 *                   model = assemble(...); state = standing(model); return judge(measure(state))
 */

export { checkBulk, checkMembers, checkThread, memberLines } from './assembly/index.ts';
export {
  type AnchorPlace,
  anchorPlace,
  anchorRange,
  type BagDocument,
  BagError,
  bagJsonSchema,
  EVERY_PANEL,
  type EverydayThing,
  edgeLength,
  flatten,
  lengthIn,
  multipleOf,
  nearestWord,
  newBag,
  outlineArea,
  PRESET_IDS,
  PRESSED,
  type PresetId,
  parseBag,
  parseBagDocument,
  pointAt,
  polygonOf,
  printBag,
  type Renamed,
  ROLES,
  SEAM_TYPES,
  type SizeChange,
  strapFamily,
  strapNames,
  stripAlong,
  type Template,
  templates,
  usualHung,
  usualThing,
  WANTED,
  withAnchorsAt,
  withParameter,
  withSize,
  withValue,
  writtenLength,
} from './bag/index.ts';
export type * from './bag/types.ts';
export {
  type BagLaminates,
  type Band,
  type BondLayer,
  bentStrip,
  bondedRigidity,
  compressionRatio,
  DEFAULT_BOND,
  EVIDENCE_ROWS,
  type Evidence,
  type EvidenceRow,
  fromStrips,
  type HangingStrip,
  hangingStrip,
  hangingTilt,
  hardwareFigures,
  hardwareWords,
  inwardPull,
  isotropicStack,
  type Laminate,
  laminateOf,
  layUp,
  loadAtChordAngle,
  type MaterialBands,
  materialBands,
  memberFigures,
  memberWords,
  middles,
  overhang,
  overhangUpright,
  perInch,
  plateRigidity,
  presetNames,
  presetNotes,
  presets,
  QUICK_THREAD_RATIO,
  rigidityAlong,
  type SewnLayers,
  type Stitching,
  type StitchReference,
  type StitchType,
  seamEfficiency,
  seamStrength,
  sewnLayers,
  sidePressureRatio,
  stitchingOf,
  stitchReference,
  strapAngle,
  strapTension,
  stripRigidity,
  type TautLayer,
  threadUse,
  twistFromBias,
  weakest,
} from './material/index.ts';
export {
  type GapMap,
  measure,
  type Nearness,
  type PanelPoint,
  type PartStrain,
  type SeamForces,
  type SeamPoint,
  STRAIN_LIMIT,
  type StrainMap,
  type StrainMeasures,
  type Where,
  whereMeasured,
} from './measures/index.ts';
export type * from './measures/types.ts';
export { type BagMesh, countCrossings, EDGE_FREE, EDGE_INNER, EDGE_SEAM, type MeshOptions, meshPanels } from './mesh/index.ts';
export { sha256 } from './numerics/index.ts';
export { checkPattern, type Draft, draftPanels, type Finding, PatternError, refuseUnsewable, topologyFindings } from './panels/index.ts';
export * from './pattern/index.ts';
export * from './report/index.ts';
export type * from './report/types.ts';
export {
  type AnchorSweepOptions,
  BANDS,
  Cancelled,
  type ChangeOptions,
  type ChooseOptions,
  CRITERIA,
  choose,
  chooseAmong,
  coarseEdge,
  cornersPressed,
  type EarlyNews,
  EDGE_RANGE,
  type Executor,
  fall,
  findNeed,
  finishedParts,
  GAP_REACH,
  type JobWatch,
  type Kept,
  type LoadSweepOptions,
  type NeedOptions,
  type NeedProgress,
  type OpenedResults,
  openResults,
  type PreparedShelf,
  type PreviewJob,
  type PreviewOptions,
  type PreviewProgress,
  planRuns,
  prepare,
  prepareScene,
  prepareShelf,
  preview,
  previewAnchors,
  previewBag,
  previewChanges,
  previewLoads,
  previewNeed,
  previewSingleChanges,
  previewSync,
  type RunProgress,
  rankChanges,
  resultsAgain,
  runPlan,
  runsOf,
  type Scene,
  type SceneOptions,
  type SeriesProgress,
  type Settled,
  type SweepOptions,
  settleBag,
  settledMaps,
  settlingBag,
  sew,
  shardOf,
  singleChanges,
  strapsAt,
  sweepAnchors,
  sweepLoad,
  type Told,
  type Unchecked,
  usualDistances,
  usualEdge,
  type WrittenChoice,
  weigh,
  wholeReport,
  writtenChoice,
} from './run/index.ts';
export * from './shelf/index.ts';
export { compiledKernels, createFall, type Drop, type Fall, settle, takeKernels } from './solver/index.ts';
export * from './swatch/index.ts';
export * from './units/index.ts';

import type { Drop } from './solver/index.ts';

/** How rigid contents are let fall, loaded when it is needed: 35 kB that most bags do without. */
export const loadDrop = async (): Promise<Drop> => (await import('./solver/rigid.ts')).drop;

/** What hung bags need of the solver besides, loaded before one hangs. */
export const loadArcs = async (): Promise<void> => (await import('./solver/arcs.ts')).readyForArcs();

/** Patterns to scale, cutting lists and lays, loaded when they are needed: a font and a clipping library that the first view does without. */
export const loadCutting = () => import('./pattern/cutting.ts');

/** The settled bag for other programs (glTF, STL), loaded when it is needed: a library that a verdict does without. */
export const loadShapes = () => import('./report/shapes.ts');
export type * from './solver/types.ts';
