/** Wilson's interval and first-order shares against values that are known beforehand. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../src/numerics/index.ts';
import { type Axis, firstOrderShares, type PlannedRun, wilson } from '../../../src/report/index.ts';
import { latinHypercube } from '../../../src/run/index.ts';
import { drawnAxis, madeRun, planOf, stepsAxis } from './made-up.ts';

describe("Wilson's interval", () => {
  // Its defining equation (Wilson 1927): at either end p, |k/n - p| is z standard deviations of a binomial share whose true value is p.
  it.each([
    [46, 50],
    [1, 10],
    [5, 9],
    [999, 1000],
  ])('%i of %i: both ends solve (k/n - p)^2 = z^2 p (1 - p)/n to 1e-12', (k, n) => {
    const z = 1.959963984540054;
    for (const p of Object.values(wilson(k, n))) expect(Math.abs((k / n - p) ** 2 - (z * z * p * (1 - p)) / n)).toBeLessThan(1e-12);
  });
  it('46 of 50 is 81.2 to 96.8 %; 0 of 10 ends at z^2/(n + z^2) = 27.8 %, 10 of 10 begins at 72.2 %; nothing seen says nothing', () => {
    expect(wilson(46, 50).low).toBeCloseTo(0.8116, 4);
    expect(wilson(46, 50).high).toBeCloseTo(0.96845, 5);
    expect(wilson(0, 10)).toEqual({ low: 0, high: expect.closeTo(0.27753, 5) });
    expect(wilson(10, 10)).toEqual({ low: expect.closeTo(0.72247, 5), high: 1 });
    expect(wilson(0, 0)).toEqual({ low: 0, high: 1 });
  });
});

/** A Latin hypercube of a function of figures between 0 and 1. */
function sampled(count: number, names: readonly string[], f: (x: readonly number[]) => number, seed: number): { axes: Axis[]; runs: PlannedRun[] } {
  const axes = names.map((n) => drawnAxis(n)),
    plan = planOf(axes, count),
    shares = latinHypercube(count, names.length, seed);
  const runs = Array.from({ length: count }, (_, i) => {
    const x = names.map((_, a) => shares[i * names.length + a]!);
    return madeRun(plan, i, Object.fromEntries(names.map((n, a) => [n, x[a]!])), { heightKept: f(x) });
  });
  return { axes, runs };
}
const shares = (s: ReturnType<typeof sampled>) => firstOrderShares(s.axes, s.runs, (r) => r.heightKept);

describe('first-order shares', () => {
  it('y = 4a + 2b + c of 4000 draws: 16/21, 4/21, 1/21 within 0.02 (50 groups read a straight line 0.04 % low; the rest is chance)', () => {
    const found = shares(sampled(4000, ['a', 'b', 'c'], ([a, b, c]) => 4 * a! + 2 * b! + c!, 1));
    [16 / 21, 4 / 21, 1 / 21].forEach((known, i) => {
      expect(Math.abs(found[i]!.share - known), found[i]!.axis).toBeLessThan(0.02);
    });
  });
  // Ishigami and Homma 1990, a = 7, b = 0.1; closed forms V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V = V1 + V2 + b^2 pi^8 (1/18 - 1/50) (from memory; they give 0.3139, 0.4424, 0).
  it("Ishigami's function of 4000 draws: 0.314, 0.442, 0 within 0.04, of which no straight line would see the second", () => {
    const x = (u: number) => Math.PI * (2 * u - 1);
    const found = shares(sampled(4000, ['a', 'b', 'c'], ([a, b, c]) => Math.sin(x(a!)) + 7 * Math.sin(x(b!)) ** 2 + 0.1 * x(c!) ** 4 * Math.sin(x(a!)), 2));
    const b = 0.1,
      v1 = (1 + (b * Math.PI ** 4) / 5) ** 2 / 2,
      v2 = 49 / 8,
      v = v1 + v2 + b * b * Math.PI ** 8 * (1 / 18 - 1 / 50);
    [v1 / v, v2 / v, 0].forEach((known, i) => {
      expect(Math.abs(found[i]!.share - known), found[i]!.axis).toBeLessThan(0.04);
    });
  });
  it('the 95 % interval of 60 draws with scatter holds the true share in at least 85 of 100 samples', () => {
    let inside = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const chance = seeded(1000 + seed),
        // Var = 9/12 + 1/12 + 1/12 of scatter.
        [a] = shares(sampled(60, ['a', 'b'], ([a, b]) => 3 * a! + b! + chance(), seed));
      if (a!.low! <= 9 / 11 && 9 / 11 <= a!.high!) inside++;
    }
    console.log(`inside in ${inside} of 100`);
    expect(inside).toBeGreaterThanOrEqual(85);
  });
  it('a figure that hangs on nothing reads 0 +- 0.05 over 100 samples of 60 draws on average: no shift of its own', () => {
    let sum = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const chance = seeded(5000 + seed);
      sum += shares(sampled(60, ['a'], () => chance(), seed))[0]!.share;
    }
    expect(Math.abs(sum / 100)).toBeLessThan(0.05);
  });
  it('a grid of words and steps: each level is a group, an axis of one value and a figure that does not vary give nothing', () => {
    const axes = [stepsAxis('a', [1, 2, 3]), stepsAxis('b', [5])],
      plan = planOf(axes, 12);
    const runs = Array.from({ length: 12 }, (_, i) => madeRun(plan, i, { a: 1 + (i % 3), b: 5 }, { heightKept: [0.2, 0.9, 0.4][i % 3]! }));
    expect(firstOrderShares(axes, runs, (r) => r.heightKept)).toEqual([
      { axis: 'a', share: expect.closeTo(1, 12), low: expect.closeTo(1, 12), high: 1, groups: 3 },
    ]);
    expect(firstOrderShares(axes, runs, (r) => r.heightKept, false)).toEqual([{ axis: 'a', share: expect.closeTo(1, 12), groups: 3 }]);
    expect(firstOrderShares(axes, runs, () => 3)).toEqual([]);
    expect(firstOrderShares(axes, runs, () => null)).toEqual([]);
  });
});

describe('a grid that was gone through', () => {
  const axes = [stepsAxis('a', [1, 2, 3]), stepsAxis('b', [1, 2, 3])],
    plan = planOf(axes, 9);
  const grid = (f: (a: number, b: number) => number): PlannedRun[] =>
    Array.from({ length: 9 }, (_, i) => {
      const [a, b] = [1 + Math.floor(i / 3), 1 + (i % 3)];
      return madeRun(plan, i, { a, b }, { heightKept: f(a, b) });
    });
  const told = (f: (a: number, b: number) => number) => firstOrderShares(axes, grid(f), (r) => r.heightKept, false);
  it('y = 2a + b on 3 x 3 values: 4/5 and 1/5 to 1e-12, which leave nothing over and have no interval (analysis of variance by hand)', () => {
    expect(told((a, b) => 2 * a + b)).toEqual([
      { axis: 'a', share: expect.closeTo(0.8, 12), groups: 3 },
      { axis: 'b', share: expect.closeTo(0.2, 12), groups: 3 },
    ]);
  });
  it('y = (a - 2)(b - 2): neither alone explains any of it', () => {
    for (const s of told((a, b) => (a - 2) * (b - 2))) expect(s.share).toBeCloseTo(0, 12);
  });
  it('one parameter alone has nothing beside it to be told from: no share', () => {
    expect(
      firstOrderShares(
        [axes[0]!],
        grid((a) => a).filter((r) => r.values.b === 1),
        (r) => r.heightKept,
        false,
      ),
    ).toEqual([]);
  });
});

describe('latinHypercube', () => {
  it('50 draws of 3 axes: one in each fiftieth of each axis; the same with the same seed, other with another, and axes added behind change none before', () => {
    const made = latinHypercube(50, 3, 7);
    for (let a = 0; a < 3; a++)
      expect(Array.from({ length: 50 }, (_, i) => Math.floor(50 * made[3 * i + a]!)).sort((p, q) => p - q)).toEqual([...Array(50).keys()]);
    expect(latinHypercube(50, 3, 7)).toEqual(made);
    expect(latinHypercube(50, 3, 8)).not.toEqual(made);
    const two = latinHypercube(50, 2, 7);
    expect(Array.from({ length: 50 }, (_, i) => two[2 * i])).toEqual(Array.from({ length: 50 }, (_, i) => made[3 * i]));
  });
});
