/** All runs of a plan as tables: for a spreadsheet, and for a program. Ordered by the runs' numbers, so that it does not hang on which ended first. */
import { csvCell } from '../../units/index.ts';
import { stableJson } from '../json.ts';
import { axisTitle, casesOf } from './columns.ts';
import { planDigest } from './manifest.ts';
import { firstOrderShares, SHARES_METHOD } from './shares.ts';
import type { FirstOrder, Plan, PlannedRun } from './types.ts';
import { holdShare, holds } from './wilson.ts';

/** What a table of runs calls itself. */
export const TABLE_FORMAT = 'slumpline sweep table';

const cell = (value: string | number | boolean | null): string => csvCell(value === null ? '' : String(value));

const rounded = (v: number | null, digits: number): string => (v === null ? '' : v.toFixed(digits));

/** One row a run: what it took, its word, its figures. Heights in per cent of the drafted one, tilt in degrees, mass in grams. */
export function runsCsv(plan: Plan, runs: readonly PlannedRun[]): string {
  const axes = plan.axes.filter((a) => a.kind === 'figures'),
    head = ['run', ...axes.map(axisTitle), 'option', 'stance', 'verdict', 'height kept (%)', 'tilt (deg)', 'margin', 'wanted', 'decided by', 'mass (g)'],
    bands = plan.bands.length > 1 ? plan.bands : [];
  const rows = runs.map((r) => [
    r.run,
    ...axes.map((a) => r.values[a.name]!),
    r.option,
    r.stance,
    r.word ?? 'cannot be made',
    rounded(r.heightKept === null ? null : 100 * r.heightKept, 1),
    rounded(r.tilt === null ? null : (180 * r.tilt) / Math.PI, 2),
    rounded(r.margin, 3),
    r.meetsWanted === null ? '' : r.meetsWanted ? 'yes' : 'no',
    r.decidedBy,
    rounded(r.massKg === null ? null : 1000 * r.massKg, 0),
    ...bands.flatMap((b) => [r.bands[b]?.word ?? '', rounded(r.bands[b]?.heightKept == null ? null : 100 * r.bands[b]!.heightKept!, 1)]),
    r.reason,
  ]);
  const heads = [...head, ...bands.flatMap((b) => [`${b}: verdict`, `${b}: height kept (%)`]), 'reason'];
  return `${[heads, ...rows].map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
}

/** What matters, of the runs of one option in one stance. */
export interface Matters {
  readonly option: string;
  readonly stance: string;
  readonly height: readonly FirstOrder[];
  readonly holds: readonly FirstOrder[];
}

/** Heights that differ by less are the scatter of meshes and starts. */
const ALIKE = 0.005;

const heights = (runs: readonly PlannedRun[]): readonly number[] => runs.flatMap((r) => (r.heightKept === null ? [] : [r.heightKept]));
const spread = (list: readonly number[]): number => list.reduce((a, b) => Math.max(a, b), -1) - list.reduce((a, b) => Math.min(a, b), 2);

/**
 * First-order shares of the height and of whether it holds, by option and stance: what differs between those is no scatter of a hide. Heights within half a per cent of one another
 * give none.
 */
export const whatMatters = (plan: Plan, runs: readonly PlannedRun[]): Matters[] =>
  casesOf(runs).map(({ option, stance, runs: own }) => ({
    option,
    stance,
    height: spread(heights(own)) < ALIKE ? [] : firstOrderShares(plan.axes, own, (r) => r.heightKept, plan.samples !== null),
    holds: firstOrderShares(plan.axes, own, (r) => (r.word === null || r.word === 'no verdict' ? null : holds(r) ? 1 : 0), plan.samples !== null),
  }));

/** Plan, every run, how many hold and what matters, as JSON. */
export const runsJson = (plan: Plan, runs: readonly PlannedRun[]): string =>
  stableJson({
    format: TABLE_FORMAT,
    formatVersion: 1,
    planDigest: planDigest(plan),
    plan,
    holds: casesOf(runs).map(({ option, stance, runs: own }) => ({ option, stance, ...holdShare(own, plan.samples !== null) })),
    matters: { method: SHARES_METHOD, byCase: whatMatters(plan, runs) },
    runs: runs.map(({ plan: _, ...run }) => run),
  });
