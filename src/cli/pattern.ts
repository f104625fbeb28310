import type { Command } from 'commander';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { assertFree, assertNone, type CutFlags, folderOf, readCut, withCutFlags } from './cut-flags.ts';
import { guarded } from './faults.ts';
import { assertWritable, EXIT, type Io, type OutFile, readText, writeTogether } from './io.ts';

interface PatternFlags extends CutFlags {
  readonly out: string;
  readonly paper: string;
  readonly json?: boolean;
}

const PAPERS = ['a4', 'letter'] as const;

/** Adds `pattern` to the program. `done` is told the exit code. */
export function registerPattern(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  withCutFlags(
    program
      .command('pattern')
      .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
      .description('Write the pattern to cut from, full size: every piece of every layer with its allowances and marks.')
      .requiredOption(
        '--out <dir>',
        'folder for pattern.svg, pattern.pdf (one sheet), pattern-a4.pdf, pattern-letter.pdf (pages to glue), cards-a4.pdf, cards-letter.pdf (notches, straps) and pattern.dxf',
      ),
  )
    .option('--paper <list>', 'papers of the pages to glue and the cards: a4, letter, or both', 'a4,letter')
    .option('--force', 'write over files that are there already')
    .option('--quiet', 'do not name the files on stderr')
    .action(async (file: string, flags: PatternFlags) => done(await pattern(io, core, file, flags)));
}

/** `pattern FILE`. Nothing is written unless all of it can be. Exit 0, or 2 for bad input (all of it listed). */
async function pattern(io: Io, core: Core, file: string, flags: PatternFlags): Promise<number> {
  const bag = readSewable(core, file, await readText(io, file));
  const faults: string[] = [];
  const { option, cut } = readCut(core, bag, flags, faults);
  const papers = flags.paper.split(',').map((p) => p.trim().toLowerCase());
  for (const p of papers) if (!PAPERS.some((known) => known === p)) faults.push(`--paper "${p}": expected a4, letter, or both with a comma between them`);
  assertNone(faults);
  const folder = folderOf(flags.out);
  await assertWritable(io, folder);
  const cutting = await core.loadCutting();
  const made = guarded(core, file, () => cutting.cutPattern(bag, option, cut));
  const sheet = cutting.makeSheet(made);
  const cards = [...cutting.notchCards(bag, option), ...cutting.strapCards(bag, made, { ...cutting.CUT_DEFAULTS, ...cut })];
  const tiled = PAPERS.filter((p) => papers.includes(p));
  const files: OutFile[] = [
    { path: `${folder}/pattern.svg`, text: cutting.sheetSvg(sheet) },
    { path: `${folder}/pattern.pdf`, text: cutting.sheetPdf(sheet) },
    ...tiled.map((p) => ({ path: `${folder}/pattern-${p}.pdf`, text: cutting.tiledPdf(sheet, p) })),
    ...(cards.length === 0 ? [] : tiled.map((p) => ({ path: `${folder}/cards-${p}.pdf`, text: cutting.cardsPdf(cards, p) }))),
    { path: `${folder}/pattern.dxf`, text: cutting.sheetDxf(sheet) },
  ];
  await assertFree(
    io,
    files.map((f) => f.path),
    flags.force === true,
  );
  await writeTogether(io, [folder], files);
  if (flags.quiet !== true) io.err(`wrote ${files.map((f) => f.path).join(', ')}\n`);
  io.out(
    [
      `${made.bag}: ${made.option}`,
      `${made.pieces.length} pieces on a sheet of ${sheet.width} x ${sheet.height} mm${tiled.map((p) => `, ${cutting.tilesOf(sheet, p).tiles.length} pages of ${p === 'a4' ? 'A4' : 'letter'}`).join('')}`,
      ...made.pieces.map((p, i) => `  ${i + 1}. ${p.name}: ${p.kind}, ${p.materialName}, ${cutting.cutWords(p)}`),
      ...made.tapes.map(
        (t) =>
          `  by length: ${t.name}: ${t.count > 1 ? `${t.count} x ` : ''}${core.formatLength(t.length)} of ${t.materialName}, ${core.formatMm(t.width)} wide`,
      ),
      ...[...made.notes, ...sheet.notes, ...cutting.cardNotes(cards)].map((text) => `look at: ${text}`),
      'Print at 100 % and measure the two squares before you cut.',
      '',
    ].join('\n'),
  );
  return EXIT.ok;
}
