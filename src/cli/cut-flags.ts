/** What `pattern` and `cutlist` have in common: which option, and what the file does not state. */
import type { Command } from 'commander';
import type { Bag } from '../index.ts';
import type { Core } from './core.ts';
import { nearest } from './faults.ts';
import { EXIT, Failure, type Io } from './io.ts';

/** Flags of both commands. */
export interface CutFlags {
  readonly option?: string;
  readonly interfacingMargin?: string;
  readonly boardMargin?: string;
  readonly allowance?: string;
  readonly strapTurn?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

/** Adds the flags to a command. */
export const withCutFlags = (command: Command): Command =>
  command
    .option('--option <name>', 'which option of the file (default: the first)')
    .option('--interfacing-margin <length>', 'how far interfacing ends inside the stitch line (default: 3 mm)')
    .option('--board-margin <length>', 'how far boards end inside the stitch line (default: 3 mm)')
    .option('--allowance <length>', 'allowance of linings and facings at an open edge (default: 10 mm)')
    .option('--strap-turn <length>', 'how far raw edges of cloth straps are turned in (default: 10 mm)');

/** Reads a length of a flag; adds its fault otherwise. min, max in metres. */
export function readLength(core: Core, flag: string, text: string | undefined, min: number, max: number, faults: string[]): number | undefined {
  if (text === undefined) return undefined;
  const reading = core.readQuantity(/^\s*\d+(\.\d+)?\s*$/.test(text) ? `${text} mm` : text, 'length');
  if (reading.ok && reading.value >= min && reading.value <= max) return reading.value;
  faults.push(
    `--${flag} "${text}": expected a length from ${core.formatMm(min)} to ${core.formatMm(max)}, such as "${core.formatMm(Math.min(max, Math.max(min, 0.005)))}"`,
  );
  return undefined;
}

/** The option asked for and the margins; faults are added to the list. */
export function readCut(core: Core, bag: Bag, flags: CutFlags, faults: string[]) {
  const names = bag.options.map((o) => o.name);
  if (flags.option !== undefined && !names.includes(flags.option)) {
    const near = nearest(flags.option, names);
    faults.push(`unknown option "${flags.option}"${near === null ? '' : `; did you mean "${near}"?`} this bag has: ${names.map((n) => `"${n}"`).join(', ')}`);
  }
  const interfacingMargin = readLength(core, 'interfacing-margin', flags.interfacingMargin, 0, 0.03, faults);
  const boardMargin = readLength(core, 'board-margin', flags.boardMargin, 0, 0.03, faults);
  const openAllowance = readLength(core, 'allowance', flags.allowance, 0.001, 0.05, faults);
  const strapTurn = readLength(core, 'strap-turn', flags.strapTurn, 0, 0.05, faults);
  const cut = { interfacingMargin, boardMargin, openAllowance, strapTurn };
  return { option: flags.option, cut: Object.fromEntries(Object.entries(cut).filter(([, v]) => v !== undefined)) as Partial<Record<keyof typeof cut, number>> };
}

/** A Failure with all faults of the flags, where there are any. */
export function assertNone(faults: readonly string[]): void {
  if (faults.length > 0)
    throw new Failure(
      `${faults.length === 1 ? '1 fault' : `${faults.length} faults`}; nothing was written\n${faults.map((f) => `  ${f}\n`).join('')}`,
      EXIT.input,
    );
}

/** Files that are there already are not written over without --force. */
export async function assertFree(io: Io, paths: readonly string[], force: boolean): Promise<void> {
  if (force) return;
  const there: string[] = [];
  for (const path of paths) if (await io.exists(path)) there.push(path);
  if (there.length > 0) throw new Failure(`already there: ${there.join(', ')}; nothing was written. --force writes them anew\n`, EXIT.input);
}

/** Longest name of a file, letters: of the scripts that take most a disk's 255 bytes hold as many. */
const LONG = 60;

/** Names, in whatever script, as names of files: letters, figures, dots and dashes, each different also where capitals count for nothing. */
export function fileNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name, i) => {
    const plain =
      [...name.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}.-]+/gu, '-')]
        .slice(0, LONG)
        .join('')
        .replace(/^[.-]+|[.-]+$/g, '') || String(i + 1);
    let free = plain;
    for (let k = 2; taken.has(free.toLowerCase()); k++) free = `${plain}-${k}`;
    taken.add(free.toLowerCase());
    return free;
  });
}

/** A folder without slashes at its end. */
export const folderOf = (out: string): string => out.replace(/\/+$/, '') || '/';
