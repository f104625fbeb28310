import type { Command } from 'commander';
import type { Bag, Executor, HangReport, SeriesProgress } from '../index.ts';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { guarded, nearest } from './faults.ts';
import { assertWritable, EXIT, Failure, type Io, named, readText, writeTogether } from './io.ts';
import { JOBS, readJobs, withWorkers } from './jobs.ts';
import { createMeter, type Meter } from './progress.ts';

interface HangFlags {
  readonly strap?: string;
  readonly anchors?: string;
  readonly load?: string;
  readonly steps?: string;
  readonly option?: string;
  readonly stance?: string;
  readonly mesh?: string;
  readonly thread?: string;
  readonly spi?: string;
  readonly json?: boolean;
  readonly out?: string;
  readonly jobs?: string;
  readonly quiet?: boolean;
}

type Range = readonly [number, number];

/** What was asked for, checked against the bag. */
interface Asked {
  readonly strap: string;
  readonly stance: string | undefined;
  readonly option: string | undefined;
  readonly anchors: Range;
  /** Loads to go through; null: none. */ readonly loads: Range | null;
  /** Contents while the anchors move, kg; undefined: the stance's own. */ readonly load: number | undefined;
  readonly steps: number;
  readonly edgeLength: number | undefined;
  readonly stitching: { readonly stitchesPerMetre: number; readonly thread: number } | null;
}

/** Adds `hang` to the program. `done` is told the exit code. */
export function registerHang(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('hang')
    .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
    .description('Hang the bag from its straps with the anchors at several distances from the sides, and under several loads.')
    .option('--strap <name>', 'strap whose anchors are moved, with its copies (default: the first that carries)')
    .option('--anchors <range>', 'distances from the side, such as "60-120 mm" (default: about the range of the trade, as far as the patches lie on the panel)')
    .option('--load <mass>', 'contents, such as "2 kg"; a range such as "0-5 kg" is gone through as well, and the anchors move under its larger end')
    .option('--steps <n>', 'steps of each range', '7')
    .option('--option <name>', 'which option of the file (default: the first)')
    .option('--stance <name>', 'which hung stance of the file (default: the first; without one, a hook)')
    .option('--mesh <mm>', 'edge length of the mesh in mm: smaller is finer and slower (default: about 2000 points)')
    .option(
      '--thread <force>',
      'strength of the thread, such as "2.6 lbf": with --spi, the stitching beside the pulls, for reference (default: as the file states for the strap)',
    )
    .option('--spi <n>', 'stitches per inch')
    .option('--json', 'print the figures as JSON (SI), and nothing else on stdout')
    .option(
      '--out <dir>',
      'also write hang.json, hang.svg, strap-card.html, full-size corner templates (strap-corner-*.svg) and a picture of the bag at each step (hung-*.svg) into this folder',
    )
    .option(...JOBS)
    .option('--quiet', 'no progress on stderr')
    .action(async (file: string, flags: HangFlags) => done(await hang(io, core, file, flags)));
}

/**
 * `hang FILE`. Nothing is printed on stdout or written before every step is done. Exit 0, 2 for bad input (all of it listed) or when no step could be
 * hung, 3 when a step that was hung did not come to rest.
 */
async function hang(io: Io, core: Core, file: string, flags: HangFlags): Promise<number> {
  const bag = readSewable(core, file, await readText(io, file));
  const asked = read(core, bag, flags);
  const jobs = readJobs(io, flags.jobs);
  await assertWritable(io, flags.out);
  const meter = createMeter(io, flags.quiet ?? false);
  let report: HangReport;
  try {
    report = await withWorkers(io, jobs, Number.POSITIVE_INFINITY, (executor) =>
      guarded(core, file, () => run(core, bag, asked, { pictures: flags.out !== undefined, executor }, meter.tell)),
    );
  } finally {
    meter.done();
  }
  const steps = [report.anchors.drawn.step, ...report.anchors.steps, ...(report.load?.steps ?? [])];
  if (steps.every((s) => s.status === 'refused'))
    throw new Failure(
      `${named(file)}: it could not be hung at any distance or load; nothing was written\n${[...new Set(steps.map((s) => `  ${s.reason}\n`))].join('')}`,
      EXIT.input,
    );
  if (flags.out !== undefined) {
    const folder = flags.out.replace(/\/+$/, '') || '/';
    const files = [
      { path: `${folder}/hang.json`, text: core.hangJson(report) },
      { path: `${folder}/hang.svg`, text: core.hangSvg(report) },
      { path: `${folder}/strap-card.html`, text: core.strapCard(bag, report) },
      ...cornersOf(core, bag, report).map(({ name, svg }) => ({ path: `${folder}/strap-corner-${name}.svg`, text: svg })),
      ...picturesOf(report).map(({ name, svg }) => ({ path: `${folder}/hung-${name}.svg`, text: svg })),
    ];
    const stale = (await earlierPictures(io, folder)).filter((path) => !files.some((f) => f.path === path));
    await writeTogether(io, [folder], files);
    for (const path of stale) await io.remove(path);
    if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
  }
  io.out(flags.json === true ? core.hangJson(report) : core.hangText(report));
  return steps.every((s) => s.status === 'settled' || s.status === 'refused') ? EXIT.ok : EXIT.notSettled;
}

/** Corner templates where the card has the anchors, for both papers. */
function cornersOf(core: Core, bag: Bag, { anchors }: HangReport): { name: string; svg: string }[] {
  const there = core.bagAt(bag, anchors, core.recommend(anchors).index ?? -1);
  return (['a4', 'letter'] as const).flatMap((paper) =>
    core.cornerSheets(there, anchors.strap, paper).map(({ svg }, i) => ({ name: i === 0 ? paper : `${paper}-${i + 1}`, svg })),
  );
}

/** Pictures that an earlier run left in a folder, as its hang.json names the steps; none where there is no such file of ours. */
async function earlierPictures(io: Io, folder: string): Promise<string[]> {
  try {
    const { anchors, load } = JSON.parse(await io.readFile(`${folder}/hang.json`)) as HangReport;
    const names = [...anchors.steps.map((s) => distanceName(s.distance)), ...(load?.steps ?? []).map((s) => loadName(s.load))];
    return names.map((name) => `${folder}/hung-${name}.svg`);
  } catch {
    return [];
  }
}

const distanceName = (m: number): string => `${padded(m * 1000)}-mm`;
const loadName = (kg: number): string => `${padded(kg * 1000)}-g`;

/** The bag as it hangs at each step, under names that sort as the steps do. */
function picturesOf({ anchors, load }: HangReport): { name: string; svg: string }[] {
  const named = [
    { name: 'as-drawn', step: anchors.drawn.step },
    ...anchors.steps.map((step) => ({ name: distanceName(step.distance), step })),
    ...(load?.steps ?? []).map((step) => ({ name: loadName(step.load), step })),
  ];
  return named.flatMap(({ name, step: { picture: svg } }) => (svg === undefined ? [] : [{ name, svg }]));
}

/** "0080", "0082.5" */
const padded = (v: number): string => {
  const [whole, rest] = String(Number(v.toFixed(1))).split('.');
  return `${whole!.padStart(4, '0')}${rest === undefined ? '' : `.${rest}`}`;
};

async function run(
  core: Core,
  bag: Bag,
  asked: Asked,
  o: { readonly pictures: boolean; readonly executor?: Executor },
  tell: Meter['tell'],
): Promise<HangReport> {
  const { strap, option, stance, steps, edgeLength, loads, stitching } = asked;
  // The bag as drawn is one more hanging of the first sweep.
  const first = loads === null ? 1 : (steps + 1) / (2 * steps + 1);
  const part =
    (from: number, share: number, lead: string) =>
    ({ run, stage, fraction }: SeriesProgress) =>
      tell(`${lead}${run}: ${stage}`, from + share * fraction, `${lead}${run}`);
  const common = { strap, option, stance, steps, edgeLength, ...o };
  const [from, to] = asked.anchors;
  const anchors = await core.previewAnchors(bag, { ...common, from, to, load: asked.load, onProgress: part(0, first, 'anchors ') });
  const load = loads === null ? null : await core.previewLoads(bag, { ...common, from: loads[0], to: loads[1], onProgress: part(first, 1 - first, 'load ') });
  // Where it hangs level nowhere: what alone would do it.
  const level = core.recommend(anchors).index !== null,
    tried = [anchors.drawn.step, ...anchors.steps].some((s) => s.status === 'settled');
  const changes =
    level || !tried ? {} : { changes: await core.previewSingleChanges(bag, { ...common, load: asked.load, onProgress: part(first, 0, 'single changes ') }) };
  const patch = core.strapFamily(bag, strap)[0].anchors[0];
  return { anchors, load, ...changes, stitching: stitching && { ...stitching, reference: core.stitchReference(patch, stitching) } };
}

/** The flags against the bag; throws a Failure with every fault. */
function read(core: Core, bag: Bag, flags: HangFlags): Asked {
  const faults: string[] = [];
  const straps = core.strapNames(bag);
  const hung = bag.stances.filter((s) => s.kind === 'hung');
  const pick = (name: string | undefined, names: readonly string[], what: string): string | undefined => {
    if (name === undefined || names.includes(name)) return name;
    const near = nearest(name, names);
    faults.push(
      `unknown ${what} "${name}"${near === null ? '' : `; did you mean "${near}"?`} this bag has: ${names.length === 0 ? 'none' : names.map((n) => `"${n}"`).join(', ')}`,
    );
    return undefined;
  };
  if (straps.length === 0) faults.push('a bag without straps cannot hang: expected at least one entry in "straps"');
  const option = pick(
    flags.option,
    bag.options.map((o) => o.name),
    'option',
  );
  const stance = pick(
    flags.stance,
    hung.map((s) => s.name),
    'hung stance',
  );
  const carries = (hung.find((s) => s.name === stance) ?? hung[0])?.straps ?? straps;
  const strap = (straps.length === 0 ? undefined : pick(flags.strap, straps, 'strap')) ?? straps.find((s) => carries.includes(s)) ?? straps[0] ?? '';
  const range = (flag: string, text: string | undefined, kind: 'length' | 'mass', example: string): Range | null => {
    if (text === undefined) return null;
    const found = core.readRange(text, kind),
      one = core.readQuantity(text, kind);
    if (found) return found;
    if (one.ok && one.value >= 0) return [one.value, one.value];
    const comma = core.decimalComma(text);
    faults.push(`--${flag} "${text}": expected ${comma ?? `${example}, smaller end first`}`);
    return null;
  };
  const whole = core.strapFamily(bag, strap)[0];
  const usual = core.usualDistances(bag, strap);
  const anchors =
    range('anchors', flags.anchors, 'length', 'distances such as "60-120 mm" or "60 mm"') ??
    (usual && usual.from <= usual.to ? ([usual.from, usual.to] as const) : ([0, 0] as const));
  const lies = whole && flags.anchors !== undefined ? core.anchorRange(bag, whole) : null;
  if (lies && (anchors[1] < lies.from - 1e-9 || anchors[0] > lies.to + 1e-9))
    faults.push(
      `--anchors "${flags.anchors}": there no patch of ${strap} lies on its panel; expected distances within ${core.formatMm(lies.from)} to ${core.formatMm(lies.to)}`,
    );
  const loads = range('load', flags.load, 'mass', 'a mass such as "2 kg" or "0-5 kg"');
  const number = (flag: string, text: string | undefined, good: (v: number) => boolean, expected: string): number | undefined => {
    if (text === undefined) return undefined;
    const value = /^\s*\d+(\.\d+)?\s*$/.test(text) ? Number(text) : Number.NaN;
    if (good(value)) return value;
    faults.push(`--${flag} "${text}": expected ${expected}`);
    return undefined;
  };
  const most = 100;
  if (loads !== null && loads[1] > most) faults.push(`--load "${flags.load}": expected at most ${most} kg, as in a bag file`);
  const several = number('steps', flags.steps, (v) => Number.isInteger(v) && v >= 1 && v <= 60, 'a whole number from 1 to 60') ?? 7;
  // One distance is one hanging.
  const steps = anchors[0] === anchors[1] && (loads === null || loads[0] === loads[1]) ? 1 : several;
  const spi = number('spi', flags.spi, (v) => v >= 1 && v <= 40, 'stitches per inch, 1 to 40');
  let thread: number | undefined;
  if (flags.thread !== undefined) {
    const reading = core.readQuantity(flags.thread, 'force');
    if (reading.ok && reading.value > 0) thread = reading.value;
    else faults.push(`--thread "${flags.thread}": expected ${reading.ok ? 'more than zero' : reading.expected}`);
  }
  // Each stands in for what the file states of the strap.
  const stated = whole && core.stitchingOf(whole);
  if (!stated && (flags.thread === undefined) !== (flags.spi === undefined))
    faults.push('--thread and --spi belong together: expected both or neither, since the file states none for this strap');
  let edgeLength: number | undefined;
  if (flags.mesh !== undefined) {
    const reading = core.readQuantity(/^\s*\d+(\.\d+)?\s*$/.test(flags.mesh) ? `${flags.mesh} mm` : flags.mesh, 'length');
    if (reading.ok && reading.value >= 5e-4 && reading.value <= 0.1) edgeLength = reading.value;
    else faults.push(`--mesh "${flags.mesh}": expected an edge length of 0.5 to 100 mm, such as 10 or "3/8 in"`);
  }
  if (faults.length > 0)
    throw new Failure(
      `${faults.length === 1 ? '1 fault' : `${faults.length} faults`}; nothing was written\n${faults.map((f) => `  ${f}\n`).join('')}`,
      EXIT.input,
    );
  const perMetre = spi === undefined ? stated?.stitchesPerMetre : core.perInch(spi),
    force = thread ?? stated?.thread;
  const stitching = perMetre === undefined || force === undefined ? null : { stitchesPerMetre: perMetre, thread: force };
  const ranged = loads !== null && loads[0] < loads[1];
  return { strap, stance, option, anchors, loads: ranged ? loads : null, load: loads?.[1], steps, edgeLength, stitching };
}
