import type { Bag, Band, PreviewProgress, Result } from '../index.ts';
import { assertStances, readSewable, stemOf } from './check.ts';
import type { Core } from './core.ts';
import { guarded, nearest } from './faults.ts';
import { assertWritable, EXIT, Failure, type Io, named, type OutFile, readEach, writeTogether } from './io.ts';
import { createMeter } from './progress.ts';

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
  readonly quiet?: boolean;
}

/** Word that stands for every option of the file. */
const ALL = 'all';
const BANDS: readonly Band[] = ['low', 'mid', 'high'];

/** One file's part of what was asked: every run that it takes. */
interface Job {
  readonly file: string;
  readonly text: string;
  /** SHA-256 of its text. */ readonly bagDigest: string;
  readonly bag: Bag;
  readonly options: readonly string[];
  readonly stances: readonly string[];
}

/**
 * `settle FILE...`: runs one option (or all) in one stance (or all) of each bag, prints the reports or JSON, writes the files. Nothing is printed on stdout or
 * written before every run is done. Exit 0 with a verdict (or a shape at rest that has nothing to judge), 2 for bad input, 3 when a run did not come to rest.
 * Several files: their reports one after another, as JSON { files: [...] }, each in a folder of its own.
 */
export async function settle(io: Io, core: Core, files: readonly string[], flags: SettleFlags): Promise<number> {
  const bands = readBands(flags.bands ?? 'low,mid,high');
  const edgeLength = flags.mesh === undefined ? undefined : readMesh(core, flags.mesh);
  if (flags.maps === true && flags.out === undefined) throw new Failure('--maps writes pictures: give --out <dir> as well, the folder for them\n', EXIT.input);
  const shapes = readShapes(flags.shape, flags.out);
  const jobs = await readEach(io, files, (file, text) => plan(core, file, text, flags, edgeLength));
  await assertWritable(io, flags.out);
  const total = jobs.reduce((sum, j) => sum + j.options.length * j.stances.length, 0);
  const meter = createMeter(io, flags.quiet ?? false);
  let ran = 0;
  const done: { job: Job; results: Result[] }[] = [];
  try {
    for (const job of jobs) {
      const results: Result[] = [];
      for (const option of job.options)
        for (const stance of job.stances) {
          const lead = `${jobs.length > 1 ? `${named(job.file)} · ` : ''}${job.stances.length > 1 ? `${stance} · ` : job.options.length > 1 ? `${option} · ` : ''}`;
          const tell = (words: string, fraction: number): void => meter.tell(lead + words, (ran + fraction) / total);
          tell('drafting and meshing', 0);
          const onProgress = ({ band, stage, fraction }: PreviewProgress): void => tell(`${band}: ${stage}`, fraction);
          results.push(
            await guarded(core, job.file, () =>
              core.preview(job.bag, { option, stance, bands, edgeLength, everyNudge: flags.everyNudge, corners: flags.corners, onProgress, now: io.now }),
            ),
          );
          ran++;
        }
      done.push({ job, results });
    }
  } finally {
    meter.done();
  }
  if (flags.timing === true) io.err(timingText(done));
  if (flags.out !== undefined) await write(io, core, flags.out, done, flags, shapes);
  io.out(printed(io, core, done, flags));
  return done.every((d) => d.results.every(atRest)) ? EXIT.ok : EXIT.notSettled;
}

/** What of one file is to be run; a Failure where the file or what is asked of it is wrong. */
function plan(core: Core, file: string, text: string, flags: SettleFlags, edgeLength: number | undefined): Job {
  const bag = readSewable(core, file, text);
  const options = flags.option === ALL ? bag.options.map((o) => o.name) : [known(bag.options, flags.option, 'option', ', or all')];
  const stances = flags.stance === ALL ? bag.stances.map((s) => s.name) : [known(bag.stances, flags.stance, 'stance', ', or all')];
  if (options.length > 1 && stances.length > 1)
    throw new Failure('--option all and --stance all do not go together: name one option or one stance\n', EXIT.input);
  if (stances.length > 1) assertStances(core, file, bag, { option: options[0], edgeLength }, stances);
  return { file, text, bagDigest: core.sha256(text), bag, options, stances };
}

async function write(
  io: Io,
  core: Core,
  out: string,
  done: readonly { job: Job; results: Result[] }[],
  flags: SettleFlags,
  shapes: readonly ShapeKind[],
): Promise<void> {
  const made = await shapeFiles(core, done, shapes);
  const base = out.replace(/\/+$/, '') || '/';
  const own = folderNames(done.map(({ job }) => stemOf(job.file)));
  const sets = done.map(({ job, results }, i) => outFiles(core, done.length === 1 ? base : `${base}/${own[i]}`, job, results, flags.maps ?? false, made));
  const files = sets.flatMap((set) => set.files);
  const stale = (await Promise.all(sets.map((set) => earlierFiles(io, core, set.folders[0])))).flat().filter((path) => !files.some((f) => f.path === path));
  await writeTogether(io, done.length === 1 ? sets[0].folders : [base, ...sets.flatMap((set) => set.folders)], files);
  for (const path of stale) await io.remove(path);
  if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
}

function printed(io: Io, core: Core, done: readonly { job: Job; results: readonly Result[] }[], flags: SettleFlags): string {
  if (flags.json === true) {
    const [{ job, results }] = done;
    if (done.length === 1) return core.resultsJson(results, { bagDigest: job.bagDigest });
    return core.stableJson(core.batchRecord(done.map((d) => ({ file: named(d.job.file), results: d.results, trace: { bagDigest: d.job.bagDigest } }))));
  }
  const style = io.outIsTerminal ? { strong: (t: string) => `\u001b[1m${t}\u001b[22m`, faint: (t: string) => `\u001b[2m${t}\u001b[22m` } : undefined;
  const text = (results: readonly Result[]): string => {
    if (flags.stance === ALL) return core.stancesText(results, style);
    return flags.option === ALL ? core.compareText(results, style) : core.textReport(results[0], style);
  };
  return done.map(({ results }) => text(results)).join('\n');
}

/** A bag that passed below half its height counts as an answer although its heap still moves. */
function atRest(result: Result): boolean {
  return result.runs.every((run) => run.status === 'settled' || (run.status === 'notConverged' && run.stillFalling));
}

function outFiles(
  core: Core,
  out: string,
  job: Job,
  results: readonly Result[],
  maps: boolean,
  shapes: ReadonlyMap<Result, readonly OutFile[]>,
): { folders: string[]; files: OutFile[] } {
  const { bag, bagDigest } = job;
  const mapped = (folder: string, shown: readonly Result[]): OutFile[] => (maps ? mapFiles(core, folder, bag, shown) : []);
  const one = (folder: string, r: Result): OutFile[] => {
    const lead = core.leadRun(r.runs);
    return [
      { path: `${folder}/picture.svg`, text: core.picture([r]) },
      { path: `${folder}/mesh.obj`, text: core.meshObj(r.mesh, lead.positions, `${r.bag}, option ${r.option}, ${r.stance}, ${lead.band} of the band`, bag) },
      ...(shapes.get(r) ?? []).map(({ path, text }) => ({ path: `${folder}/${path}`, text })),
    ];
  };
  const flat = (b: Bag, folder: string, option: string): OutFile => ({ path: `${folder}/panels.svg`, text: core.flatSvg(b, core.draftPanels(b), { option }) });
  const base = out;
  /** The results' own file names the others, so that the next run can take them away. */
  const traced = (folder: string, shown: readonly Result[], others: readonly OutFile[]): OutFile[] => {
    const files = ['result.json', ...others.map((f) => f.path.slice(folder.length + 1))];
    return [{ path: `${folder}/result.json`, text: core.resultsJson(shown, { bagDigest, files }) }, ...others];
  };
  if (results.length === 1) {
    const report = { path: `${base}/report.html`, text: core.htmlReport(results, job.text) };
    return { folders: [base], files: traced(base, results, [...one(base, results[0]), ...mapped(base, results), flat(bag, base, results[0].option), report]) };
  }
  const stances = results.some((r) => r.stance !== results[0].stance);
  const list = stances ? bag.stances : bag.options;
  const names = folderNames(list.map((o) => o.name));
  const folders = results.map((r) => `${base}/${names[list.findIndex((o) => o.name === (stances ? r.stance : r.option))]}`);
  const others = [
    // Stances share no ground and no scale of figures: each has its pictures in its own folder.
    ...(stances ? [] : [{ path: `${base}/picture.svg`, text: core.picture(results) }, ...mapped(base, results)]),
    { path: `${base}/report.html`, text: core.htmlReport(results, job.text) },
    flat(bag, base, results[0].option),
    ...results.flatMap((r, i) => traced(folders[i], [r], [...one(folders[i], r), ...(stances ? mapped(folders[i], [r]) : [])])),
  ];
  return { folders: [base, ...folders], files: traced(base, results, others) };
}

const SHAPES = ['glb', 'obj', 'stl'] as const;
type ShapeKind = (typeof SHAPES)[number];

/** The shapes asked for; a Failure for others. mesh.obj is written with every result. */
function readShapes(text: string | undefined, out: string | undefined): readonly ShapeKind[] {
  if (text === undefined) return [];
  const asked = text.split(',').map((s) => s.trim().toLowerCase());
  if (asked.some((s) => !SHAPES.some((k) => k === s)))
    throw new Failure(`invalid --shape "${text}": expected glb, obj, stl, or a list of them such as glb,stl\n`, EXIT.input);
  if (out === undefined) throw new Failure('--shape writes files: give --out <dir> as well, the folder for them\n', EXIT.input);
  return SHAPES.filter((k) => asked.includes(k));
}

/** Shapes of every result, by their names in its folder. */
async function shapeFiles(core: Core, done: readonly { job: Job; results: Result[] }[], shapes: readonly ShapeKind[]): Promise<Map<Result, OutFile[]>> {
  const made = new Map<Result, OutFile[]>();
  if (!shapes.some((s) => s !== 'obj')) return made;
  const { bagGlb, bagStl } = await core.loadShapes();
  for (const { job, results } of done)
    for (const r of results) {
      const { positions } = core.leadRun(r.runs);
      made.set(r, [
        ...(shapes.includes('glb') ? [{ path: 'shape.glb', text: await bagGlb(job.bag, r.option, r.mesh, positions) }] : []),
        ...(shapes.includes('stl') ? [{ path: 'shape.stl', text: bagStl(r.mesh, positions) }] : []),
      ]);
    }
  return made;
}

/** Files that an earlier run of this program left in a folder, as its results name them; none where there are no results of ours. */
async function earlierFiles(io: Io, core: Core, folder: string): Promise<string[]> {
  try {
    const { files = [] } = core.readResults(await io.readFile(`${folder}/result.json`));
    return files.filter((f) => !f.startsWith('/') && !f.split('/').includes('..')).map((f) => `${folder}/${f}`);
  } catch {
    // No results, or somebody else's: nothing of that is ours to remove.
    return [];
  }
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

/** Every map of what is shown, at one scale: as many options as a picture has room for. */
function mapFiles(core: Core, folder: string, bag: Bag, results: readonly Result[]): OutFile[] {
  const shown = results.slice(0, core.MOST_SHOWN);
  const maps = shown.map((r) => core.settledMaps({ ...r, run: core.leadRun(r.runs) }));
  return core.MAP_NAMES.map((name) => ({ path: `${folder}/map-${name}.svg`, text: core.mapPicture(name, bag, shown, maps) }));
}

/** Option names as folder names: letters, figures and dashes, each different. */
export function folderNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name, i) => {
    const plain =
      name
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '')
        .slice(0, 60) || `option-${i + 1}`;
    let free = plain;
    for (let k = 2; taken.has(free); k++) free = `${plain}-${k}`;
    taken.add(free);
    return free;
  });
}

/** The name asked for, or the list's first; a Failure that lists what there is when it is not among them. also: another word that this command takes. */
export function known(list: readonly { readonly name: string }[], name: string | undefined, what: 'option' | 'stance', also: string): string {
  const names = list.map((o) => o.name);
  if (name === undefined) return names[0];
  if (names.includes(name)) return name;
  const near = nearest(name, names);
  const hint = near === null ? '' : `; did you mean "${near}"?`;
  throw new Failure(`unknown ${what} "${name}"${hint}\nthis bag has: ${names.map((n) => `"${n}"`).join(', ')}${also}\n`, EXIT.input);
}

function readBands(text: string): Band[] {
  const parts = text.split(',').map((p) => p.trim());
  const wrong = parts.filter((p) => !BANDS.includes(p as Band));
  if (wrong.length > 0) throw new Failure(`invalid --bands "${text}": expected low, mid, high, or a list of them such as low,mid,high\n`, EXIT.input);
  return BANDS.filter((b) => parts.includes(b));
}

/** Edge length in m from "10", "10 mm" or "3/8 in". */
export function readMesh(core: Core, text: string): number {
  const bare = /^\s*\d+(\.\d+)?\s*$/.test(text);
  const reading = core.readQuantity(bare ? `${text} mm` : text, 'length');
  if (!reading.ok || !(reading.value >= core.EDGE_RANGE.from && reading.value <= core.EDGE_RANGE.to))
    throw new Failure(`invalid --mesh "${text}": expected an edge length of 0.5 to 100 mm, such as 10, or with its unit, such as "3/8 in"\n`, EXIT.input);
  return reading.value;
}
