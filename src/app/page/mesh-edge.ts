import { readQuantity } from '../core.ts';

/** A typed mesh edge, m: undefined where nothing is typed, null where it is no length from 5 to 100 mm. A bare number is millimetres. */
export function meshEdge(typed: string): number | null | undefined {
  const text = typed.trim();
  if (text === '') return undefined;
  const read = readQuantity(/^[\d.,]+$/.test(text) ? `${text} mm` : text, 'length');
  return read.ok && read.value >= 0.005 && read.value <= 0.1 ? read.value : null;
}
