import type { Bag, Band, EarlyNews, Executor, PreviewOptions, PreviewProgress, Result, Unchecked } from '../index.ts';
import { batchFiles, batchOf, batchTable } from './batch.ts';
import { assertStances, readSewable, stemOf } from './check.ts';
import type { Core } from './core.ts';
import { folderOf } from './cut-flags.ts';
import { guarded, nearest } from './faults.ts';
import { assertWritable, EXIT, Failure, type Io, named, readEach, writeTogether } from './io.ts';
import { readJobs, withWorkers } from './jobs.ts';
import { createMeter } from './progress.ts';
import { earlierFiles, folderNames, outFiles } from './settle-files.ts';
import { assertNoStrangers, plannedFiles } from './settle-plan.ts';
import { readShapes, type ShapeKind, shapeFiles } from './settle-shapes.ts';

export interface SettleFlags {
  readonly option?: string;
  readonly stance?: string;
  readonly mesh?: string;
  readonly json?: boolean;
  readonly out?: string;
  readonly maps?: boolean;
  readonly shape?: string;
  readonly bands?: string;
  readonly corners?: boolean;
  readonly timing?: boolean;
  readonly everyNudge?: boolean;
  readonly everyBand?: boolean;
  readonly words?: boolean;
  readonly jobs?: string;
  readonly failOn?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

/** Word that stands for every option of the file, or every stance. */
const ALL = 'all';

/** Most jobs that one run falls into: three ends of the band, a second mesh, corners pressed. */
const MOST_PARTS = 5;
/** How a bag is checked, in the running line. */
const CHECKED = { again: 'on a second mesh', corners: 'with its corners pressed' } as const;

/** One file's part of what was asked: every run that it takes. */
interface Job {
  readonly file: string;
  readonly text: string;
  /** SHA-256 of its text. */ readonly bagDigest: string;
  readonly bag: Bag;
  readonly options: readonly string[];
  readonly stances: readonly string[];
}

type Done = Job & { readonly results: readonly Result[] };

/**
 * `settle FILE...`: runs one option (or all) in one stance (or all) of each bag, prints the reports or JSON, writes the files. Nothing is printed on stdout or
 * written before every run is done. Exit 0 with a verdict (or a shape at rest that has nothing to judge), 2 for bad input, 3 when a run did not come to rest,
 * 4 when a verdict is what --fail-on names, or worse: the worst of all files. Several files: their reports one after another and a table over all of them, as
 * JSON one record of all, each in a folder of its own.
 */
export async function settle(io: Io, core: Core, files: readonly string[], flags: SettleFlags): Promise<number> {
  if (flags.everyBand === true && flags.bands !== undefined)
    throw new Failure('--every-band and --bands do not go together: name some, or ask for all\n', EXIT.input);
  const bands = flags.everyBand === true ? core.BANDS : flags.bands === undefined ? undefined : readBands(core, flags.bands);
  const edgeLength = flags.mesh === undefined ? undefined : readMesh(core, flags.mesh);
  const failing = readFailOn(core, flags.failOn);
  const threads = readJobs(io, flags.jobs);
  if (flags.maps === true && flags.out === undefined) throw new Failure('--maps writes pictures: give --out <dir> as well, the folder for them\n', EXIT.input);
  const shapes = readShapes(flags.shape, flags.out);
  const jobs = await readEach(io, files, (file, text) => plan(core, file, text, flags, edgeLength));
  await assertWritable(io, flags.out);
  if (flags.out !== undefined) await assertPlace(io, core, flags.out, jobs, flags, shapes);
  const { everyNudge, corners } = flags;
  const asked = { bands, edgeLength, everyNudge, corners, until: flags.words === true ? ('word' as const) : ('rest' as const) };
  const done = await runAll(io, core, jobs, asked, threads, flags.quiet ?? false);
  if (flags.timing === true) io.err(timingText(done));
  if (flags.out !== undefined) await write(io, core, flags.out, done, flags, shapes);
  io.out(printed(io, core, done, flags));
  if (done.some((d) => d.results.some((r) => failing.has(r.verdict.word)))) return EXIT.failed;
  return done.every((d) => d.results.every(atRest)) ? EXIT.ok : EXIT.notSettled;
}

/** Every run of every file: one after another here, or all of them handed to threads at once, in the same order. */
async function runAll(
  io: Io,
  core: Core,
  jobs: readonly Job[],
  asked: Pick<PreviewOptions, 'bands' | 'edgeLength' | 'everyNudge' | 'corners' | 'until'>,
  threads: number,
  quiet: boolean,
): Promise<Done[]> {
  const runs = jobs.flatMap((job) => job.options.flatMap((option) => job.stances.map((stance) => ({ job, option, stance }))));
  const meter = createMeter(io, quiet),
    far = runs.map(() => 0);
  try {
    // Ends of the band, and what the middle is asked once more.
    const parts = asked.bands === undefined ? MOST_PARTS : asked.bands.length + (asked.bands.includes('mid') ? 2 : 0);
    const alone = runs.length === 1 ? runs[0]! : null;
    const here: Executor = ({ bag, options }, watch) => core.preview(bag, { ...options, ...watch, now: io.now });
    const results = await withWorkers(
      io,
      threads,
      runs.length * parts,
      async (executor) => {
        const one = async (i: number): Promise<Result> => {
          const { job, option, stance } = runs[i]!;
          const lead = [
            ...(jobs.length > 1 ? [named(job.file)] : []),
            ...(job.options.length > 1 ? [option] : []),
            ...(job.stances.length > 1 ? [stance] : []),
          ].map((words) => `${words} · `);
          const tell = (words: string, fraction: number, lane: string): void => {
            far[i] = Math.max(far[i]!, fraction);
            meter.tell(`${lead.join('')}${words}`, far.reduce((sum, f) => sum + f, 0) / runs.length, `${i} ${lane}`);
          };
          tell('drafting and meshing', 0, '');
          // The word stands in the running line as soon as it is certain.
          const certain = new Map<Band, string>();
          const onWord = ({ band, word }: EarlyNews): void => void certain.set(band, `${word}, its figures are still falling`);
          const onUnchecked = ({ result, checks }: Unchecked): void =>
            void certain.set('mid', `${result.verdict.byBand.mid}, being checked ${checks.map((c) => CHECKED[c]).join(' and ')}`);
          const onProgress = ({ band, stage, fraction }: PreviewProgress): void =>
            tell(`${band}: ${certain.get(band) ?? stage}`, fraction, executor ? band : '');
          const how = {
            ...asked,
            option,
            stance,
            onProgress,
            onWord,
            onUnchecked,
            ...(executor ? { executor, ahead: alone !== null } : { now: io.now }),
          };
          const result = await guarded(core, job.file, () => core.preview(job.bag, how));
          far[i] = 1;
          return result;
        };
        if (executor) return Promise.all(runs.map((_, i) => one(i)));
        const made: Result[] = [];
        for (const i of runs.keys()) made.push(await one(i));
        return made;
      },
      alone ? here : undefined,
    );
    return jobs.map((job) => ({ ...job, results: results.filter((_, i) => runs[i]!.job === job) }));
  } finally {
    meter.done();
  }
}

/** What of one file is to be run; a Failure where the file or what is asked of it is wrong. */
function plan(core: Core, file: string, text: string, flags: SettleFlags, edgeLength: number | undefined): Job {
  const bag = readSewable(core, file, text);
  const options = flags.option === ALL ? bag.options.map((o) => o.name) : [known(bag.options, flags.option, 'option', ', or all')];
  const stances = flags.stance === ALL ? bag.stances.map((s) => s.name) : [known(bag.stances, flags.stance, 'stance', ', or all')];
  if (stances.length > 1) assertStances(core, file, bag, { option: options[0], edgeLength }, stances);
  return { file, text, bagDigest: core.sha256(text), bag, options, stances };
}

/** Where each bag's files go: the folder itself, or one of its own in it. */
function placesOf(out: string, jobs: readonly { readonly file: string }[]): { readonly base: string; readonly folders: readonly string[] } {
  const base = folderOf(out);
  const own = folderNames(jobs.map(({ file }) => stemOf(file)));
  return { base, folders: jobs.map((_, i) => (jobs.length === 1 ? base : `${base}/${own[i]}`)) };
}

async function assertPlace(io: Io, core: Core, out: string, jobs: readonly Job[], flags: SettleFlags, shapes: readonly ShapeKind[]): Promise<void> {
  const { base, folders } = placesOf(out, jobs);
  const sets = jobs.map((job, i) => ({ folder: folders[i]!, paths: plannedFiles(core, folders[i]!, job, flags.maps ?? false, shapes) }));
  const beside = jobs.length === 1 ? null : { folder: base, paths: [`${base}/table.csv`, `${base}/batch.json`] };
  await assertNoStrangers(io, core, sets, beside, flags.force ?? false);
}

async function write(io: Io, core: Core, out: string, done: readonly Done[], flags: SettleFlags, shapes: readonly ShapeKind[]): Promise<void> {
  const made = await shapeFiles(core, done, shapes);
  const cutting = await core.loadCutting();
  const { base, folders } = placesOf(out, done);
  const sets = done.map((d, i) => outFiles(core, folders[i]!, d, flags.maps ?? false, made, cutting));
  const files = [...sets.flatMap((set) => set.files), ...(done.length === 1 ? [] : batchFiles(core, base, done))];
  const stale = (await Promise.all(sets.map((set) => earlierFiles(io, set.folders[0]!)))).flat().filter((path) => !files.some((f) => f.path === path));
  await writeTogether(io, done.length === 1 ? sets[0]!.folders : [base, ...sets.flatMap((set) => set.folders)], files);
  for (const path of stale) await io.remove(path);
  if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
}

function printed(io: Io, core: Core, done: readonly Done[], flags: SettleFlags): string {
  if (flags.json === true) {
    const [{ bagDigest, results }] = done as [Done];
    return done.length === 1 ? core.resultsJson(results, { bagDigest }) : core.stableJson(batchOf(core, done));
  }
  const style = io.outIsTerminal ? { strong: (t: string) => `\u001b[1m${t}\u001b[22m`, faint: (t: string) => `\u001b[2m${t}\u001b[22m` } : undefined;
  const text = ({ options, results }: Done): string => {
    if (flags.stance === ALL)
      return options
        .map((o) =>
          core.stancesText(
            results.filter((r) => r.option === o),
            style,
          ),
        )
        .join('\n');
    return flags.option === ALL ? core.compareText(results, style) : core.textReport(results[0]!, style);
  };
  return [...done.map(text), ...(done.length > 1 ? [batchTable(core, done)] : [])].join('\n');
}

/** A bag that passed below half its height counts as an answer although its heap still moves. */
function atRest(result: Result): boolean {
  return result.runs.every((run) => run.status === 'settled' || (run.status === 'notConverged' && run.stillFalling));
}

/** Seconds of every run, a line each: they stand in no result, because two runs of one bag must give the same bytes. */
const timingText = (done: readonly { results: readonly Result[] }[]): string =>
  done
    .flatMap(({ results }) =>
      results.flatMap((r) =>
        r.runs.map(({ band, seconds: { setup, settle, nudge } }) => {
          const each = [`set-up ${setup.toFixed(2)}`, `settling ${settle.toFixed(2)}`, `nudges ${nudge.toFixed(2)}`].join(', ');
          return `${r.option}, ${r.stance}, ${band}: ${each} s\n`;
        }),
      ),
    )
    .join('');

/** The name asked for, or the list's first; a Failure that lists what there is when it is not among them. also: another word that this command takes. */
export function known(list: readonly { readonly name: string }[], name: string | undefined, what: 'option' | 'stance', also: string): string {
  const names = list.map((o) => o.name);
  if (name === undefined) return names[0];
  if (names.includes(name)) return name;
  const near = nearest(name, names);
  const hint = near === null ? '' : `; did you mean "${near}"?`;
  throw new Failure(`unknown ${what} "${name}"${hint}\nthis bag has: ${names.map((n) => `"${n}"`).join(', ')}${also}\n`, EXIT.input);
}

/** Ends of the band from "low,mid". */
export function readBands(core: Core, text: string): Band[] {
  const parts = text.split(',').map((p) => p.trim());
  if (parts.some((p, i) => !core.BANDS.includes(p as Band) || parts.indexOf(p) !== i))
    throw new Failure(`invalid --bands "${text}": expected low, mid, high, or some of them, each once, such as low,mid\n`, EXIT.input);
  return core.BANDS.filter((b) => parts.includes(b));
}

/** Words that --fail-on stands for: the one named, and all that are worse. */
function readFailOn(core: Core, text: string | undefined): ReadonlySet<string> {
  if (text === undefined) return new Set();
  const at = (core.SEVERITY as readonly string[]).indexOf(text.trim().toLowerCase());
  if (at >= 0) return new Set(core.SEVERITY.slice(at));
  const near = nearest(text, core.SEVERITY),
    hint = near === null ? '' : `; did you mean "${near}"?`;
  throw new Failure(`unknown --fail-on "${text}"${hint}\nthe words, from best to worst: ${core.SEVERITY.join(', ')}\n`, EXIT.input);
}

/** Edge length in m from "10", "10 mm" or "3/8 in". */
export function readMesh(core: Core, text: string): number {
  const bare = /^\s*\d+(\.\d+)?\s*$/.test(text);
  const reading = core.readQuantity(bare ? `${text} mm` : text, 'length');
  if (!reading.ok || !(reading.value >= core.EDGE_RANGE.from && reading.value <= core.EDGE_RANGE.to))
    throw new Failure(`invalid --mesh "${text}": expected an edge length of 0.5 to 100 mm, such as 10, or with its unit, such as "3/8 in"\n`, EXIT.input);
  return reading.value;
}
