/** A document back to text, as its author wrote it: no length is converted, no formula worked out. */
import type { BagDocument } from './parse.ts';

const WIDTH = 120;

function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (value !== null && typeof value === 'object') {
    const inner = Object.entries(value).map(([k, v]) => `${JSON.stringify(k)}: ${inline(v)}`);
    return inner.length === 0 ? '{}' : `{ ${inner.join(', ')} }`;
  }
  return JSON.stringify(value) ?? 'null';
}

/** Text of a value: on one line where it fits, otherwise one entry a line. The file and its sections are always opened out. */
function lay(value: unknown, indent: string, room: number, level: number): string {
  const flat = inline(value);
  if (value === null || typeof value !== 'object') return flat;
  if (level > 1 && flat.length <= room) return flat;
  const deeper = `${indent}  `;
  const entries = Array.isArray(value)
    ? value.map((v) => lay(v, deeper, WIDTH - deeper.length, level + 1))
    : Object.entries(value).map(([k, v]) => {
        const key = `${JSON.stringify(k)}: `;
        return key + lay(v, deeper, WIDTH - deeper.length - key.length, level + 1);
      });
  if (entries.length === 0) return flat;
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  return `${open}\n${deeper}${entries.join(`,\n${deeper}`)}\n${indent}${close}`;
}

/** Text of a bag document, ending in a newline. parse(print(parse(text))) equals parse(text), and lengths stay as written. */
export const printBag = (document: BagDocument): string => `${lay(document.value, '', WIDTH, 0)}\n`;

/**
 * A copy of the document with one value replaced; everything else stays as written. A path that does not exist yet is made.
 * Parameters: path of keys and list positions, such as ['parameters', 'W']; the new value, undefined to take the entry out.
 */
export function withValue(document: BagDocument, path: readonly (string | number)[], value: unknown): BagDocument {
  return { value: put(document.value, path, value) as BagDocument['value'] };
}

function put(at: unknown, path: readonly (string | number)[], value: unknown): unknown {
  if (path.length === 0) return value;
  const [key, ...rest] = path;
  if (Array.isArray(at) || (at === undefined && typeof key === 'number')) {
    const list = [...((at as unknown[] | undefined) ?? [])];
    if (rest.length === 0 && value === undefined) list.splice(Number(key), 1);
    else list[Number(key)] = put(list[Number(key)], rest, value);
    return list;
  }
  const object = at !== null && typeof at === 'object' ? (at as Record<string, unknown>) : {};
  const entries = new Map(Object.entries(object));
  if (rest.length === 0 && value === undefined) entries.delete(String(key));
  else entries.set(String(key), put(entries.get(String(key)), rest, value));
  return Object.fromEntries(entries);
}

/** A copy of the document with one parameter written anew, e.g. withParameter(document, 'W', '12 3/8 in'). */
export const withParameter = (document: BagDocument, name: string, text: string): BagDocument => withValue(document, ['parameters', name], text);
