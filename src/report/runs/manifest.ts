/** What stands beside the runs of a plan, so that nothing else is ever laid beside them. */
import { BagError, type Fault } from '../../bag/types.ts';
import { sha256 } from '../../numerics/index.ts';
import { stableJson } from '../json.ts';
import type { Plan, PlannedRun } from './types.ts';

/** SHA-256 of a plan: the same for the same question to the same bag by the same version of this program. */
export const planDigest = (plan: Plan): string => sha256(stableJson(plan));

/** The plan of a folder as text, with its own digest: a changed plan is seen. */
export const manifestText = (plan: Plan): string => stableJson({ planDigest: planDigest(plan), plan });

/** The plan of a folder. Errors: BagError where the text is none, or was changed by hand. */
export function readManifest(text: string, name: string): Plan {
  const refuse = (got: string, expected: string): never => {
    throw new BagError([{ path: name, got, expected }]);
  };
  let read: { planDigest?: unknown; plan?: Plan };
  try {
    read = JSON.parse(text);
  } catch {
    return refuse('text that is no JSON', 'the manifest of a sweep');
  }
  const { plan, planDigest: told } = read ?? {};
  if (typeof plan !== 'object' || plan === null || plan.format !== 'slumpline plan' || !Array.isArray(plan.axes) || !Number.isInteger(plan.runs))
    return refuse('no plan', 'the manifest of a sweep');
  if (plan.formatVersion !== 1) return refuse(`version ${String(plan.formatVersion)} of it`, 'version 1, the only one there is');
  if (planDigest(plan) !== told) return refuse('a plan that was changed', 'the manifest as sweep wrote it');
  return plan;
}

/** In what a plan differs from the one that a folder has, in words; empty where they are one. */
export function planDifferences(kept: Plan, asked: Plan): Fault[] {
  const faults: Fault[] = [],
    differs = (path: string, a: unknown, b: unknown): void => {
      if (stableJson(a) !== stableJson(b)) faults.push({ path, got: short(b), expected: `${short(a)}, which this folder was begun with` });
    };
  differs('version of slumpline', kept.version, asked.version);
  if (kept.bagDigest !== asked.bagDigest)
    faults.push({
      path: 'bag file',
      got: `SHA-256 ${asked.bagDigest.slice(0, 16)}...`,
      expected: `${kept.bagDigest.slice(0, 16)}..., the file that this folder was begun with`,
    });
  const names = new Set([...kept.axes, ...asked.axes].map((a) => a.name));
  for (const name of names)
    differs(`vary.${name}`, kept.axes.find((a) => a.name === name) ?? 'not varied', asked.axes.find((a) => a.name === name) ?? 'not varied');
  differs('samples', kept.samples, asked.samples);
  differs('bands', kept.bands, asked.bands);
  differs('mesh', kept.edgeLength, asked.edgeLength);
  // The same axes in another order number the runs anew.
  if (faults.length === 0 && stableJson(kept) !== stableJson(asked))
    faults.push({ path: 'vary', got: 'another order', expected: 'the order that this folder was begun with' });
  return faults;
}

const short = (v: unknown): string => {
  const axis = v as { values?: readonly unknown[] | null; from?: number; to?: number; unit?: string } | null;
  if (typeof v === 'object' && axis !== null && 'unit' in axis)
    return `${axis.values === null || axis.values === undefined ? `${axis.from}..${axis.to}` : axis.values.length > 4 ? `${axis.values[0]}..${axis.values.at(-1)}/${axis.values.length}` : axis.values.join('|')}${axis.unit ? ` ${axis.unit}` : ''}`;
  return JSON.stringify(v);
};

/** Runs laid together, in the order of their numbers, and what stands against taking them for the whole. */
export interface Gathered {
  readonly runs: readonly PlannedRun[];
  /** Numbers that no run has. */ readonly missing: readonly number[];
  /** The same as a reader takes them in: "3, 17 to 40". */ readonly missingWords: string;
  readonly faults: readonly Fault[];
}

/**
 * Lays the runs of several files together. Faults: runs of another plan, numbers that the plan does not have, a run that stands in two files, or twice in one with unlike words. The
 * same line twice in one file is one run: two programs may have been started on one folder. Parameters: the plan; files by their names.
 */
export function gatherRuns(plan: Plan, files: readonly { readonly name: string; readonly runs: readonly PlannedRun[] }[]): Gathered {
  const own = planDigest(plan).slice(0, 16),
    faults: Fault[] = [],
    found = new Map<number, { readonly run: PlannedRun; readonly name: string }>();
  for (const { name, runs } of files) {
    const strange = runs.filter((r) => r.plan !== own);
    if (strange.length > 0)
      faults.push({
        path: name,
        got: `${strange.length} runs of plan ${strange[0]!.plan}, such as run ${strange[0]!.run}`,
        expected: `runs of plan ${own} alone`,
      });
    for (const run of runs) {
      if (run.plan !== own) continue;
      const before = found.get(run.run);
      if (run.run >= plan.runs) faults.push({ path: name, got: `run ${run.run}`, expected: `numbers under ${plan.runs}` });
      else if (before === undefined) found.set(run.run, { run, name });
      else if (before.name !== name)
        faults.push({
          path: name,
          got: `run ${run.run}, which stands in ${before.name} as well`,
          expected: 'each run once: a shard was given twice, or settled twice',
        });
      else if (JSON.stringify(before.run) !== JSON.stringify(run))
        faults.push({ path: name, got: `run ${run.run} twice with unlike figures`, expected: 'each run once' });
    }
  }
  const runs = [...found.values()].map((f) => f.run).sort((a, b) => a.run - b.run),
    missing: number[] = [];
  if (runs.length < plan.runs)
    for (let i = 0, k = 0; i < plan.runs; i++)
      if (runs[k]?.run === i) k++;
      else missing.push(i);
  return { runs, missing, missingWords: numbersText(missing), faults };
}

/** Numbers as a reader takes them in: "3, 17 to 40, 52". At most `most` parts. */
export function numbersText(numbers: readonly number[], most = 8): string {
  const spans: [number, number][] = [];
  for (const n of numbers) {
    const last = spans.at(-1);
    if (last && last[1] === n - 1) last[1] = n;
    else spans.push([n, n]);
  }
  const words = spans.slice(0, most).map(([a, b]) => (a === b ? String(a) : `${a} to ${b}`));
  return `${words.join(', ')}${spans.length > most ? ', ...' : ''}`;
}
