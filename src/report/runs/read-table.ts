/** A table of runs read back: for plots and words, with nothing settled. */
import { BagError, type Fault } from '../../bag/types.ts';
import { isRun } from './lines.ts';
import { planDigest } from './manifest.ts';
import { TABLE_FORMAT } from './table.ts';
import type { Plan, PlannedRun } from './types.ts';

/** What a sweep asked and what came of it. */
export interface RunsTable {
  readonly plan: Plan;
  /** Those that are there, in the order of their numbers. */ readonly runs: readonly PlannedRun[];
}

/** Most faults that are listed. */
const MOST = 20;

/**
 * The table.json of a sweep (runsJson) as its plan and runs. Errors: BagError with every fault (20 at most): no such table, another version of it, a plan that was changed by hand, a run that
 * is none, stands twice, has a number that the plan does not have, or lacks a value that the plan varies.
 */
export function readRunsTable(text: string): RunsTable {
  const refuse = (path: string, got: string, expected: string): never => {
    throw new BagError([{ path, got, expected }]);
  };
  if (typeof text !== 'string') return refuse('', JSON.stringify(text) ?? String(text), 'the text of a table.json that sweep or merge has written');
  let read: { format?: unknown; formatVersion?: unknown; planDigest?: unknown; plan?: Plan; runs?: unknown } | null;
  try {
    read = JSON.parse(text);
  } catch (error) {
    return refuse('', (error as Error).message, 'a table.json that sweep or merge has written (JSON)');
  }
  if (typeof read !== 'object' || read === null || read.format !== TABLE_FORMAT)
    return refuse('format', JSON.stringify(read?.format) ?? 'nothing', `"${TABLE_FORMAT}": a table.json that sweep or merge has written`);
  if (read.formatVersion !== 1) return refuse('formatVersion', JSON.stringify(read.formatVersion) ?? 'nothing', '1, the only one there is');
  const { plan, runs } = read;
  if (typeof plan !== 'object' || plan === null || planDigest(plan) !== read.planDigest)
    return refuse('plan', 'a plan that was changed, or none', 'the plan as sweep wrote it');
  if (!Array.isArray(runs)) return refuse('runs', JSON.stringify(runs)?.slice(0, 60) ?? 'nothing', 'a list of runs');
  const faults: Fault[] = [],
    seen = new Set<number>(),
    digest = planDigest(plan).slice(0, 16);
  const made = runs.flatMap((value: unknown, i): PlannedRun[] => {
    const run: unknown = typeof value === 'object' && value !== null ? { ...value, plan: digest } : value,
      fault = faultOf(run, plan, seen);
    if (fault === null) return [run as PlannedRun];
    if (faults.length < MOST) faults.push({ path: `runs[${i}]${fault.path}`, got: fault.got, expected: fault.expected });
    return [];
  });
  if (faults.length > 0) throw new BagError(faults);
  return { plan, runs: made.sort((a, b) => a.run - b.run) };
}

function faultOf(run: unknown, plan: Plan, seen: Set<number>): Fault | null {
  if (!isRun(run)) return { path: '', got: (JSON.stringify(run) ?? String(run)).slice(0, 60), expected: 'a run as sweep writes it' };
  if (run.run >= plan.runs) return { path: '.run', got: String(run.run), expected: `a number under ${plan.runs}` };
  if (seen.has(run.run)) return { path: '.run', got: `${run.run} once more`, expected: 'each run once' };
  seen.add(run.run);
  for (const axis of plan.axes) {
    const value = run.values[axis.name];
    if (typeof value !== (axis.kind === 'figures' ? 'number' : 'string'))
      return { path: `.values.${axis.name}`, got: JSON.stringify(value) ?? 'nothing', expected: axis.kind === 'figures' ? 'a number' : 'a name' };
  }
  return null;
}
