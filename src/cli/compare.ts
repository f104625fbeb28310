import type { Command } from 'commander';
import type { Core } from './core.ts';
import { EXIT, Failure, type Io, writeTogether } from './io.ts';
import { clothOf } from './swatch.ts';

interface CompareFlags {
  readonly length?: string;
  readonly unit?: string;
  readonly json?: boolean;
  readonly out?: string;
}

/** Adds `compare` to the program. */
export function registerCompare(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('compare')
    .argument('<materials...>', `up to ${core.MOST_COMPARED} built-in materials, or files (*.json) of your own`)
    .description('Set materials side by side: overhang, bending length, mass, droop of a strip, heart loop.')
    .option('--length <mm>', 'overhang of the strip whose droop is told', `${core.COMPARED_LENGTH * 1000} mm`)
    .option('--unit <unit>', 'mm or in', 'mm')
    .option('--json', 'print the figures as JSON, and nothing else on stdout')
    .option('--out <dir>', 'write cloths.csv, droop.svg, mass.svg, loops.svg and lab-sheet.html into this folder')
    .action(async (names: string[], flags: CompareFlags) => done(await compare(io, core, names, flags)));
}

/** `compare A B ...`. Exit 0, or 2 for bad input (all of it listed, nothing written). */
async function compare(io: Io, core: Core, names: readonly string[], flags: CompareFlags): Promise<number> {
  const faults: string[] = [];
  if (names.length > core.MOST_COMPARED) faults.push(`${names.length} materials: expected at most ${core.MOST_COMPARED}, so that they can be told apart`);
  const typed = flags.length ?? '';
  const read = core.readQuantity(/^\s*\d+(\.\d+)?\s*$/.test(typed) ? `${typed} mm` : typed, 'length');
  if (!read.ok) faults.push(`--length "${typed}": expected ${read.expected}`);
  else if (!(read.value > 0 && read.value <= 10)) faults.push(`--length "${typed}": expected more than 0 and at most 10 m`);
  const unit = flags.unit === 'in' ? 'in' : 'mm';
  if (flags.unit !== undefined && flags.unit !== unit) faults.push(`--unit "${flags.unit}": expected mm or in`);
  if (flags.out !== undefined && flags.out.trim() === '') faults.push('--out "": expected a folder');
  const cloths = [];
  for (const name of names.slice(0, core.MOST_COMPARED)) {
    const cloth = await clothOf(io, core, name, faults);
    if (cloth)
      cloths.push({ name: cloth('mid').name, sheets: [cloth('low').sheet, cloth('mid').sheet, cloth('high').sheet] as const, story: cloth('mid').story });
  }
  if (faults.length > 0 || !read.ok) throw new Failure(`${faults.join('\n')}\n`, EXIT.input);
  const made = core.compareCloths(cloths, read.value, unit, `slumpline ${core.VERSION}`);
  if (flags.out !== undefined) {
    const at = (name: string): string => `${flags.out}/${name}`;
    await writeTogether(
      io,
      [flags.out],
      [
        { path: at('cloths.csv'), text: made.csv },
        { path: at('droop.svg'), text: made.plots.droop },
        { path: at('mass.svg'), text: made.plots.mass },
        { path: at('loops.svg'), text: made.plots.loops },
        { path: at('lab-sheet.html'), text: made.sheet },
      ],
    );
  }
  if (flags.json === true) io.out(core.stableJson({ names: made.names, table: made.table, engineer: made.engineer }));
  else {
    const lines = made.names.flatMap((name, i) => [
      name,
      ...[...made.table, ...made.engineer].map((r) => `  ${r.label.padEnd(34)} ${r.values[i]}${r.bands[i] === '' ? '' : `  (${r.bands[i]})`}`),
      '',
    ]);
    io.out(
      `${lines.join('\n')}Theory of narrow strips (Peirce 1930); in brackets from soft to stiff bolt. A preset is an estimate until you test your own cloth.\n`,
    );
    if (flags.out !== undefined) io.out(`wrote cloths.csv, droop.svg, mass.svg, loops.svg and lab-sheet.html to ${flags.out}\n`);
  }
  return EXIT.ok;
}
