import fc from 'fast-check';
import { expect, test } from 'vitest';
import { evaluate, metres, pure } from '../../src/bag/evaluate.ts';
import { FormulaError, parseFormula } from '../../src/bag/formula.ts';

const names = {
  parameter: (name: string) => {
    if (name === 'W') return metres(0.3);
    if (name === 'k') return pure(1.5);
    throw new FormulaError(`unknown ${name}`);
  },
  edge: (ref: string) => {
    if (ref === 'front.left side') return metres(0.24);
    throw new FormulaError(`unknown ${ref}`);
  },
};
const run = (text: string) => evaluate(parseFormula(text), names);

test.each([
  ['W/2', 0.15, 1],
  ['W - 12 3/8 in', 0.3 - 12.375 * 0.0254, 1],
  ['W - 12-3/8 in', 0.3 - 12.375 * 0.0254, 1],
  ['W - 3/8"', 0.3 - 0.375 * 0.0254, 1],
  ['2*(W + 10 mm) / k', 0.62 / 1.5, 1],
  ['sqrt(W*W)', 0.3, 1],
  ['edge(front.left side) + edge("front.left side")', 0.48, 1],
  ['length(front.left side)', 0.24, 1],
  ['max(W, 1 m, 2 mm) - min(W, 1 m)', 0.7, 1],
  ['hypot(3 mm, 4 mm)', 0.005, 1],
  ['W * sin(30 deg)', 0.15, 1],
  ['-W + +W', 0, 1],
  ['pi * 100 mm', Math.PI * 0.1, 1],
  ['100 mm * 90 deg', 0.05 * Math.PI, 1],
  ['12 - 3/8', 12 - 3 / 8, 0],
  ['3 - 1/2', 2.5, 0],
  ['1e-3 m', 0.001, 1],
  ['W + 0', 0.3, 1],
  ['0 - W', -0.3, 1],
  ['max(0, W - 1 m, 1 mm)', 0.001, 1],
  ['2 × 3 ÷ 4', 1.5, 0],
  ['W²', null, null],
])('%s', (text, value, power) => {
  if (value === null) {
    expect(() => run(text)).toThrow(FormulaError);
    return;
  }
  const m = run(text);
  expect(Math.abs(m.value - value), `got ${m.value}, expected ${value}`).toBeLessThan(1e-15);
  expect(m.length).toBe(power);
});

test.each([
  ['W + 3', 'one kind'],
  ['sin(30)', '30 deg'],
  ['sqrt(0 - 4)', 'at least 0'],
  ['W / 0', 'divisor'],
  ['W +', 'after the last sign'],
  ['(W', 'closing'],
  ['1,3 mm', 'a point for decimals, "1.3 mm"; two figures are a list, each in its own quotes: ["1 mm", "3 mm"]'],
  ['W + 1,300 mm', '"1.300 mm", or "1300 mm" for thousands'],
  ['2*(1,5 in + W)', '"1.5 in"'],
  ['W W', 'in place of "W"'],
  ['foo(3)', 'functions'],
  ['min(W, 3 deg)', 'one kind'],
  ['1e308 m * 1e308', 'finite'],
  ['edge(front.left side', 'closing'],
  ['', 'a formula'],
  ['alert(1)', 'functions'],
  ['constructor', 'unknown constructor'],
  ['12,5 mm', 'a point for decimals, "12.5 mm"'],
  ['3/0 in', 'lower part'],
  [`${'('.repeat(300)}1`, 'nested'],
  ['1+'.repeat(300), 'at most 400'],
])('"%s" is refused: %s', (text, why) => {
  expect(() => run(text)).toThrow(FormulaError);
  expect(() => run(text)).toThrow(why);
});

test('any text gives a value or a FormulaError, never another exception (3000 random texts)', () => {
  const piece = fc.constantFrom(
    'W',
    'k',
    '1',
    '2.5',
    '3/8 in',
    '"',
    '(',
    ')',
    '+',
    '-',
    '*',
    '/',
    ',',
    'sin(',
    'min(',
    'edge(',
    'front.left side',
    ' ',
    'mm',
    'deg',
    'pi',
    'e',
    '.',
    '[',
    'é',
    '½',
  );
  fc.assert(
    fc.property(
      fc.oneof(
        fc.array(piece, { maxLength: 12 }).map((p) => p.join('')),
        fc.string({ unit: 'grapheme', maxLength: 30 }),
      ),
      (text) => {
        try {
          expect(Number.isFinite(run(text).value)).toBe(true);
        } catch (error) {
          if (!(error instanceof FormulaError)) throw error;
        }
      },
    ),
    { seed: 41, numRuns: 3000 },
  );
});

test('sums of random terms agree with plain arithmetic to 1e-12', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 1, maxLength: 20 }), (terms) => {
      const text = terms.map((t) => `${t} mm`).join(' + ');
      expect(Math.abs(run(text).value - terms.reduce((a, b) => a + b, 0) / 1000)).toBeLessThan(1e-12);
    }),
    { seed: 42, numRuns: 200 },
  );
});
