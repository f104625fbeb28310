import { expect, test } from 'vitest';
import {
  duckArealMass,
  formatArealMass,
  formatInches,
  formatLeather,
  formatLength,
  formatMass,
  formatMm,
  formatRigidity,
  formatStiffness,
  leadingNumber,
  plainText,
  readQuantity,
  readRange,
} from '../../src/units/index.ts';

const value = (text: string, kind: Parameters<typeof readQuantity>[1]) => {
  const r = readQuantity(text, kind);
  return r.ok ? r.value : r.expected;
};

test.each(['12-3/8 in', '12 3/8 in', '12⅜ in', '12.375"', '12.375 in', '12 3/8"', '12⅜″', '12-3/8 inches', '12 3⁄8 in'])('%s is 314.325 mm', (text) => {
  expect(value(text, 'length')).toBe(12.375 * 0.0254);
});

test.each([
  ['300 mm', 0.3],
  ['30cm', 0.3],
  ['0.3 m', 0.3],
  ['3/8 in', 0.375 * 0.0254],
  ['½ in', 0.0127],
  ['.5 in', 0.0127],
  ['-4 mm', -0.004],
  ['−4 mm', -0.004],
])('%s is %d m', (text, metres) => {
  expect(value(text, 'length')).toBe(metres);
});

test.each(['12', 'mm', '12 mmm', '1/0 in', '1e999 mm', '', '12 oz', 'NaN mm', 'Infinity mm', '12 3/8'])('"%s" is no length', (text) => {
  expect(value(text, 'length')).toContain('a length with its unit');
});

test('areal mass: 10 oz/yd2, duck 10, No. 2/0 duck, 339 gsm and 339 g/m²', () => {
  expect(value('10 oz/yd2', 'arealMass')).toBeCloseTo(0.339057, 6);
  expect(value('duck 10', 'arealMass')).toBe(duckArealMass('10'));
  expect(value('No. 2/0 duck', 'arealMass')).toBe(duckArealMass('2/0'));
  expect(value('339 gsm', 'arealMass')).toBe(0.339);
  expect(value('339 g/m²', 'arealMass')).toBe(0.339);
  expect(value('10 oz', 'arealMass')).toContain('oz/yd2');
  expect(value('duck 13', 'arealMass')).toContain('1 to 12');
});

test('100 uN.m is 1e-4 N.m to the last bit, however the unit is written', () => {
  for (const text of ['100 uN.m', '100 µN·m', '100 uN*m', '0.1 mN.m', '1e-4 N.m']) expect(value(text, 'bending'), text).toBe(1e-4);
});

test('leather gauge: 5 oz is 1.984 mm as a thickness, and "3-4 oz" is a range of 1.19 to 1.59 mm', () => {
  expect(value('5 oz', 'thickness')).toBeCloseTo(0.001984375, 12);
  const range = readRange('3-4 oz', 'thickness');
  expect(range?.[0]).toBeCloseTo(0.001190625, 12);
  expect(range?.[1]).toBeCloseTo(0.0015875, 12);
  expect(readRange('12-3/8 in', 'length')).toBeNull();
  expect(readRange('4-3 oz', 'thickness')).toBeNull();
});

test('formatInches rounds to sixteenths in lowest terms: 300 mm is 11 13/16 in, 9.5 mm is 3/8 in', () => {
  expect(formatInches(0.3)).toBe('11 13/16 in');
  expect(formatInches(0.0095)).toBe('3/8 in');
  expect(formatInches(0.0254)).toBe('1 in');
  expect(formatInches(-0.0127)).toBe('-1/2 in');
  expect(formatInches(0.0001)).toBe('0 in');
  expect(formatInches(Number.NaN)).toBe('-');
});

test('what formatInches prints reads back to within 1/32 in for every length from 1 to 1000 mm', () => {
  for (let mm = 1; mm <= 1000; mm++) {
    const back = value(formatInches(mm / 1000), 'length');
    expect(Math.abs((back as number) - mm / 1000), `${mm} mm -> ${formatInches(mm / 1000)}`).toBeLessThanOrEqual(0.0254 / 32 + 1e-12);
  }
});

test('labels: mm, leather, areal mass, rigidity, stiffness, mass', () => {
  expect(formatMm(0.3)).toBe('300 mm');
  expect(formatLength(0.3)).toBe('300 mm (11 13/16 in)');
  expect(formatLeather(0.002)).toBe('2 mm (5 oz)');
  expect(formatArealMass(0.339)).toBe('339 g/m2 (10 oz/yd2)');
  expect(formatRigidity(55e-6)).toBe('55 uN·m');
  expect(formatRigidity(30e-3)).toBe('30 mN·m');
  expect(formatStiffness(5400)).toBe('5.4 kN/m');
  expect(formatMass(0.45)).toBe('450 g (0.99 lb)');
});

test('leadingNumber takes a fraction as one number and says how much it read', () => {
  expect(leadingNumber('12-3/8 in')).toEqual({ value: 12.375, taken: 6 });
  expect(leadingNumber('7 mm')).toEqual({ value: 7, taken: 1 });
  expect(leadingNumber('x')).toBeNull();
  expect(plainText('2×3÷4−1')).toBe('2*3/4-1');
});

test.each([
  ['1,3 mm', 'a point for decimals, "1.3 mm"; two figures are a list, each in its own quotes: ["1 mm", "3 mm"]'],
  ['1,300 g/m2', '"1.300 g/m2", or "1300 g/m2" for thousands'],
  ['12,5"', "'12.5\"'"],
])('%s is refused with the spellings that may be meant', (text, expected) => {
  const reading = readQuantity(text, text.includes('g/m2') ? 'arealMass' : 'length');
  expect(reading.ok ? reading.value : reading.expected).toContain(expected);
});
