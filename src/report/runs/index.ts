/** Runs of a plan: written down line by line, gathered from anywhere, as tables, text and plots. */
export { alongPlot } from './along-plot.ts';
export { axisTitle, casesOf, columnsOf } from './columns.ts';
export { lineOf, plannedRun, type ReadLines, readLines, refusedRun } from './lines.ts';
export { type Gathered, gatherRuns, manifestText, numbersText, planDifferences, planDigest, readManifest } from './manifest.ts';
export { type VerdictCell, verdictCells, verdictMap } from './map-plot.ts';
export { MOST_CELLS, type Plot, runsPlots } from './plots.ts';
export { type RunsTable, readRunsTable } from './read-table.ts';
export { firstOrderShares, SHARES_METHOD } from './shares.ts';
export { type Matters, runsCsv, runsJson, whatMatters } from './table.ts';
export { runsJsonSchema } from './table-schema.ts';
export { planText, runsText } from './text.ts';
export type { Axis, FirstOrder, HoldShare, Plan, PlannedBand, PlannedRun } from './types.ts';
export { holdShare, wilson } from './wilson.ts';
