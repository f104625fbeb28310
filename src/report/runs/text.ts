/** All runs of a plan in a few lines. */
import { SEVERITY } from '../severity.ts';
import { axisTitle, casesOf, columnsOf } from './columns.ts';
import { type Matters, whatMatters } from './table.ts';
import type { Axis, FirstOrder, HoldShare, Plan, PlannedRun } from './types.ts';
import { holdShare } from './wilson.ts';

const percent = (v: number): string => `${Math.round(100 * v)} %`;

/** "holds in 46 of 50 (92 %; 95 % interval 81 to 97 %)". Values that were gone through one by one are no sample: their share has no interval. */
const holdWords = (s: HoldShare, of = ''): string =>
  s.of === 0
    ? 'no run has a verdict'
    : `holds in ${s.holds} of ${s.of}${of} (${percent(s.holds / s.of)}${s.low === undefined ? '' : `; 95 % interval ${percent(s.low)} to ${percent(s.high!)}`})`;

/** "W 260 to 340 mm in 5 steps" */
function axisWords(axis: Axis): string {
  const unit = axis.unit === '' ? '' : ` ${axis.unit}`;
  if (axis.kind === 'words') return `${axis.name}: ${axis.values!.join(' | ')}`;
  if (axis.from === null) return `${axis.name}: ${axis.values!.join(' | ')}${unit}`;
  const steps = axis.values === null ? 'drawn' : `${axis.drawn ? 'drawn from' : 'in'} ${axis.values.length} steps`;
  return `${axis.name}: ${axis.from} to ${axis.to}${unit}, ${steps}${axis.byRatio ? ', even by ratio' : ''}`;
}

/** What is asked, before anything is settled. */
export function planText(plan: Plan): string {
  const drawn = plan.samples === null ? [] : [`${plan.samples.count} draws of a Latin hypercube, seed ${plan.samples.seed}`];
  return `${[
    `${plan.bag}: ${plan.runs} runs, mesh ${Number((1000 * plan.edgeLength).toPrecision(4))} mm, ${plan.bands.join(', ')} of the material's band`,
    ...plan.axes.map(axisWords),
    ...drawn,
  ].join('\n  ')}\n`;
}

/** How many hold, of which words, along which values, and which parameters matter; a block for every option and stance. */
export function runsText(plan: Plan, runs: readonly PlannedRun[]): string {
  const draws = plan.samples !== null && plan.axes.every((a) => a.drawn || a.kind === 'words'),
    matters = whatMatters(plan, runs);
  const blocks = casesOf(runs).map((c, i) => {
    const refused = c.runs.filter((r) => r.word === null),
      silent = c.runs.filter((r) => r.word === 'no verdict').length;
    return [
      `${c.option}, ${c.stance}: ${holdWords(holdShare(c.runs, plan.samples !== null), draws ? ' draws' : ' runs')}`,
      `  ${wordCounts(c.runs)}`,
      ...(silent > 0 ? [`  ${silent} did not come to rest: they count neither way`] : []),
      ...(refused.length > 0 ? [`  ${refused.length} cannot be made, such as run ${refused[0]!.run}: ${refused[0]!.reason.slice(0, 160)}`] : []),
      ...plan.axes.filter((a) => a.kind === 'figures').flatMap((a) => along(a, c.runs, plan.samples !== null)),
      ...mattersLines(matters[i]!),
    ].join('\n');
  });
  return `${blocks.join('\n\n')}\n`;
}

const wordCounts = (runs: readonly PlannedRun[]): string =>
  SEVERITY.flatMap((word) => {
    const n = runs.filter((r) => r.word === word).length;
    return n === 0 ? [] : [`${word} ${n}`];
  }).join(', ');

/** Most values of an axis in a table of text. */
const MOST = 12;

function along(axis: Axis, runs: readonly PlannedRun[], drawn: boolean): string[] {
  const columns = columnsOf(axis, runs);
  if (columns.length < 2 || columns.length > MOST) return [];
  const width = Math.max(...columns.map((c) => c.label.length));
  return [`  ${axisTitle(axis)}:`, ...columns.map((c) => `    ${c.label.padStart(width)}  ${holdWords(holdShare(c.runs, drawn))}`)];
}

function mattersLines({ height, holds }: Matters): string[] {
  const line = (what: string, list: readonly FirstOrder[]): string[] => {
    const sorted = [...list].sort((a, b) => b.share - a.share);
    return sorted.length === 0
      ? []
      : [
          `  ${what}: ${sorted.map((s) => `${s.axis} ${percent(Math.min(1, Math.max(0, s.share)))}${s.low === undefined ? '' : ` (${percent(s.low)} to ${percent(s.high!)})`}`).join(', ')}`,
        ];
  };
  const lines = [...line('what the height hangs on', height), ...line('what holding hangs on', holds)];
  const interval = [...height, ...holds].some((s) => s.low !== undefined) ? ', 95 % interval' : '';
  return lines.length === 0 ? [] : [...lines, `    (share of the variance that one parameter alone explains${interval}; method in table.json)`];
}
