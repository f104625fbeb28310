import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { libm, seeded } from '../../src/numerics/index.ts';

type Name = 'sin' | 'cos' | 'tan' | 'asin' | 'acos' | 'atan' | 'atan2' | 'exp' | 'log' | 'cbrt' | 'hypot';
type Of = (...x: readonly number[]) => number;

const known = JSON.parse(readFileSync(new URL('../data/libm-known.json', import.meta.url), 'utf8')) as {
  readonly source: string;
  readonly rows: readonly (readonly [Name, readonly number[], number, number])[];
};
/** Units in the last place that each is good to by its docstring. */
const LIMIT: Readonly<Record<Name, number>> = { sin: 1, cos: 1, atan: 1, exp: 1, log: 1, cbrt: 1, tan: 2, asin: 2, acos: 2, atan2: 2, hypot: 2 };
const NAMES = Object.keys(LIMIT) as Name[];
const own = (name: Name): Of => libm[name] as Of;
const builtIn = (name: Name): Of => Math[name] as Of;

const value = new Float64Array(1);
const bits = new BigInt64Array(value.buffer);
/** Distance from |x| to the next larger number. */
function unit(x: number): number {
  value[0] = Math.abs(x);
  bits[0]! += 1n;
  return value[0]! - Math.abs(x);
}

describe('elementary functions against values to 400 bits', () => {
  it.each(NAMES)('%s is within its 1 or 2 units in the last place of every known value', (name) => {
    const rows = known.rows.filter((r) => r[0] === name);
    expect(rows.length, 'known values').toBeGreaterThan(10);
    for (const [, x, nearest, left] of rows) {
      const got = own(name)(...x),
        off = Math.abs(got - nearest - left) / unit(nearest);
      expect(off, `${name}(${x}) = ${got}, known ${nearest} (${known.source})`).toBeLessThanOrEqual(LIMIT[name]);
    }
  });
});

/** Arguments of a function from three numbers in 0..1: about the sizes the core meets, and far beyond. */
const ARGUMENTS: Readonly<Record<Name, (a: number, b: number, c: number) => readonly number[]>> = {
  sin: (a, b) => [(2 * a - 1) * 10 ** (9 * b - 3)],
  cos: (a, b) => [(2 * a - 1) * 10 ** (9 * b - 3)],
  tan: (a, b) => [(2 * a - 1) * 10 ** (9 * b - 3)],
  asin: (a) => [2 * a - 1],
  acos: (a) => [2 * a - 1],
  atan: (a, b) => [(2 * a - 1) * 10 ** (12 * b - 6)],
  atan2: (a, b, c) => [(2 * a - 1) * 10 ** (8 * c - 4), 2 * b - 1],
  exp: (a, b) => [(2 * a - 1) * (b < 0.5 ? 700 : 3)],
  log: (a, b) => [b < 0.5 ? 3 * a : a * 10 ** (400 * (b - 0.75))],
  cbrt: (a, b) => [(2 * a - 1) * 10 ** (400 * (b - 0.5))],
  hypot: (a, b, c) => [2 * a - 1, 2 * b - 1, c],
};

describe("elementary functions against this engine's", () => {
  it.each(NAMES)(
    '%s differs by 1 unit in the last place more than its own 1 or 2 at most, over 20 000 seeded arguments (this engine is good to about 1)',
    (name) => {
      const next = seeded(25);
      let worst = 0,
        at: readonly number[] = [];
      for (let k = 0; k < 20_000; k++) {
        const x = ARGUMENTS[name](next(), next(), next()),
          theirs = builtIn(name)(...x),
          off = Math.abs(own(name)(...x) - theirs) / unit(theirs);
        if (!(off <= worst)) [worst, at] = [off, x];
      }
      expect(worst, `${name}(${at}): ${own(name)(...at)}, this engine ${builtIn(name)(...at)}`).toBeLessThanOrEqual(LIMIT[name] + 1);
    },
  );

  it('at the edges (noughts of both signs, infinities, NaN, beyond the domain) all 11 say what the standard says, ECMA-262 21.3.2', () => {
    const edges = [0, -0, 1, -1, 2, -2, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN, 5e-324, Number.MAX_VALUE];
    for (const name of NAMES)
      for (const a of edges) {
        const twice = name === 'atan2' || name === 'hypot';
        for (const b of twice ? edges : [0]) {
          const [got, said] = twice ? [own(name)(a, b), builtIn(name)(a, b)] : [own(name)(a), builtIn(name)(a)];
          // An infinite side beside one that is no number: no length, where the standard says infinite.
          if (name === 'hypot' && (Number.isNaN(a) || Number.isNaN(b))) expect(got).toBeNaN();
          else if (Number.isFinite(said) && said !== 0)
            expect(Math.abs(got - said) / unit(said), `${name}(${a}, ${b}) = ${got}, ${said} expected`).toBeLessThanOrEqual(1);
          else expect(Object.is(got, said), `${name}(${a}, ${b}) = ${got}, ${said} expected`).toBe(true);
        }
      }
  });
});

describe('powers and lengths', () => {
  it('the decimal exponent of 10^n is n for all 617 of them, and of the number before it n - 1', () => {
    for (let n = -308; n <= 308; n++) {
      const x = libm.tenTo(n);
      expect(libm.decimalExponent(x), `${x}`).toBe(n);
      value[0] = x;
      bits[0]! -= 1n;
      expect(libm.decimalExponent(-value[0]!), `before ${x}`).toBe(n - 1);
    }
  });

  it('a whole power of a whole number is exact: 2^0 to 2^1023, 3^0 to 3^33, and 10^0 to 10^22', () => {
    for (const [x, most] of [
      [2, 1023],
      [3, 33],
      [10, 22],
    ] as const)
      for (let n = 0; n <= most; n++) expect(libm.power(x, n), `${x}^${n}`).toBe(Number(BigInt(x) ** BigInt(n)));
  });

  it('a list of 3 has the length of its entries, 0 entries have none, and 4 of 1e300 do not overflow: 2e300', () => {
    expect(libm.norm([1, 2, 2])).toBe(3);
    expect(libm.norm([])).toBe(0);
    expect(libm.norm([1e300, 1e300, -1e300, 1e300])).toBe(2e300);
    expect(libm.square(-3)).toBe(9);
    expect(libm.cube(-3)).toBe(-27);
  });
});
