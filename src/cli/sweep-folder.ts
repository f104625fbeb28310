/** The folder of a sweep: its manifest, its files of runs, its tables. */
import type { Plan, PlannedRun } from '../index.ts';
import type { Core } from './core.ts';
import { guarded } from './faults.ts';
import { EXIT, Failure, type Io, type OutFile, plainCause, writeTogether } from './io.ts';

const MANIFEST = 'manifest.json';
const RUNS = /^runs-\d+-of-\d+\.jsonl$/;

/** One of n shards, from 1. */
export type Shard = readonly [number, number];

const runsFile = ([i, n]: Shard): string => `runs-${i}-of-${n}.jsonl`;

const tidyFolder = (folder: string): string => folder.replace(/\/+$/, '') || '/';

/** A file of runs as it was read. */
interface RunsFile {
  readonly name: string;
  readonly runs: readonly PlannedRun[];
  /** Bytes of its whole lines. */ readonly whole: number;
}

/** The plan of a folder; null where there is none. */
export async function planIn(io: Io, core: Core, folder: string): Promise<Plan | null> {
  const path = `${tidyFolder(folder)}/${MANIFEST}`;
  if (!(await io.exists(path))) return null;
  const text = await io.readFile(path).catch((error: unknown) => {
    throw new Failure(`cannot read ${path}: ${plainCause(error)}\n`, EXIT.input);
  });
  return guarded(core, path, () => core.readManifest(text, MANIFEST));
}

/** Every file of runs in a folder. A last line that was cut short is left out; any other that is no run is a Failure. */
export async function runsIn(io: Io, core: Core, folder: string): Promise<RunsFile[]> {
  const base = tidyFolder(folder),
    names = (await io.list(base)).filter((name) => RUNS.test(name)).sort();
  const made: RunsFile[] = [];
  for (const name of names) {
    const path = `${base}/${name}`,
      runs: PlannedRun[] = [],
      faults: string[] = [];
    let line = 1;
    const whole = await io
      .readLines(path, (text) => {
        const read = core.readLines(text, path, line);
        line += text.split('\n').length - 1;
        for (const run of read.runs) runs.push(run);
        for (const f of read.faults) if (faults.length < 20) faults.push(`${f.path}: got ${f.got}; expected ${f.expected}\n`);
      })
      .catch((error: unknown) => {
        throw new Failure(`cannot read ${path}: ${plainCause(error)}\n`, EXIT.input);
      });
    if (faults.length > 0)
      throw new Failure(
        `${faults.join('')}the file is damaged in its midst: take these lines out, and the same command settles their runs again\n`,
        EXIT.input,
      );
    made.push({ name: path, runs, whole });
  }
  return made;
}

/** A folder that is ready to take the runs of a plan. */
export interface OpenFolder {
  readonly done: readonly PlannedRun[];
  readonly add: (run: PlannedRun) => Promise<void>;
  readonly close: () => Promise<void>;
}

/** Begins a folder, or goes on with one of the very same plan; a Failure where it is of another. */
export async function openFolder(io: Io, core: Core, out: string, plan: Plan, shard: Shard): Promise<OpenFolder> {
  const folder = tidyFolder(out),
    kept = await planIn(io, core, folder);
  if (kept) {
    const differs = core.planDifferences(kept, plan);
    if (differs.length > 0)
      throw new Failure(
        `${folder} was begun with another question; nothing was run\n${listed(differs)}take another folder for --out, or ask the same\n`,
        EXIT.input,
      );
  }
  const files = await runsIn(io, core, folder);
  if (!kept && files.length > 0)
    throw new Failure(`${folder} has runs and no ${MANIFEST}: nobody knows what they are of. Take another folder for --out\n`, EXIT.input);
  const { runs: done, faults } = core.gatherRuns(plan, files);
  if (faults.length > 0) throw new Failure(`${folder}: its runs do not fit together; nothing was run\n${listed(faults)}`, EXIT.input);
  const path = `${folder}/${runsFile(shard)}`;
  try {
    if (!kept) {
      await io.mkdir(folder);
      // A name of its own: shards that begin at once write the same manifest, each under its own name first.
      const part = `${folder}/${MANIFEST}.${shard.join('-of-')}.part`;
      await io.writeFile(part, core.manifestText(plan));
      await io.rename(part, `${folder}/${MANIFEST}`);
    }
    const file = await io.appendTo(path, files.find((f) => f.name === path)?.whole ?? 0);
    return {
      done,
      add: (run) =>
        file.add(core.lineOf(run)).catch((error: unknown) => {
          throw new Failure(
            `cannot write to ${path}: ${plainCause(error)}; what was written before is kept, and the same command goes on with it\n`,
            EXIT.input,
          );
        }),
      close: file.close,
    };
  } catch (error) {
    if (error instanceof Failure) throw error;
    throw new Failure(`cannot write to ${folder}: ${plainCause(error)}\n`, EXIT.input);
  }
}

const listed = (faults: readonly { readonly path: string; readonly got: string; readonly expected: string }[]): string =>
  faults.map((f) => `  ${f.path}\n    got       ${f.got}\n    expected  ${f.expected}\n`).join('');

/** Writes tables and plots of all runs into a folder, and says which. */
export async function writeTables(io: Io, core: Core, out: string, plan: Plan, runs: readonly PlannedRun[], quiet: boolean): Promise<void> {
  const folder = tidyFolder(out),
    files: OutFile[] = [
      { path: `${folder}/table.csv`, text: core.runsCsv(plan, runs) },
      { path: `${folder}/table.json`, text: core.runsJson(plan, runs) },
      ...core.runsPlots(plan, runs).map(({ name, svg }) => ({ path: `${folder}/${name}`, text: svg })),
    ];
  await writeTogether(io, [folder], files);
  if (!quiet) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
}
