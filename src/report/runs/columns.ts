/** Runs laid together by the value of one axis, for tables and plots. */
import { libm } from '../../numerics/index.ts';
import type { Axis, PlannedRun } from './types.ts';

/** Runs of one value of an axis, or of one stretch of drawn ones. */
export interface Column {
  readonly label: string;
  readonly runs: readonly PlannedRun[];
  /** Place along the axis, 0..1. */ readonly at: number;
}

/** Stretches that drawn figures are laid together in. */
const STRETCHES = 6;

/** A figure of an axis for a reader: four digits are enough to tell steps apart. */
const figureText = (v: number | string): string => (typeof v === 'string' ? v : String(Number(v.toPrecision(4))));

/** An axis as tables and plots call it. */
export const axisTitle = (axis: Axis): string => {
  // A bolt is a place in its material's band.
  if (axis.kind === 'figures' && axis.name.endsWith('.band')) return `${axis.name} (-1 soft, 0 typical, 1 stiff bolt)`;
  return axis.unit === '' ? axis.name : `${axis.name} (${axis.unit})`;
};

const shareOf = (axis: Axis, v: number): number => {
  const [a, b] = [axis.from!, axis.to!];
  return axis.byRatio && a > 0 ? libm.log(v / a) / libm.log(b / a) : (v - a) / (b - a);
};

/** Every value of the axis with its runs; drawn figures in six stretches of equal width (by ratio where the axis is). Values without runs are left out. */
export function columnsOf(axis: Axis, runs: readonly PlannedRun[]): Column[] {
  if (axis.values !== null) {
    const by = new Map<number | string, PlannedRun[]>();
    for (const run of runs) {
      const v = run.values[axis.name]!;
      by.get(v)?.push(run) ?? by.set(v, [run]);
    }
    const last = Math.max(1, axis.values.length - 1);
    return axis.values.flatMap((v, i) => (by.has(v) ? [{ label: figureText(v), runs: by.get(v)!, at: i / last }] : []));
  }
  const parts: PlannedRun[][] = Array.from({ length: STRETCHES }, () => []);
  for (const run of runs) parts[Math.min(STRETCHES - 1, Math.max(0, Math.floor(STRETCHES * shareOf(axis, run.values[axis.name] as number))))]!.push(run);
  const end = (i: number): string => {
    const [a, b] = [axis.from!, axis.to!],
      t = i / STRETCHES;
    return figureText(Number((axis.byRatio && a > 0 ? a * libm.exp(t * libm.log(b / a)) : a + t * (b - a)).toPrecision(3)));
  };
  return parts.flatMap((list, i) => (list.length === 0 ? [] : [{ label: `${end(i)} to ${end(i + 1)}`, runs: list, at: (i + 0.5) / STRETCHES }]));
}

/** Runs by option and stance, in the order in which they first come; each with a title and a short name that is a file's. */
export function casesOf(
  runs: readonly PlannedRun[],
): { readonly option: string; readonly stance: string; readonly name: string; readonly runs: readonly PlannedRun[] }[] {
  const by = new Map<string, PlannedRun[]>();
  for (const run of runs) {
    const key = `${run.option}\n${run.stance}`;
    by.get(key)?.push(run) ?? by.set(key, [run]);
  }
  const taken = new Set<string>(),
    options = new Set(runs.map((r) => r.option)).size > 1,
    stances = new Set(runs.map((r) => r.stance)).size > 1;
  return [...by.values()].map((list) => {
    const { option, stance } = list[0]!,
      plain = fileWord([...(options ? [option] : []), ...(stances ? [stance] : [])].join(' '));
    let name = plain;
    for (let k = 2; taken.has(name); k++) name = `${plain}-${k}`;
    taken.add(name);
    return { option, stance, name, runs: list };
  });
}

/** Letters, figures and dashes of a name. */
export const fileWord = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);

/** The value below which a share of sorted figures lies, between neighbours by their distance. */
export function quantile(sorted: readonly number[], share: number): number {
  const at = share * (sorted.length - 1),
    i = Math.floor(at);
  return sorted[i]! + (at - i) * ((sorted[i + 1] ?? sorted[i]!) - sorted[i]!);
}
