/** The text of what is varied, to entries: "W=260..340/5, stack.wall.bond=0.2..0.8/4, option=*". What the names stand for is the business of axes.ts. */
import type { Fault } from '../../bag/types.ts';

/** One entry as it is written. */
export interface Entry {
  /** As written, without its values. */ readonly name: string;
  /** The name in its parts: "stack", "wall", "bond". Quotes are taken off, and keep points and commas inside a part. */ readonly parts: readonly string[];
  readonly values: Written;
}

/** Values as written: everything there is, a list of words or figures, or a range with its number of steps (null: drawn). */
export type Written =
  | { readonly kind: 'all' }
  | { readonly kind: 'list'; readonly words: readonly string[] }
  | { readonly kind: 'range'; readonly from: string; readonly to: string; readonly steps: number | null };

/** Longest text that is looked at, and most steps of one range. */
const LONGEST = 20_000;
const MOST_STEPS = 100_000;

const EXAMPLE = 'name=values, such as "W=260..340 mm/5", "stack.wall.bond=0.2..0.8/4", "option=*" or "friction=0.3|0.5"';

/** A text cut at every `mark` outside double quotes. */
function cut(text: string, mark: string): string[] {
  const parts = [''];
  let quoted = false;
  for (const sign of text) {
    if (sign === '"') quoted = !quoted;
    if (sign === mark && !quoted) parts.push('');
    else parts[parts.length - 1] += sign;
  }
  return parts;
}

/** The word without the quotes around it. */
const bare = (text: string): string => text.trim().replace(/^"(.*)"$/, '$1');

/** Entries of a text. Every fault is told in `faults`: what is no entry, empty names and values, steps that are no count, a name that comes twice. */
export function readVary(text: string, faults: Fault[]): Entry[] {
  if (typeof text !== 'string' || text.length > LONGEST) {
    faults.push({
      path: 'vary',
      got: typeof text === 'string' ? `${text.length} characters` : String(text),
      expected: `a text of at most ${LONGEST}: ${EXAMPLE}`,
    });
    return [];
  }
  if ((text.match(/"/g) ?? []).length % 2 === 1) {
    faults.push({ path: 'vary', got: 'a quote that is not closed', expected: 'names in quotes on both sides: stack."canvas, lined".bond=0.2..0.8/4' });
    return [];
  }
  const written = cut(text, ',').filter((part) => part.trim() !== '');
  if (written.length === 0) faults.push({ path: 'vary', got: 'nothing', expected: EXAMPLE });
  const entries = written.flatMap((part): Entry[] => {
    const [left, ...rest] = cut(part, '='),
      right = rest.join('=');
    if (rest.length === 0 || left!.trim() === '' || right.trim() === '') {
      faults.push({ path: 'vary', got: JSON.stringify(part.trim().slice(0, 60)), expected: EXAMPLE });
      return [];
    }
    const name = left!.trim(),
      values = readValues(name, right.trim(), faults);
    return values === null ? [] : [{ name, parts: partsOf(name), values }];
  });
  entries.forEach(({ parts, name }, i) => {
    if (entries.some((e, k) => k < i && e.parts.join('\n') === parts.join('\n')))
      faults.push({ path: `vary.${name}`, got: 'the same name again', expected: 'each name once; several ranges of one are a list: 0.2|0.5|0.8' });
  });
  return entries;
}

/** "stack", "wall", "bond": a name in the middle may have points of its own ("material.pp0.5.bending"), in quotes or not. */
function partsOf(name: string): string[] {
  const parts = cut(name, '.');
  if (parts.length <= 2) return parts.map(bare);
  return parts[0]!.trim() === 'anchor'
    ? [parts[0]!.trim(), bare(parts.slice(1).join('.'))]
    : [parts[0]!.trim(), bare(parts.slice(1, -1).join('.')), parts.at(-1)!.trim()];
}

function readValues(name: string, text: string, faults: Fault[]): Written | null {
  if (text === '*') return { kind: 'all' };
  const words = cut(text, '|').map(bare);
  if (words.length > 1) {
    if (words.every((w, i) => w !== '' && words.indexOf(w) === i)) return { kind: 'list', words };
    faults.push({ path: `vary.${name}`, got: JSON.stringify(text.slice(0, 60)), expected: 'a list of values, each once and none empty: 0.2|0.5|0.8' });
    return null;
  }
  if (text.startsWith('"') || !text.includes('..')) return { kind: 'list', words };
  const counted = /^(.*\.\..*?)\s*\/\s*([^/]*)$/.exec(text),
    // What stands after the last slash is a number of steps, or part of a unit ("oz/yd2").
    steps = counted && /^[-+\d.]/.test(counted[2]!) ? counted[2]!.trim() : null,
    range = steps === null ? text : counted![1]!,
    at = range.indexOf('..'),
    [from, to] = [range.slice(0, at).trim(), range.slice(at + 2).trim()];
  let sound = true;
  if (steps !== null && !(/^\d+$/.test(steps) && Number(steps) >= 2 && Number(steps) <= MOST_STEPS)) {
    faults.push({ path: `vary.${name}`, got: `/${steps}`, expected: `a number of steps, both ends among them: a whole number from 2 to ${MOST_STEPS}` });
    sound = false;
  }
  if (from === '' || to === '' || to.includes('..')) {
    faults.push({ path: `vary.${name}`, got: JSON.stringify(range.slice(0, 60)), expected: 'both ends of a range, such as 260..340 mm' });
    sound = false;
  }
  return sound ? { kind: 'range', from, to, steps: steps === null ? null : Number(steps) } : null;
}
