/**
 * Readings with a unit ("10 oz/yd2", "55 uN.m", "12 3/8 in") to SI. A number without its unit is refused: the file must say what it means.
 */
import { DEGREE, FOOT, GRAM_FORCE, GRAVITY, INCH, OUNCE, POUND, POUND_FORCE, YARD } from './constants.ts';
import { decimalComma, leadingNumber, plainText } from './fractions.ts';
import { duckArealMass, LEATHER_OUNCE, OZ_PER_FT2, OZ_PER_YD2 } from './trade.ts';

/** What a reading measures. SI units: m, rad, kg/m2, kg, N*m (per unit width), N (N*m per unit width: a moment), N/m, N (per radian), N (force), N*m2 (of a rod), kg/m, 1. */
export type QuantityKind =
  | 'length'
  | 'thickness'
  | 'angle'
  | 'arealMass'
  | 'mass'
  | 'bending'
  | 'bendingMoment'
  | 'inPlane'
  | 'hinge'
  | 'force'
  | 'rodBending'
  | 'lineMass'
  | 'number';

const LENGTH: Readonly<Record<string, number>> = { mm: 1e-3, cm: 1e-2, m: 1, um: 1e-6, in: INCH, inch: INCH, inches: INCH, '"': INCH, ft: FOOT, yd: YARD };

const UNITS: Readonly<Record<QuantityKind, Readonly<Record<string, number>>>> = {
  length: LENGTH,
  // Only where a thickness is meant does a bare "oz" mean the leather gauge, 1/64 in.
  thickness: { ...LENGTH, oz: LEATHER_OUNCE, 'leather oz': LEATHER_OUNCE },
  angle: { deg: DEGREE, rad: 1 },
  arealMass: { 'g/m2': 1e-3, gsm: 1e-3, 'kg/m2': 1, 'oz/yd2': OZ_PER_YD2, 'oz/ft2': OZ_PER_FT2 },
  mass: { g: 1e-3, kg: 1, lb: POUND, oz: OUNCE },
  // Cantilever and pure-bending testers report per width: mg*cm, mN*cm and gf*cm2/cm are all N*m after conversion.
  bending: {
    'N.m': 1,
    'N.m2/m': 1,
    'uN.m2/m': 1e-6,
    'mN.m': 1e-3,
    'uN.m': 1e-6,
    'mN.cm': 1e-5,
    'uJ/m': 1e-6,
    'mg.cm': 1e-8 * GRAVITY,
    'gf.cm2/cm': GRAM_FORCE * 1e-2,
  },
  // A moment per width, such as the hysteresis 2HB of a pure-bending test.
  bendingMoment: { 'N.m/m': 1, 'mN.m/m': 1e-3, N: 1, mN: 1e-3, 'gf.cm/cm': GRAM_FORCE },
  inPlane: { 'N/m': 1, 'kN/m': 1e3, 'N/mm': 1e3, 'N/cm': 1e2, 'MN/m': 1e6, 'gf/cm': GRAM_FORCE * 1e2, 'lbf/in': POUND_FORCE / INCH },
  hinge: { N: 1, mN: 1e-3, 'N/rad': 1, 'N.m/rad/m': 1, 'mN.m/rad/m': 1e-3 },
  force: { N: 1, cN: 1e-2, kN: 1e3, lbf: POUND_FORCE, gf: GRAM_FORCE, kgf: GRAVITY },
  // Of a rod as a whole, not per width.
  rodBending: { 'N.m2': 1, 'mN.m2': 1e-3, 'uN.m2': 1e-6, 'N.mm2': 1e-6, 'N.cm2': 1e-4 },
  lineMass: { 'g/m': 1e-3, 'kg/m': 1, 'oz/yd': OUNCE / YARD },
  number: { '': 1, '%': 0.01 },
};

/** The unit words accepted for a kind, in the order in which messages list them. */
export function unitWords(kind: QuantityKind): readonly string[] {
  return Object.keys(UNITS[kind]).filter((u) => u !== '');
}

/** SI size of a unit word of a kind, or null. `*` between unit letters is read as `.` (N*m = N.m). */
export function unitSize(kind: QuantityKind, word: string): number | null {
  const tidy = word
    .trim()
    .replace(/\s*[*.]\s*/g, '.')
    .replace(/\s+/g, ' ')
    .replace(/\^2/g, '2');
  const table = UNITS[kind];
  return Object.hasOwn(table, tidy) ? table[tidy] : null;
}

/** value x size, dividing where the size is 1/1000 or the like, so that 100 uN.m is 1e-4 N.m to the last bit. */
export function scaled(value: number, size: number): number {
  const parts = Math.round(1 / size);
  return size < 1 && parts >= 10 && /^10*$/.test(String(parts)) && Math.abs(parts * size - 1) < 1e-12 ? value / parts : value * size;
}

/** Outcome of reading text: SI value, or the reason it could not be read. */
export type Reading = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly expected: string };

const EXAMPLE: Readonly<Record<QuantityKind, string>> = {
  length: 'a length with its unit, such as "12 mm" or "12 3/8 in"',
  thickness: 'a thickness with its unit, such as "0.6 mm" or "5 oz" (leather)',
  angle: 'an angle with its unit, such as "45 deg"',
  arealMass: 'a mass per area with its unit, such as "339 g/m2", "10 oz/yd2" or "duck 10"',
  mass: 'a mass with its unit, such as "450 g" or "1 lb"',
  bending: 'a rigidity per width with its unit, such as "55 uN.m"',
  bendingMoment: 'a moment per width with its unit, such as "0.14 gf.cm/cm" or "1.4 mN.m/m"',
  inPlane: 'a stiffness per width with its unit, such as "5 kN/m"',
  hinge: 'a seam stiffness with its unit, such as "0.02 N" (N.m per radian and metre)',
  force: 'a force with its unit, such as "2.6 lbf" or "12 N"',
  rodBending: 'a rigidity of a whole rod with its unit, such as "0.02 N.m2"',
  lineMass: 'a mass per length with its unit, such as "12 g/m"',
  number: 'a number',
};

/** Longest text that is looked at: pattern matching on a hostile megabyte takes minutes. */
const LONGEST = 80;

/** One line that says what a reading of this kind looks like. */
export const quantityExample = (kind: QuantityKind): string => EXAMPLE[kind];

/**
 * SI value of a written quantity. Accepts inch fractions, "duck 10" / "duck 2/0" for a mass per area, and a leading minus sign.
 * Errors: { ok: false } with what was expected; an overflow to infinity is refused as well.
 */
export function readQuantity(text: string, kind: QuantityKind): Reading {
  if (!Object.hasOwn(EXAMPLE, kind)) throw new RangeError(`unknown kind of quantity ${JSON.stringify(kind)}: expected ${Object.keys(EXAMPLE).join(', ')}`);
  const refuse: Reading = { ok: false, expected: EXAMPLE[kind] };
  // A program without types may hand over a bare number: it has no unit.
  if (typeof text !== 'string' || text.length > LONGEST) return refuse;
  const plain = plainText(text).trim();
  if (kind === 'arealMass') {
    const duck = /^(?:duck\s*(?:no\.?)?|no\.?)\s*(\d+(?:\s*\/\s*0)?)(?:\s*duck)?$/i.exec(plain);
    if (duck) {
      const value = duckArealMass(duck[1]);
      return value === null ? { ok: false, expected: 'a duck number 1 to 12 or 1/0 to 12/0' } : { ok: true, value };
    }
  }
  const sign = plain.startsWith('-') ? -1 : 1;
  const body = sign < 0 ? plain.slice(1) : plain;
  const number = leadingNumber(body);
  if (!number || !Number.isFinite(number.value)) return refuse;
  const size = unitSize(kind, body.slice(number.taken));
  if (size === null) return { ok: false, expected: decimalComma(plain) ?? EXAMPLE[kind] };
  const value = sign * scaled(number.value, size);
  return Number.isFinite(value) ? { ok: true, value } : refuse;
}

/**
 * A range such as "3-4 oz" or "1.6-2.0 mm" as [low, high] in SI, or null when the text is no range.
 * "12-3/8 in" is a single reading, not a range: a slash keeps it out.
 */
export function readRange(text: string, kind: QuantityKind): readonly [number, number] | null {
  if (text.length > LONGEST) return null;
  const m = /^\s*(\d+\.?\d*)\s*(?:-|to)\s*(\d+\.?\d*)\s*([A-Za-z"].*)$/.exec(plainText(text));
  if (!m) return null;
  const size = unitSize(kind, m[3]);
  if (size === null) return null;
  const low = scaled(Number(m[1]), size);
  const high = scaled(Number(m[2]), size);
  return low < high ? [low, high] : null;
}
