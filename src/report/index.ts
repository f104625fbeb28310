/** Reports: the verdict and every form in which it is shown or written. */

export { heightOf, judgeBand, nearItsLimit } from './band.ts';
export * from './changes/index.ts';
export type { ChangeEffect, ChangeReport, Effect } from './changes/types.ts';
export * from './choose/index.ts';
export { closureLines } from './closures.ts';
export { earlyWord, endThatFollows, GONE_BELOW, withFollowing } from './early-word.ts';
export { bagTextIn, holdsResults, resultsTextIn } from './embedded.ts';
export { aroundWords } from './ground.ts';
export { chosenOption } from './html/answer.ts';
export type { ReportBlock, ReportPart } from './html/blocks.ts';
export { htmlReport, type ReportExtras } from './html.ts';
export { HANGING_CAUTIONS, hungLines } from './hung.ts';
export {
  BATCH_FORMAT,
  batchRecord,
  RESULT_FORMAT,
  RESULT_VERSION,
  resultJson,
  resultRecord,
  resultsJson,
  resultsRecord,
  stableJson,
  type Trace,
} from './json.ts';
export { judge, leadRun } from './judge.ts';
export { flatCurvature, flatMap, LINE_WIDTH } from './maps/colouring.ts';
export { cssColour, MAP_STEPS, mapColours, oklch, type Rgb, TIGHT_CURVATURE } from './maps/colours.ts';
export { type Findings, findingsOf } from './maps/findings.ts';
export { MAP_NAMES, type MapName, mapPicture } from './maps/picture.ts';
export { type Scale, scaleOf, stepColours } from './maps/scale.ts';
export { bendOf, type Drawn, type PanelPatch, panelPatches, pose } from './maps/surface.ts';
export type { MapKind, SettledMaps } from './maps/types.ts';
export { words as mapWords } from './maps/words.ts';
export * from './need/index.ts';
export { meshObj } from './obj.ts';
export { overStances } from './over-stances.ts';
export { type AnchorTrack, anchorTracks } from './picture/anchor-tracks.ts';
export { standingHandle } from './picture/handle.ts';
export { hungDrawing, hungPicture } from './picture/hanging.ts';
export type { Colouring } from './picture/paint.ts';
export { MOST_SHOWN, picture } from './picture/picture.ts';
export { solidOf, solidOfThing } from './picture/solids.ts';
export { type StartPicture, startPicture } from './picture/start.ts';
export { FONT, INK, MUTED, PAPER, RULE } from './picture/tokens.ts';
export { crc32, pngOfSize } from './raster/png.ts';
export { batchJsonSchema, readBatch, readResults, resultsJsonSchema } from './read-results.ts';
export type { BatchRecord, LinesRecord, ResultRecord, ResultsRecord, RunRecord, VerdictRecord } from './results-record.ts';
export { type Row, rowsOf } from './rows.ts';
export * from './runs/index.ts';
export { isWorse, SEVERITY } from './severity.ts';
export { stancesText } from './stances.ts';
export * from './sweep/index.ts';
export type { AnchorSweep, Inside, LoadSweep, SingleChange, SweepStep } from './sweep/types.ts';
export { compareText, type Style, textReport } from './text.ts';
export { cameBackWithin, gateValue, marginOf, PUDDLE, THRESHOLDS, type Threshold, UNAIDED, wordOf } from './thresholds.ts';
export { VERSION } from './version.ts';
export { CAUTIONS, pipsLine } from './words.ts';
