/** Lengths as this screen's fields write and read them, in the maker's unit. */
import type { UnitChoice } from '../page/format.ts';
import { formatInches, formatMm } from './core.ts';

const SIXTEENTH = 0.0254 / 16;

/** The step in which lengths are told and anchors moved, m. */
export const stepOf = (units: UnitChoice): number => (units === 'metric' ? 0.001 : SIXTEENTH);

export const written = (m: number, units: UnitChoice): string => (units === 'metric' ? formatMm(m, 1) : formatInches(m, 16));

/** To the step on that side of it at which a range still lies within its ends. */
export const writtenWithin = (m: number, end: 'from' | 'to', units: UnitChoice): string => {
  const step = stepOf(units);
  return written((end === 'from' ? Math.ceil(m / step - 1e-6) : Math.floor(m / step + 1e-6)) * step, units);
};
