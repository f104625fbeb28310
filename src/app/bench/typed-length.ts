import type { UnitChoice } from '../page/format.ts';
import { readQuantity } from './core.ts';

/** A typed length as it is read: a bare number is taken in the reader's own unit. */
export const withOwnUnit = (typed: string, units: UnitChoice): string =>
  /^\d+([.,]\d+)?$/.test(typed.trim()) ? `${typed.trim().replace(',', '.')} ${units !== 'metric' ? 'in' : 'mm'}` : typed.trim();

/** A typed length, m, or null where it is none. */
export function typedLength(typed: string, units: UnitChoice): number | null {
  const read = readQuantity(withOwnUnit(typed, units), 'length');
  return read.ok ? read.value : null;
}
