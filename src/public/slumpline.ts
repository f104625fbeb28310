/**
 * `slumpline`: a bag file in, a verdict with its reasons out. What is needed beside it stands in entries of its own, so that a program carries only what it calls:
 * `slumpline/bag` (reading and writing bag files), `/pattern` (flat panels), `/material`, `/swatch`, `/report` (every way to show a result), `/stages` (the way
 * through the house step by step), `/units`, `/worker` (previews beside your own program).
 */
export { BagError, parseBag } from '../bag/index.ts';
export type * from '../bag/types.ts';
export type { Band, Evidence } from '../material/types.ts';
export type * from '../measures/types.ts';
export type { BagMesh } from '../mesh/types.ts';
export { PatternError } from '../panels/index.ts';
export {
  type AnchorSweep,
  type ChangeEffect,
  type ChangeReport,
  type Effect,
  type HangReport,
  type LoadSweep,
  type NeedEdge,
  type NeedPanels,
  type NeedReport,
  type NeedSearch,
  type NeedStack,
  type NeedStance,
  type NeedTry,
  type SingleChange,
  type SweepStep,
  textReport,
  VERSION,
} from '../report/index.ts';
export type * from '../report/types.ts';
export {
  type AnchorSweepOptions,
  type AsyncOptions,
  Cancelled,
  type ChangeOptions,
  type EarlyNews,
  type Executor,
  findNeed,
  type JobOptions,
  type JobWatch,
  type LoadSweepOptions,
  type NeedOptions,
  type NeedProgress,
  type NeedRun,
  type PreviewJob,
  type PreviewOptions,
  type PreviewProgress,
  preview,
  previewAnchors,
  previewChanges,
  previewLoads,
  previewNeed,
  previewSingleChanges,
  previewSync,
  type RunProgress,
  rankChanges,
  type SeriesProgress,
  type SeriesRun,
  type SingleChangeOptions,
  type StopSignal,
  type SweepOptions,
  singleChanges,
  sweepAnchors,
  sweepLoad,
  type Told,
  type Unchecked,
  usualDistances,
} from '../run/index.ts';
