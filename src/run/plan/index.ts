/** Many runs of one bag from one question: planned, settled anywhere and in any order, stopped and gone on with. */
export { type RunOfPlan, runsOf } from './bag-of-run.ts';
export { latinHypercube } from './latin.ts';
export { type PlanOptions, planRuns, valuesOf } from './plan.ts';
export { type RunPlanOptions, runPlan, shardOf } from './run-plan.ts';
