import { formatInches, formatMm } from '../core.ts';
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

/** A plain length typed in one unit, written in another. */
export function inOwnUnit(typed: string, before: UnitChoice, units: UnitChoice): string {
  const metres = typedLength(typed, before);
  if (metres === null || (before !== 'metric') === (units !== 'metric')) return typed;
  return units === 'metric' ? formatMm(metres, 1) : formatInches(metres, 16);
}
