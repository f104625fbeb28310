/**
 * `slumpline/sweep`: many runs of one bag from one question: planned (planRuns), settled here, in threads or on other machines in any order (runPlan), written down line by
 * line (lineOf), gathered from anywhere (gatherRuns), as tables, text and plots; a table is read back (readRunsTable).
 */
export { BagError, type Fault } from '../bag/types.ts';
export {
  type Axis,
  alongPlot,
  type FirstOrder,
  firstOrderShares,
  type Gathered,
  gatherRuns,
  type HoldShare,
  holdShare,
  lineOf,
  type Matters,
  manifestText,
  numbersText,
  type Plan,
  type PlannedBand,
  type PlannedRun,
  type Plot,
  planDifferences,
  planDigest,
  planText,
  type ReadLines,
  type RunsTable,
  readLines,
  readManifest,
  readRunsTable,
  runsCsv,
  runsJson,
  runsJsonSchema,
  runsPlots,
  runsText,
  SHARES_METHOD,
  type VerdictCell,
  verdictCells,
  verdictMap,
  whatMatters,
  wilson,
} from '../report/index.ts';
export { latinHypercube, type PlanOptions, planRuns, type RunOfPlan, type RunPlanOptions, runPlan, runsOf, shardOf, valuesOf } from '../run/index.ts';
