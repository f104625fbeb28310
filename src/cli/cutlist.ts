import type { Command } from 'commander';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { assertFree, assertNone, type CutFlags, fileNames, folderOf, readCut, readLength, withCutFlags } from './cut-flags.ts';
import { both, guarded } from './faults.ts';
import { assertWritable, EXIT, Failure, INPUT, type Io, type OutFile, readText, writeTogether } from './io.ts';

interface ListFlags extends CutFlags {
  readonly width?: readonly string[];
  readonly gap?: string;
  readonly waste?: string;
  readonly stitch?: string;
  readonly shelf?: string;
  readonly zipEnds?: string;
  readonly cordEnds?: string;
  readonly json?: boolean;
  readonly csv?: boolean;
  readonly out?: string;
}

const gathered = (one: string, before: readonly string[]): readonly string[] => [...before, one];

/** Adds `cutlist` to the program. `done` is told the exit code. */
export function registerCutlist(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  withCutFlags(
    program
      .command('cutlist')
      .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
      .description('List what is cut and bought: pieces, cloth by length from a lay, hide, lengths, hardware, thread, masses, costs, and the order of sewing.'),
  )
    .option('--shelf <file>', 'shelf file (*.shelf.json): what the materials cost, the widths and sheets they come in, and what the stock lacks')
    .option(
      '--width <length>',
      'usable width of rolls that the shelf does not state (default: 1400 mm); of one material as "poplin=1100 mm"; may be given several times',
      gathered,
      [],
    )
    .option('--gap <length>', 'kept between pieces of a lay (default: none; a lay is good to 1 mm)')
    .option('--waste <percent>', 'share of a hide lost to shape and flaws (default: as the shelf says, else 30; 25-35 is common practice)')
    .option('--stitch <length>', 'stitch length of seams (default: 2.5 mm)')
    .option('--zip-ends <length>', 'tape beyond the chain at each end of a zip (default: 25 mm)')
    .option('--cord-ends <length>', 'cord beyond the channel at each end of a drawstring (default: 100 mm)')
    .option('--json', 'print the list as JSON (SI), and nothing else on stdout')
    .option('--csv', 'print it as CSV (SI)')
    .option('--out <dir>', 'also write cutlist.txt, cutlist.csv, cutlist.json and a picture of each lay (lay-*.svg) into this folder')
    .option('--force', 'write over files that are there already')
    .option('--quiet', 'do not name the files on stderr')
    .action(async (file: string, flags: ListFlags) => done(await cutlist(io, core, file, flags)));
}

/** `cutlist FILE`. Exit 0, or 2 for bad input (all of it listed; nothing is written). */
async function cutlist(io: Io, core: Core, file: string, flags: ListFlags): Promise<number> {
  const shelfFile = flags.shelf;
  if (shelfFile === INPUT && file === INPUT) throw new Failure('the bag and the shelf are both "-": expected one of them from standard input\n', EXIT.input);
  const [text, shelfText] = [await readText(io, file), shelfFile === undefined ? undefined : await readText(io, shelfFile)];
  const [bag, shelf] = both(
    () => readSewable(core, file, text),
    () => (shelfText === undefined ? null : guarded(core, shelfFile!, () => core.parseShelf(shelfText))),
  );
  const faults: string[] = [];
  const { option, cut } = readCut(core, bag, flags, faults);
  if (flags.json === true && flags.csv === true) faults.push('--json and --csv: expected one of them; --out writes both');
  const widths: Record<string, number> = {};
  let width: number | undefined;
  for (const text of flags.width ?? []) {
    const [, material, value] = /^(?:(.*?)=)?(.*)$/.exec(text)!;
    const read = readLength(core, 'width', value, 0.05, 10, faults);
    if (read === undefined) continue;
    if (material === undefined) width = read;
    else widths[material.trim()] = read;
  }
  const gap = readLength(core, 'gap', flags.gap, 0, 0.05, faults);
  const stitch = readLength(core, 'stitch', flags.stitch, 0.0005, 0.02, faults);
  const zipEnds = readLength(core, 'zip-ends', flags.zipEnds, 0, 0.2, faults);
  const cordEnds = readLength(core, 'cord-ends', flags.cordEnds, 0, 1, faults);
  const percent = flags.waste === undefined ? undefined : Number(flags.waste.replace(/\s*%$/, ''));
  if (percent !== undefined && !(percent >= 0 && percent <= 80)) faults.push(`--waste "${flags.waste}": expected a share from 0 to 80 %, such as 30`);
  assertNone(faults);
  if (flags.out !== undefined) await assertWritable(io, folderOf(flags.out));
  const cutting = await core.loadCutting();
  const list = guarded(core, file, () => {
    const stated = { width, gap, stitch, waste: percent === undefined ? undefined : percent / 100, widths, zipEnds, cordEnds, shelf };
    const said = Object.fromEntries(Object.entries(stated).filter(([, v]) => v !== undefined));
    return cutting.cutList(bag, option, cut, { ...said, finished: core.finishedParts(bag, option) });
  });
  const unknown = Object.keys(widths).filter((w) => !list.materials.some((m) => m.material === w || m.name === w));
  assertNone(unknown.map((w) => `--width "${w}=...": expected a material of this option: ${list.materials.map((m) => m.material).join(', ')}`));
  const [words, csv, json] = [cutting.cutListText(list), cutting.cutListCsv(list), core.stableJson(cutting.cutListRecord(list))];
  if (flags.out !== undefined) {
    const folder = folderOf(flags.out);
    const laid = list.materials.filter((m) => m.lay !== null);
    const names = fileNames(laid.map((m) => m.material));
    const files: OutFile[] = [
      { path: `${folder}/cutlist.txt`, text: words },
      { path: `${folder}/cutlist.csv`, text: csv },
      { path: `${folder}/cutlist.json`, text: json },
      ...laid.map((m, i) => ({ path: `${folder}/lay-${names[i]}.svg`, text: cutting.laySvg(m, `${list.bag}: ${list.option}`) })),
    ];
    await assertFree(
      io,
      files.map((f) => f.path),
      flags.force === true,
    );
    await writeTogether(io, [folder], files);
    if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
  }
  io.out(flags.json === true ? json : flags.csv === true ? csv : words);
  return EXIT.ok;
}
