import type { Command } from 'commander';
import type { Plan } from '../index.ts';
import type { Core } from './core.ts';
import { assertWritable, EXIT, Failure, type Io } from './io.ts';
import { planIn, runsIn, writeTables } from './sweep-folder.ts';

interface MergeFlags {
  readonly out?: string;
  readonly partial?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Adds `merge` to the program. `done` is told the exit code. */
export function registerMerge(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('merge')
    .argument('<folders...>', 'folders that sweep has written, one or several')
    .description('Lay the runs of a sweep together: checks that they are of one question, all there and none twice; writes tables and plots.')
    .option('--out <dir>', 'folder for table.csv, table.json and plots (default: the folder, where there is one)')
    .option('--partial', 'also where runs are missing: the tables are then of those that are there')
    .option('--json', 'print the table as JSON, and nothing else on stdout')
    .option('--quiet', 'no list of the files written')
    .action(async (folders: string[], flags: MergeFlags) => done(await merge(io, core, folders, flags)));
}

/** `merge DIR...`. Exit 0, 2 where the folders do not fit together (all of it listed; nothing is written), 3 when some runs did not come to rest. */
async function merge(io: Io, core: Core, folders: readonly string[], flags: MergeFlags): Promise<number> {
  const out = flags.out ?? (folders.length === 1 ? folders[0]! : undefined);
  if (out === undefined) throw new Failure('--out <dir> is missing: several folders have no one place for their tables\n', EXIT.input);
  const faults: string[] = [],
    plans = new Map<string, Plan>();
  for (const folder of new Set(folders.filter((f, i) => folders.indexOf(f) !== i))) faults.push(`${folder} is given twice: expected each folder once\n`);
  for (const folder of folders) {
    const plan = await planIn(io, core, folder);
    if (plan) plans.set(folder, plan);
    else faults.push(`${folder}: there is no manifest.json: expected a folder that sweep has written\n`);
  }
  const [first, ...others] = [...plans];
  for (const [folder, plan] of others)
    for (const d of core.planDifferences(first![1], plan))
      faults.push(
        `${folder} is of another question than ${first![0]}: ${d.path}: got ${d.got}; expected ${d.expected.replace(/, (which|the file) .*$/, '')}\n`,
      );
  if (!first || faults.length > 0) throw new Failure(`${faults.join('')}nothing was written\n`, EXIT.input);
  const [, plan] = first,
    files = (await Promise.all(folders.map((folder) => runsIn(io, core, folder)))).flat(),
    { runs, missing, missingWords, faults: unfit } = core.gatherRuns(plan, files);
  if (unfit.length > 0) throw new Failure(`${unfit.map((f) => `${f.path}: got ${f.got}; expected ${f.expected}\n`).join('')}nothing was written\n`, EXIT.input);
  if (missing.length > 0 && flags.partial !== true)
    throw new Failure(
      `${missing.length} of ${plan.runs} runs are missing: ${missingWords}\nnothing was written; settle them with the same sweep, or give --partial for what is there\n`,
      EXIT.input,
    );
  if (runs.length === 0) throw new Failure('there is no run yet; nothing was written\n', EXIT.input);
  await assertWritable(io, out);
  await writeTables(io, core, out, plan, runs, flags.quiet ?? false);
  io.out(flags.json === true ? core.runsJson(plan, runs) : core.runsText(plan, runs));
  return runs.some((r) => r.word === 'no verdict') ? EXIT.notSettled : EXIT.ok;
}
