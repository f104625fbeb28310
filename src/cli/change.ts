import type { Command } from 'commander';
import type { ChangeReport, SeriesProgress } from '../index.ts';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { guarded } from './faults.ts';
import { assertWritable, EXIT, type Io, readText, writeTogether } from './io.ts';
import { JOBS, readJobs, withWorkers } from './jobs.ts';
import { createMeter } from './progress.ts';
import { known, readMesh } from './settle.ts';

interface ChangeFlags {
  readonly option?: string;
  readonly stance?: string;
  readonly mesh?: string;
  readonly json?: boolean;
  readonly out?: string;
  readonly jobs?: string;
  readonly quiet?: boolean;
}

/** Adds `change` to the program. `done` is told the exit code. */
export function registerChange(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('change')
    .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
    .description(
      'Try one change at a time (interfacing, base board, a layer less, thicker leather, a cord, boning or wire in the rim, piped seams, feet) and rank what each does.',
    )
    .option('--option <name>', 'which option of the file (default: the first)')
    .option('--stance <name>', 'which stance of the file (default: the first)')
    .option('--mesh <mm>', 'edge length of the mesh in mm: smaller is finer and slower (default: about 650 points)')
    .option('--json', 'print the figures as JSON (SI), and nothing else on stdout')
    .option('--out <dir>', 'also write change.json and change.svg into this folder')
    .option(...JOBS)
    .option('--quiet', 'no progress on stderr')
    .action(async (file: string, flags: ChangeFlags) => done(await change(io, core, file, flags)));
}

/** `change FILE`. Nothing is printed on stdout or written before every run is done. Exit 0, 2 for bad input, 3 when a run did not come to rest. */
async function change(io: Io, core: Core, file: string, flags: ChangeFlags): Promise<number> {
  const edgeLength = flags.mesh === undefined ? undefined : readMesh(core, flags.mesh);
  const bag = readSewable(core, file, await readText(io, file));
  const option = known(bag.options, flags.option, 'option', '');
  const stance = known(bag.stances, flags.stance, 'stance', '');
  const jobs = readJobs(io, flags.jobs);
  await assertWritable(io, flags.out);
  const meter = createMeter(io, flags.quiet ?? false);
  let report: ChangeReport;
  try {
    const onProgress = ({ run, stage, fraction }: SeriesProgress): void => meter.tell(`${run}: ${stage}`, fraction, run);
    report = await withWorkers(io, jobs, Number.POSITIVE_INFINITY, (executor) =>
      guarded(core, file, () => core.previewChanges(bag, { option, stance, ...(edgeLength === undefined ? {} : { edgeLength }), onProgress, executor })),
    );
  } finally {
    meter.done();
  }
  if (flags.out !== undefined) {
    const folder = flags.out.replace(/\/+$/, '') || '/';
    const files = [
      { path: `${folder}/change.json`, text: core.changesJson(report) },
      { path: `${folder}/change.svg`, text: core.changesSvg(report) },
    ];
    await writeTogether(io, [folder], files);
    if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
  }
  io.out(flags.json === true ? core.changesJson(report) : core.changesText(report));
  return [report.asDrawn, ...report.changes.map((c) => c.effect)].every((e) => e.status === 'settled') ? EXIT.ok : EXIT.notSettled;
}
