import type { Command } from 'commander';
import type { NeedReport, SeriesProgress, Wanted } from '../index.ts';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { guarded, nearest } from './faults.ts';
import { EXIT, Failure, type Io, readText } from './io.ts';
import { JOBS, readJobs, withWorkers } from './jobs.ts';
import { createMeter } from './progress.ts';
import { known, readMesh } from './settle.ts';

interface NeedFlags {
  readonly option?: string;
  readonly stance?: string;
  readonly panels?: string;
  readonly wanted?: string;
  readonly eachPanel?: boolean;
  readonly mass?: string;
  readonly softBolt?: boolean;
  readonly mesh?: string;
  readonly jobs?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Settles of one search that are worth beginning at once: the next, and what may follow it. */
const HANDS = 3;

/** Word that stands for every stance, or every panel. */
const ALL = 'all';

/** Adds `need` to the program. `done` is told the exit code. */
export function registerNeed(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('need')
    .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
    .description('Find how stiff the stacks must be for the bag to be what is wanted of it, as the overhang of a strip.')
    .option('--option <name>', 'which option of the file to start from (default: the first)')
    .option('--stance <name>', 'which stance of the file, or "all" (default: the first)')
    .option('--panels <list>', 'panels whose stacks change together, such as front,back; or "all"', ALL)
    .option('--wanted <word>', `${core.WANTED.join(', ')} (default: as the file wants it)`)
    .option('--each-panel', 'also each group of panels alone: which stiffness buys most (slower)')
    .option('--mass <word>', 'stays or grows: does what stiffens a panel weigh as a nonwoven interfacing would', 'stays')
    .option('--no-soft-bolt', 'a typical bolt alone (about a third of the time less)')
    .option('--mesh <mm>', 'edge length of the mesh in mm: smaller is finer and slower (default: about 650 points)')
    .option(...JOBS)
    .option('--json', 'print the figures as JSON (SI), and nothing else on stdout')
    .option('--quiet', 'no progress on stderr')
    .action(async (file: string, flags: NeedFlags) => done(await need(io, core, file, flags)));
}

/** `need FILE`. Nothing is printed on stdout before every run is done. Exit 0 with an answer, "none" included, 2 for bad input, 3 when a state that certifies an answer did not come to rest. */
async function need(io: Io, core: Core, file: string, flags: NeedFlags): Promise<number> {
  const edgeLength = flags.mesh === undefined ? undefined : readMesh(core, flags.mesh);
  const bag = readSewable(core, file, await readText(io, file));
  const option = known(bag.options, flags.option, 'option', '');
  const stance = flags.stance === ALL ? ALL : known(bag.stances, flags.stance, 'stance', ', or all');
  const panels = readPanels(
    bag.panels.map((p) => p.name),
    flags.panels ?? ALL,
  );
  const wanted = flags.wanted === undefined ? undefined : readWanted(core, flags.wanted);
  const mass = flags.mass ?? 'stays';
  if (mass !== 'stays' && mass !== 'grows') throw new Failure(`invalid --mass "${mass}": expected stays or grows\n`, EXIT.input);
  const jobs = readJobs(io, flags.jobs),
    hands = flags.eachPanel === true ? Number.POSITIVE_INFINITY : HANDS;
  const meter = createMeter(io, flags.quiet ?? false);
  let report: NeedReport;
  try {
    const onProgress = ({ run, stage, fraction }: SeriesProgress): void => meter.tell(`${run}: ${stage}`, fraction, run);
    report = await withWorkers(io, jobs, hands, (executor) =>
      guarded(core, file, () =>
        core.previewNeed(bag, {
          option,
          stance,
          panels,
          ...(wanted === undefined ? {} : { wanted }),
          eachPanel: flags.eachPanel ?? false,
          softBolt: flags.softBolt ?? true,
          mass,
          ...(edgeLength === undefined ? {} : { edgeLength }),
          onProgress,
          ...(executor ? { executor, lanes: Math.min(jobs, hands) } : {}),
        }),
      ),
    );
  } finally {
    meter.done();
  }
  io.out(flags.json === true ? core.needJson(report) : core.needText(report));
  const ends = report.stances.flatMap((s) => [s.mid, s.low]).flatMap((s) => [s?.least, s?.most]);
  return ends.every((e) => !e || e.met.status === 'settled') ? EXIT.ok : EXIT.notSettled;
}

function readWanted(core: Core, text: string): Wanted {
  const found = core.WANTED.find((w) => w === text);
  if (found) return found;
  const near = nearest(text, core.WANTED);
  throw new Failure(`invalid --wanted "${text}"${near === null ? '' : `; did you mean "${near}"?`}\nexpected ${core.WANTED.join(', ')}\n`, EXIT.input);
}

/** Panel names of a list with commas, or all. */
function readPanels(names: readonly string[], text: string): readonly string[] | 'all' {
  const parts = text.split(',').map((p) => p.trim());
  if (parts.length === 1 && parts[0] === ALL) return ALL;
  const wrong = parts.filter((p, i) => !names.includes(p) || parts.indexOf(p) !== i);
  if (wrong.length === 0) return parts;
  const lines = wrong.map((p) => {
    const near = names.includes(p) ? null : nearest(p, names);
    return `${names.includes(p) ? 'panel given twice' : 'unknown panel'} "${p}"${near === null ? '' : `; did you mean "${near}"?`}\n`;
  });
  throw new Failure(`${lines.join('')}this bag has: ${names.map((n) => `"${n}"`).join(', ')}, or all\n`, EXIT.input);
}
