/** Keys and words of the bag file that once had another name. The old ones are read like the new; what they are called now is told. */
import { at } from './faults.ts';
import { isPlain, type Plain } from './plain-source.ts';

/** One old name in a file. */
export interface Renamed {
  /** Where it stands, as faults say it. */ readonly path: string;
  readonly old: string;
  readonly now: string;
}

export const LARGEST_STRAIN = 'largest strain';
const KEYS: Plain = { strainLimit: LARGEST_STRAIN };
const FORMS: Plain = { box: 'block', sphere: 'ball', ellipsoid: 'egg', cylinder: 'roll', capsule: 'bolster' };
const THINGS: Plain = { box: 'block', cylinder: 'roll', sphere: 'ball' };

/** The file with its old keys and words replaced, and a list of them; the file itself where there are none. Formulas are left as they are. */
export function withNewNames(file: Plain): { readonly file: Plain; readonly renamed: readonly Renamed[] } {
  const renamed: Renamed[] = [];
  const word = (path: string, entry: unknown, key: string, words: Plain): unknown => {
    if (!isPlain(entry) || typeof entry[key] !== 'string' || !Object.hasOwn(words, entry[key])) return entry;
    const now = words[entry[key]] as string;
    renamed.push({ path: at(path, key), old: entry[key], now });
    return { ...entry, [key]: now };
  };
  const each = (stance: Plain, path: string, list: string, key: string, words: Plain): Plain =>
    Array.isArray(stance[list]) ? { ...stance, [list]: stance[list].map((e, i) => word(at(at(path, list), i), e, key, words)) } : stance;
  const stances = Object.hasOwn(file, 'stances') ? file.stances : undefined;
  const entries = Object.entries(file).map(([key, value]): [string, unknown] => {
    if (Object.hasOwn(KEYS, key)) {
      const now = KEYS[key] as string;
      // Both at once: the old one stays a stranger.
      if (Object.hasOwn(file, now)) return [key, value];
      renamed.push({ path: key, old: key, now });
      return [now, value];
    }
    if (key !== 'stances' || !isPlain(stances)) return [key, value];
    const read = (stance: unknown, path: string): unknown =>
      isPlain(stance) ? each(each(stance, path, 'forms', 'form', FORMS), path, 'contents', 'thing', THINGS) : stance;
    return [key, Object.fromEntries(Object.entries(stances).map(([name, stance]) => [name, read(stance, at('stances', name))]))];
  });
  return renamed.length > 0 ? { file: Object.fromEntries(entries), renamed } : { file, renamed };
}
