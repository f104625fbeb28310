import type { Command } from 'commander';
import type { ChooseReport, Criterion, Kept, SeriesProgress, Wanted } from '../index.ts';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { both, guarded, nearest } from './faults.ts';
import { assertWritable, EXIT, Failure, type Io, readText, writeTogether } from './io.ts';
import { JOBS, readJobs, withWorkers } from './jobs.ts';
import { createMeter } from './progress.ts';
import { known, readMesh } from './settle.ts';

interface ChooseFlags {
  readonly shelf: string;
  readonly by?: string;
  readonly keep?: string;
  readonly maxOptions?: string;
  readonly option?: string;
  readonly stance?: string;
  readonly wanted?: string;
  readonly bolt?: string;
  readonly mesh?: string;
  readonly state?: string;
  readonly json?: boolean;
  readonly csv?: boolean;
  readonly out?: string;
  readonly jobs?: string;
  readonly quiet?: boolean;
}

/** First line of a state file. */
const STATE = '{"slumpline choose":1}';

/** Adds `choose` to the program. `done` is told the exit code. */
export function registerChoose(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('choose')
    .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
    .description('Find the stacks of your shelf that do what is wanted: the lightest, cheapest, thinnest or simplest first.')
    .requiredOption('--shelf <file>', 'shelf file (*.shelf.json): see slumpline shelf new')
    .option('--by <criterion>', `${core.CRITERIA.join(', ')}: what the best is best by`, 'weight')
    .option('--keep <list>', 'shell, lining: stay as the bag file has them')
    .option('--max-options <n>', 'how many of the best to find, 1 to 10', '3')
    .option('--option <name>', 'which option of the file says where lining goes (default: the first)')
    .option('--stance <name>', 'which stance of the file (default: the first)')
    .option('--wanted <word>', `${core.WANTED.join(', ')} (default: as the file wants it)`)
    .option('--bolt <bolt>', 'typical or soft: the bolt of cloth that must do', 'typical')
    .option('--mesh <mm>', 'edge length of the mesh in mm: smaller is finer and slower (default: about 650 points)')
    .option('--state <file>', 'keep what is settled in this file as it comes, and begin from what it has: a search that was stopped goes on')
    .option('--json', 'print the figures as JSON (SI), and nothing else on stdout')
    .option('--csv', 'print every settled stack as CSV')
    .option('--out <dir>', 'also write choose.txt, choose.json, choose.csv and choose.svg (weight against room to spare) into this folder')
    .option(...JOBS)
    .option('--quiet', 'no progress on stderr')
    .action(async (file: string, flags: ChooseFlags) => done(await choose(io, core, file, flags)));
}

/** `choose FILE --shelf SHELF`. Exit 0 with an answer, "nothing" included, 2 for bad input, 3 where a ranked stack did not come to rest. */
async function choose(io: Io, core: Core, file: string, flags: ChooseFlags): Promise<number> {
  const o = readFlags(core, flags);
  const edgeLength = flags.mesh === undefined ? undefined : readMesh(core, flags.mesh);
  const text = await readText(io, file),
    shelfText = await readText(io, flags.shelf);
  const [bag, shelf] = both(
    () => readSewable(core, file, text),
    () => guarded(core, flags.shelf, () => core.parseShelf(shelfText)),
  );
  const option = known(bag.options, flags.option, 'option', ''),
    stance = known(bag.stances, flags.stance, 'stance', '');
  const jobs = readJobs(io, flags.jobs);
  await assertWritable(io, flags.out);
  const state = flags.state === undefined ? null : await openState(io, flags.state);
  const meter = createMeter(io, flags.quiet ?? false),
    from = io.now();
  let report: ChooseReport;
  try {
    const onProgress = ({ run, stage, fraction }: SeriesProgress): void =>
      meter.tell(`${run}${timeLeft(io.now() - from, fraction)}: ${stage}`, fraction, stage);
    report = await withWorkers(io, jobs, 2, (executor) =>
      guarded(core, flags.shelf, () =>
        core.choose(bag, shelf, {
          ...o,
          option,
          stance,
          ...(edgeLength === undefined ? {} : { edgeLength }),
          ...(state ? { known: state.known, onSettled: state.keep } : {}),
          onProgress,
          ...(executor ? { executor } : {}),
        }),
      ),
    );
    await state?.flush();
  } finally {
    meter.done();
  }
  const said = { txt: core.chooseText(report), json: core.chooseJson(report), csv: core.chooseCsv(report) };
  if (flags.out !== undefined) {
    const folder = flags.out.replace(/\/+$/, '') || '/';
    const files = Object.entries({ ...said, svg: core.choosePlot(report) }).map(([kind, content]) => ({ path: `${folder}/choose.${kind}`, text: content }));
    await writeTogether(io, [folder], files);
    if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
  }
  io.out(flags.json === true ? said.json : flags.csv === true ? said.csv : said.txt);
  return report.ranked.every((s) => s.status === 'settled') ? EXIT.ok : EXIT.notSettled;
}

/** ", 40 s left": how long what has been done took, stretched to what is left; nothing before a tenth is done. */
function timeLeft(ms: number, fraction: number): string {
  if (fraction < 0.1) return '';
  const s = (ms / 1000) * (1 / fraction - 1);
  return s < 90 ? `, about ${Math.max(1, Math.round(s))} s left` : `, about ${Math.round(s / 60)} min left`;
}

function readFlags(core: Core, flags: ChooseFlags) {
  const faults: string[] = [];
  const word = <T extends string>(flag: string, text: string, words: readonly T[]): T => {
    const found = words.find((w) => w === text);
    if (found) return found;
    const near = nearest(text, words);
    faults.push(`invalid --${flag} "${text}"${near === null ? '' : `; did you mean "${near}"?`}: expected ${words.join(', ')}`);
    return words[0]!;
  };
  const by: Criterion = word('by', flags.by ?? 'weight', core.CRITERIA);
  const bolt = word('bolt', flags.bolt ?? 'typical', ['typical', 'soft'] as const);
  const keep = (flags.keep ?? '')
    .split(',')
    .map((k) => k.trim())
    .filter((k) => k !== '')
    .map((k) => word('keep', k, ['shell', 'lining'] as const));
  const wanted: Wanted | undefined = flags.wanted === undefined ? undefined : word('wanted', flags.wanted, core.WANTED);
  const most = Number(flags.maxOptions ?? '3');
  if (!(Number.isInteger(most) && most >= 1 && most <= 10)) faults.push(`invalid --max-options "${flags.maxOptions}": expected a whole number from 1 to 10`);
  if (flags.json === true && flags.csv === true) faults.push('--json and --csv: expected one of them; --out writes both');
  if (faults.length > 0) throw new Failure(`${faults.join('\n')}\n`, EXIT.input);
  return { by, bolt, keep, most, ...(wanted === undefined ? {} : { wanted }) };
}

/** What a state file knows, and the writing of what comes; each stack is on the disk before the next but one is begun. */
async function openState(io: Io, path: string) {
  const lines: string[] = (await io.exists(path)) ? (await readText(io, path)).split('\n').filter((l) => l.trim() !== '') : [];
  const bad = (): never => {
    throw new Failure(`${path}: this is no state of slumpline choose; give --state another name\n`, EXIT.input);
  };
  if (lines.length > 0 && lines[0] !== STATE) bad();
  const kept = lines.slice(1).flatMap((line, i): Kept[] => {
    try {
      const read = JSON.parse(line) as Kept;
      return typeof read.key === 'string' && typeof read.word === 'string' ? [read] : bad();
    } catch (error) {
      if (error instanceof Failure) throw error;
      // The last line may have been cut off with the program.
      return i === lines.length - 2 ? [] : bad();
    }
  });
  const all = [STATE, ...kept.map((k) => JSON.stringify(k))];
  let writing = Promise.resolve();
  const write = async (): Promise<void> => {
    await io.writeFile(`${path}.part`, `${all.join('\n')}\n`);
    await io.rename(`${path}.part`, path);
  };
  return {
    known: kept,
    keep: (k: Kept): void => {
      all.push(JSON.stringify(k));
      writing = writing.then(write);
    },
    flush: (): Promise<void> => writing,
  };
}
