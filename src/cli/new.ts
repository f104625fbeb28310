import type { Core } from './core.ts';
import { guarded, nearest } from './faults.ts';
import { EXIT, Failure, type Io } from './io.ts';

export interface NewFlags {
  readonly list?: boolean;
  /** "W=320 mm", in the order typed. */ readonly set?: readonly string[];
}

/**
 * `new TEMPLATE [--set NAME=FIGURE]...`: the bag file of a template, with some parameters written anew, on stdout. `new --list`: one template
 * name a line. Exit 2 for an unknown template or parameter, or figures from which no bag can be drafted; nothing is printed then.
 */
export function newFile(io: Io, core: Core, name: string | undefined, flags: NewFlags): number {
  const names = core.templates().map((t) => t.name);
  if (flags.list) {
    io.out(`${names.join('\n')}\n`);
    return EXIT.ok;
  }
  if (name === undefined) throw new Failure(`which template? One of ${names.join(', ')}\n`, EXIT.input);
  if (!names.includes(name)) {
    const guess = nearest(name, names);
    const hint = guess === null ? `one of ${names.join(', ')}` : `did you mean "${guess}"? (slumpline new --list shows all)`;
    throw new Failure(`unknown template "${name.slice(0, 60)}"; ${hint}\n`, EXIT.input);
  }
  const overrides = readSets(flags.set ?? []);
  io.out(guarded(core, `new ${name}`, () => core.newBag(name, overrides)));
  return EXIT.ok;
}

/** Takes "NAME=FIGURE" apart; figures may hold blanks and further signs, names may not. */
function readSets(written: readonly string[]): Record<string, string> {
  const sets = new Map<string, string>();
  for (const text of written) {
    const sign = text.indexOf('=');
    const key = text.slice(0, sign).trim();
    const figure = text.slice(sign + 1).trim();
    if (sign < 0 || key === '' || figure === '')
      throw new Failure(`--set "${text.slice(0, 60)}": expected NAME=FIGURE, such as --set "W=320 mm"\n`, EXIT.input);
    if (sets.has(key)) throw new Failure(`--set ${key.slice(0, 60)} is given twice; once is enough\n`, EXIT.input);
    sets.set(key, figure);
  }
  return Object.fromEntries(sets);
}
