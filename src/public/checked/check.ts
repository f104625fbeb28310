/** What a function of the library asks of its arguments before it begins: programs without types hand over anything. */
import { nearestWord } from '../../bag/index.ts';
import { BagError, type Fault } from '../../bag/types.ts';

/** Looks at a value: its faults, none where it will do. */
export type Kind = (value: unknown, path: string) => readonly Fault[];

const shown = (value: unknown): string => {
  if (value === undefined) return 'nothing';
  if (typeof value === 'function') return 'a function';
  if (typeof value === 'number' || typeof value === 'bigint' || typeof value === 'symbol') return String(value);
  if (ArrayBuffer.isView(value)) return `a typed array of ${(value as Uint8Array).length}`;
  let text: string;
  try {
    text = JSON.stringify(value) ?? String(value);
  } catch {
    text = 'something that is no JSON';
  }
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

const fault = (value: unknown, path: string, expected: string): readonly Fault[] => [{ path, got: shown(value), expected }];
const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null && !Array.isArray(value);

/** Limits of a number. A bound that it must not reach is `over` or `below`. */
interface Limits {
  readonly least?: number;
  readonly most?: number;
  readonly over?: number;
  readonly below?: number;
  readonly whole?: boolean;
}

/** A finite number within limits; `unit` is told, '' for plain numbers. */
export function figure(unit: string, { least, most, over, below, whole }: Limits = {}): Kind {
  const bounds = [
      over === undefined ? '' : `over ${over}`,
      least === undefined ? '' : `of ${least} or more`,
      below === undefined ? '' : `below ${below}`,
      most === undefined ? '' : `at most ${most}`,
    ].filter((b) => b !== ''),
    expected = `${whole ? 'a whole number' : 'a number'}${bounds.length > 0 ? ` ${bounds.join(' and ')}` : ''}${unit === '' ? '' : `, ${unit}`}`;
  return (v, path) =>
    typeof v === 'number' &&
    Number.isFinite(v) &&
    (!whole || Number.isInteger(v)) &&
    (over === undefined || v > over) &&
    (least === undefined || v >= least) &&
    (below === undefined || v < below) &&
    (most === undefined || v <= most)
      ? []
      : fault(v, path, expected);
}

const typed =
  (type: string, expected: string): Kind =>
  (v, path) =>
    typeof v === type ? [] : fault(v, path, expected);

export const text = (what = 'text'): Kind => typed('string', what);
export const flag: Kind = typed('boolean', 'true or false');
export const work = (what: string): Kind => typed('function', `a function: ${what}`);

/** One of some words; the near one is offered. */
export function word(known: () => readonly string[]): Kind {
  return (v, path) => {
    const words = known();
    if (typeof v === 'string' && words.includes(v)) return [];
    const guess = typeof v === 'string' ? nearestWord(v, words) : null;
    return fault(v, path, `one of ${words.join(', ')}${guess === null ? '' : `; did you mean "${guess}"?`}`);
  };
}

/** May be left out. */
export const maybe =
  (kind: Kind): Kind =>
  (v, path) =>
    v === undefined ? [] : kind(v, path);

export const orNull =
  (kind: Kind): Kind =>
  (v, path) =>
    v === null ? [] : kind(v, path);

/** A list, each entry of a kind; `least` entries at least. At most three faults are told. */
export function list(kind: Kind, what: string, least = 0): Kind {
  return (v, path) => {
    if (!Array.isArray(v) || v.length < least) return fault(v, path, what);
    const faults: Fault[] = [];
    for (let i = 0; i < v.length && faults.length < 3; i++) faults.push(...kind(v[i], `${path}[${i}]`));
    return faults;
  };
}

/** Finite numbers: a list or a typed array; `by`: how many belong together. */
export function numbers(what: string, by = 1): Kind {
  return (v, path) => {
    if (!Array.isArray(v) && !ArrayBuffer.isView(v)) return fault(v, path, what);
    const all = v as ArrayLike<unknown>;
    if (all.length === undefined || all.length % by !== 0) return fault(v, path, what);
    for (let i = 0; i < all.length; i++) if (!Number.isFinite(all[i])) return fault(all[i], `${path}[${i}]`, 'a finite number');
    return [];
  };
}

/** A record with these parts at least, such as another function returns. One that is no record at all is one fault. */
export function like(what: string, parts: Readonly<Record<string, Kind>>): Kind {
  return (v, path) => (isRecord(v) ? Object.entries(parts).flatMap(([key, kind]) => kind(v[key], `${path}.${key}`)) : fault(v, path, what));
}

/** Options: a record with no other keys than these, each of its kind; it may be left out. */
export function options(known: Readonly<Record<string, Kind>>): Kind {
  const keys = Object.keys(known);
  return (v, path) => {
    if (v === undefined) return [];
    if (!isRecord(v)) return fault(v, path, `an object with ${keys.join(', ')}`);
    return Object.entries(v).flatMap(([key, value]): readonly Fault[] => {
      const kind = known[key];
      if (kind) return value === undefined ? [] : kind(value, `${path}.${key}`);
      const guess = nearestWord(key, keys);
      return [{ path: `${path}.${key}`, got: 'an unknown option', expected: guess === null ? `one of ${keys.join(', ')}` : `"${guess}"?` }];
    });
  };
}

/** A fault of one argument beside another. */
export const mismatch = (path: string, got: unknown, expected: string): readonly Fault[] => fault(got, path, expected);

/** Whatever it is, the function looks at it itself. */
export const any: Kind = () => [];

// biome-ignore lint/suspicious/noExplicitAny: any function at all; what it takes and gives stays as its own type says.
type Any = (...given: any[]) => any;

/** Is a number of what was made none? Numbers and lists of them are looked at, and the parts of a record. */
const notANumber = (made: unknown): boolean =>
  typeof made === 'number' ? Number.isNaN(made) : Array.isArray(made) ? made.some((m) => typeof m === 'number' && Number.isNaN(m)) : false;

function faultsOf(given: readonly unknown[], asked: readonly (readonly [string, Kind])[], together: Any | undefined): readonly Fault[] {
  const faults = asked.flatMap(([name, kind], i) => kind(given[i], name));
  return faults.length === 0 && together ? together(...given) : faults;
}

/**
 * The function, which looks at its arguments first. Its type is its own. asked: the name of each argument, in order, with what it must be; made when it is called, so that a bundler
 * may leave out what a program does not use. together: faults of arguments that will do one by one but not with one another.
 * The function that is returned throws BagError with every fault: path (the argument's name and the part of it), what was got, what was expected; and where finite arguments together
 * lead to no number.
 */
export function guard<F extends Any>(f: F, asked: () => Readonly<Record<string, Kind>>, together?: (...given: Parameters<F>) => readonly Fault[]): F {
  const checked = (...given: unknown[]): unknown => {
    const kinds = Object.entries(asked()),
      faults = faultsOf(given, kinds, together);
    if (faults.length > 0) throw new BagError(faults);
    const made: unknown = f(...given);
    if (notANumber(made))
      throw new BagError([
        { path: kinds.map(([name]) => name).join(', '), got: given.map(shown).join(', '), expected: 'figures that lead to a number together' },
      ]);
    return made;
  };
  return checked as F;
}

/** The same of a function whose answer is a promise: it rejects. */
export function guardLater<F extends Any>(f: F, asked: () => Readonly<Record<string, Kind>>, together?: (...given: Parameters<F>) => readonly Fault[]): F {
  const checked = async (...given: unknown[]): Promise<unknown> => {
    const faults = faultsOf(given, Object.entries(asked()), together);
    if (faults.length > 0) throw new BagError(faults);
    return f(...given);
  };
  return checked as F;
}
