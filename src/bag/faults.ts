/** Collecting faults: one list per file, so that a maker sees everything that is wrong at once. */
import { nearestWord } from './nearest-word.ts';
import { BagError, type Fault } from './types.ts';

/** The value as written, shortened to one line of at most 60 characters. */
export function shown(value: unknown): string {
  let text: string;
  if (value === undefined) text = 'nothing';
  else if (typeof value === 'number' || typeof value === 'bigint') text = String(value);
  else if (typeof value === 'string') text = JSON.stringify(value.slice(0, 80));
  else if (Array.isArray(value)) text = `a list of ${value.length}`;
  else if (value !== null && typeof value === 'object') text = `an object with ${Object.keys(value).slice(0, 4).join(', ') || 'nothing in it'}`;
  else text = String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** Path of a child: `panels.front`, `outline[2]`; names that are not plain words are quoted. */
export function at(path: string, key: string | number): string {
  if (typeof key === 'number') return `${path}[${key}]`;
  const step = /^[\p{L}\p{N} _+/'-]+$/u.test(key) ? key : JSON.stringify(key.slice(0, 40));
  return path === '' ? step : `${path}.${step}`;
}

/** "a panel of this bag (did you mean "front"?)" or "a panel of this bag: front, back, base". */
export function oneOf(what: string, word: string, known: Iterable<string>): string {
  const names = [...known];
  const guess = nearestWord(word, names);
  if (guess !== null) return `${what} (did you mean "${guess}"?)`;
  if (names.length === 0) return `${what} (there is none)`;
  const list = names.slice(0, 12).join(', ');
  return `${what}: ${list}${names.length > 12 ? ', ...' : ''}`;
}

/** A growing list of faults. Mutated by add; at most `cap` are kept so that a hostile file cannot fill the memory. */
export class FaultList {
  readonly faults: Fault[] = [];
  private readonly seen = new Set<string>();
  private dropped = 0;
  constructor(private readonly cap = 500) {}

  /** Adds one fault; `got` is shown as written. The same fault at the same place is told once. */
  add(path: string, got: unknown, expected: string): void {
    this.addText(path, shown(got), expected);
  }

  /** As add, for a `got` that is already a phrase ("a clockwise outline"). */
  addText(path: string, got: string, expected: string): void {
    const key = `${path}\n${expected}`;
    if (this.seen.has(key)) return;
    this.seen.add(key);
    if (this.faults.length < this.cap) this.faults.push({ path, got, expected });
    else this.dropped++;
  }

  /** Throws BagError when anything was found. */
  stop(): void {
    if (this.faults.length === 0) return;
    const more = this.dropped > 0 ? [{ path: '', got: `${this.dropped} further faults`, expected: 'the ones above mended first' }] : [];
    throw new BagError([...this.faults, ...more]);
  }
}
