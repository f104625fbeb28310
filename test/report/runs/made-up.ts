/** Plans and runs made by hand, so that tables and statistics are tested without a solver. */
import type { Axis, Plan, PlannedRun } from '../../../src/report/index.ts';
import { planDigest } from '../../../src/report/index.ts';

export const drawnAxis = (name: string, from = 0, to = 1): Axis => ({
  name,
  kind: 'figures',
  unit: '',
  values: null,
  from,
  to,
  middle: null,
  byRatio: false,
  drawn: true,
});

export const stepsAxis = (name: string, values: readonly number[], unit = ''): Axis => ({
  ...drawnAxis(name, values[0], values.at(-1)),
  unit,
  values,
  drawn: false,
});

export function planOf(axes: readonly Axis[], runs: number, changes: Partial<Plan> = {}): Plan {
  return {
    format: 'slumpline plan',
    formatVersion: 1,
    version: '0.0.0',
    bagDigest: 'ab'.repeat(32),
    bag: 'Test tote',
    wanted: 'structured',
    axes,
    samples: axes.some((a) => a.drawn) ? { count: runs, seed: 1 } : null,
    bands: ['mid'],
    edgeLength: 0.05,
    runs,
    ...changes,
  };
}

const digests = new WeakMap<Plan, string>();
function digestOf(plan: Plan): string {
  const made = digests.get(plan) ?? planDigest(plan).slice(0, 16);
  digests.set(plan, made);
  return made;
}

export function madeRun(plan: Plan, run: number, values: PlannedRun['values'], changes: Partial<PlannedRun> = {}): PlannedRun {
  const heightKept = changes.heightKept === undefined ? 0.95 : changes.heightKept;
  return {
    run,
    plan: digestOf(plan),
    values,
    option: 'canvas',
    stance: 'standing',
    word: 'holds',
    reason: 'It keeps 95 % of its height.',
    margin: 0.5,
    tilt: null,
    meetsWanted: true,
    decidedBy: null,
    massKg: 0.2,
    bands: { mid: { word: changes.word ?? 'holds', status: 'settled', heightKept } },
    ...changes,
    heightKept,
  };
}
