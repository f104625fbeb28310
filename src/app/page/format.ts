import { formatInches, formatMm, formatRigidity, readQuantity } from '../core.ts';
import { text } from './text.ts';

/** 'inch': inch fractions alone; 'metric': millimetres alone; 'both': inch fractions with millimetres beside. */
export type UnitChoice = 'inch' | 'metric' | 'both';

/** A figure in the maker's unit and the same one in the other unit, or null when one unit is enough. */
export interface Figure {
  readonly main: string;
  readonly beside: string | null;
}

/** Length at ruler precision: to 1/8 in above an inch, because a bag's height is not known better than its making tolerance. */
export function length(metres: number, units: UnitChoice): Figure {
  const mm = formatMm(metres, Math.abs(metres) < 0.01 ? 1 : 0);
  if (units === 'metric') return { main: mm, beside: null };
  return { main: formatInches(metres, Math.abs(metres) > 0.0254 ? 8 : 16), beside: units === 'both' ? mm : null };
}

/**
 * A sentence of the core in the reader's units alone: it writes "240 mm (9 7/16 in)", "53 mm" and "12 deg". Inches stand alone in a sentence too, so
 * that it has one figure; what is less than a ruler's mark stays in millimetres.
 */
export function told(sentence: string, units: UnitChoice): string {
  const degrees = sentence.replace(/ deg\b/g, text.units.degrees);
  if (units === 'metric') return degrees.replace(/(\d mm) \(-?[\d/ ]+ in\)/g, '$1').replace(/(\d k?g) \([\d.]+ lb\)/g, '$1');
  return degrees
    .replace(/[\d.]+ k?g \(([\d.]+ lb)\)/g, '$1')
    .replace(/-?[\d.]+ mm \((-?[\d/ ]+ in)\)/g, '$1')
    .replace(/([\d.]+) mm\b/g, (mm, value: string) => (Number(value) < 0.8 ? mm : formatInches(Number(value) / 1000, Number(value) < 25.4 ? 16 : 8)));
}

/** Length of a bag that has come down, whose heap is one of many: to half an inch or a centimetre, and said to be about that. */
export function aboutLength(metres: number, units: UnitChoice): string {
  const shown = units === 'metric' ? formatMm(Math.round(metres * 100) / 100, 0) : formatInches(Math.round(metres / 0.0127) * 0.0127, 2);
  return text.units.about(shown);
}

/** An angle, rad: to a tenth of a degree, of a heap to five whole ones. */
export const angle = (radians: number, heap = false): string => {
  const degrees = (radians * 180) / Math.PI;
  return heap ? text.units.about(`${5 * Math.round(degrees / 5)}${text.units.degrees}`) : `${Number(degrees.toFixed(1))}${text.units.degrees}`;
};

/** A pull, N, as what weighs as much. */
export function pull(newtons: number, units: UnitChoice): string {
  const kilograms = newtons / 9.80665;
  return units === 'metric' ? mass(kilograms) : `${(kilograms / 0.45359237).toFixed(1)} lb`;
}

/** A pattern's own length, to 1/16 in. */
export const lengthFine = (metres: number): string => formatInches(metres, 16);

export const lengthText = (metres: number, units: UnitChoice): string => length(metres, units).main;

export const percent = (fraction: number): string => `${Math.round(fraction * 100)} %`;

/** Signed difference to the first option in whole points or grams; empty when it rounds to nothing. */
export function difference(value: number, first: number): string {
  const d = Math.round(value) - Math.round(first);
  return d === 0 ? '' : d > 0 ? `+${d}` : `−${-d}`;
}

/** Grams below a kilogram, kilograms above: what a kitchen scale shows. */
export function mass(kilograms: number): string {
  const grams = Math.round(kilograms * 1000);
  return grams < 1000 ? `${grams} g` : `${(grams / 1000).toFixed(2)} kg`;
}

/** Rigidity per width; the unit's prefix is written as the real micro sign on screen. */
export const rigidity = (value: number): string => formatRigidity(value).replace(' u', ' µ');

/** Of what is still running: whole ones, because each change of a digit is another frame to compose, and without a graphics card the solver pays for it. */
export const elapsed = (since: number): string => `${Math.max(0, Math.floor((performance.now() - since) / 1000))} ${text.units.s}`;

export const seconds = (value: number): string => `${value < 10 ? value.toFixed(1) : Math.round(value)} ${text.units.s}`;

/**
 * A typed length one step up or down, in the unit it is written in: quarters of an inch or 5 mm, large steps 1 in or 10 mm.
 * null when the text is no plain length (a formula, a word).
 */
export function stepped(written: string, direction: 1 | -1, large: boolean): string | null {
  const reading = readQuantity(written, 'length');
  if (!reading.ok) return null;
  const inches = /in|"|″|”/.test(written);
  const step = inches ? (large ? 0.0254 : 0.0254 / 4) : large ? 0.01 : 0.005;
  const value = (Math.round(reading.value / step) + direction) * step;
  if (value < step / 2) return null;
  if (inches) return formatInches(value, 16);
  return /cm/.test(written) ? `${Number((value * 100).toFixed(1))} cm` : `${Number((value * 1000).toFixed(0))} mm`;
}

/** "1,3 mm" is 1.3 mm to whoever types it; three figures after a comma may be thousands, and are left for the reader of the file to ask about. */
export const withPoint = (typed: string): string => (/[(,].*,|\(/.test(typed) ? typed : typed.replace(/(\d),(\d{1,2})(?!\d)/, '$1.$2'));

/**
 * A bare number typed over a length keeps the unit that stood there, else takes `usual`; a bare fraction is in inches as fractions are; anything else
 * stays as typed.
 */
export function withUnitOf(asTyped: string, before: string, usual = ''): string {
  const typed = withPoint(asTyped);
  const fraction = /^\s*\d+([\s-]+\d+)?\s*\/\s*\d+\s*$/.test(typed) || /[¼½¾⅛⅜⅝⅞]\s*$/.test(typed);
  const unit = fraction ? 'in' : (/(?:\d|[\s/])(mm|cm|m|inches|inch|in|ft|yd|["″”])\s*$/.exec(before)?.[1] ?? usual);
  return unit && readQuantity(typed, 'length').ok === false && readQuantity(`${typed} ${unit}`, 'length').ok ? `${typed} ${unit}` : typed;
}

const INCHES = /\d\s*(in|"|″|”|ft|yd)/;
/** A length with its unit and nothing else. */
const PLAIN = /^\s*[\d\s.,/½¼¾⅛⅜⅝⅞]+(mm|cm|m|in|inch|inches|ft|yd|["″”])\s*$/;

/**
 * A written size as its field shows it: a plain length in the reader's unit, whichever it is written in (the file keeps its own until something is typed);
 * where both units are wanted, and a formula always, as it is written.
 */
export function inReadersUnit(metres: number | null, written: string, units: UnitChoice): string {
  if (metres === null || units === 'both' || !PLAIN.test(written) || INCHES.test(written) === (units === 'inch')) return written;
  return units === 'inch' ? formatInches(metres, 16) : `${Number((1000 * metres).toFixed(1))} mm`;
}

/** The small figure beside a dimension: the other unit where both are wanted; else what a formula comes to. */
export function inOtherUnit(metres: number, written: string, units: UnitChoice): string {
  if (units === 'both') return INCHES.test(written) ? formatMm(metres, 0) : formatInches(metres, 16);
  if (PLAIN.test(written)) return '';
  return units === 'metric' ? formatMm(metres, 0) : formatInches(metres, 16);
}

/** A typed mass one step up or down: 0.25 or 1 kg, half a pound or two; null when the text is no mass. Nothing typed is nothing in the bag. */
export function steppedMass(written: string, direction: 1 | -1, large: boolean): string | null {
  const reading = written.trim() === '' ? ({ ok: true, value: 0 } as const) : readQuantity(written, 'mass');
  if (!reading.ok) return null;
  const pounds = /lb|oz/.test(written);
  const one = pounds ? 0.45359237 : 1;
  const step = one * (pounds ? (large ? 2 : 0.5) : large ? 1 : 0.25);
  const value = (Math.round(reading.value / step) + direction) * step;
  return value < step / 2 ? '' : `${Number((value / one).toFixed(2))} ${pounds ? 'lb' : 'kg'}`;
}

/** A bare number typed for a mass is meant in the unit that stood there, in kilograms where none did. */
export function withMassUnit(typed: string, before: string): string {
  const plain = withPoint(typed).trim();
  if (!/^\d+([.,]\d+)?$/.test(plain)) return plain;
  return `${plain} ${/(kg|g|lb|oz)\s*$/.exec(before)?.[1] ?? 'kg'}`;
}
