import { describe, expect, it } from 'vitest';
import { type Sym, symOf, turned } from '../../src/material/orthotropy.ts';
import { seenFrom, sideBySide } from '../../src/material/side-by-side.ts';
import { random } from '../solver/sheets.ts';

const rand = random(11);
/** Positive definite: A A^T of a random A, plus a little of the unit matrix. */
const anySheet = (): Sym => {
  const a = [0, 1, 2].map(() => [0, 1, 2].map(() => rand() - 0.5));
  const at = (i: number, j: number): number => [0, 1, 2].reduce((sum, k) => sum + a[i][k] * a[j][k], i === j ? 0.1 : 0);
  return [at(0, 0), at(1, 1), at(2, 2), at(0, 1), at(0, 2), at(1, 2)];
};
const energy = ([a, b, c, d, e, f]: Sym, [x, y, z]: readonly number[]): number => (a * x * x + b * y * y + c * z * z) / 2 + d * x * y + e * x * z + f * y * z;

/** Least energy of strips whose mean is `mean`, by going down along each free jump in turn until it stops falling: nothing of the formula under test. */
function relaxed(a: Sym, b: Sym, share: number, free: readonly number[], mean: readonly number[]): number {
  const jump = [0, 0, 0];
  const of = (): number =>
    (1 - share) *
      energy(
        a,
        mean.map((m, i) => m - share * jump[i]),
      ) +
    share *
      energy(
        b,
        mean.map((m, i) => m + (1 - share) * jump[i]),
      );
  for (let round = 0; round < 4000; round++)
    for (const k of free) {
      const here = jump[k];
      const at = [-1, 0, 1].map((d) => {
        jump[k] = here + d;
        return of();
      });
      jump[k] = here + (at[0] - at[2]) / (2 * (at[0] - 2 * at[1] + at[2]));
    }
  return of();
}

describe('strips of two sheets side by side', () => {
  it.each([
    ['bending', [1]],
    ['inPlane', [1, 2]],
  ] as const)('%s: as stiff as the least energy over the jumps that the border allows, to 1e-9 (20 random pairs)', (which, free) => {
    let worst = 0;
    for (let n = 0; n < 20; n++) {
      const [a, b, share, mean] = [anySheet(), anySheet(), rand(), [rand() - 0.5, rand() - 0.5, rand() - 0.5]];
      const want = relaxed(a, b, share, free, mean);
      worst = Math.max(worst, Math.abs(energy(sideBySide(a, b, share, which), mean) / want - 1));
    }
    console.log(`strips side by side, ${which}: off by at most ${worst}`);
    expect(worst).toBeLessThan(1e-9);
  });

  it('one sheet at share 0, the other at 1; parallel along, in series across for sheets without coupling', () => {
    const [a, b] = [symOf([3, 2, 0, 1]), symOf([12, 10, 0, 4])];
    sideBySide(a, b, 0, 'bending').forEach((v, i) => {
      expect(v).toBeCloseTo(a[i], 12);
    });
    sideBySide(a, b, 1, 'inPlane').forEach((v, i) => {
      expect(v).toBeCloseTo(b[i], 12);
    });
    const half = sideBySide(a, b, 0.5, 'bending');
    // Springs in parallel add, springs in series add their give (statics).
    expect([half[0], half[1], half[2]].map((v) => Number(v.toPrecision(12)))).toEqual([7.5, Number((1 / (0.5 / 2 + 0.5 / 10)).toPrecision(12)), 2.5]);
    const pulled = sideBySide(a, b, 0.5, 'inPlane');
    expect(pulled[2]).toBeCloseTo(1 / (0.5 / 1 + 0.5 / 4), 12);
  });
});

it('seen from turned axes: that of lamination theory (turned) for sheets without coupling, and back again, to 1e-12', () => {
  for (const angle of [0.3, 1.1, -2]) {
    const four = [5, 2, 0.6, 1.3] as const;
    seenFrom(symOf(four), -angle).forEach((v, i) => {
      expect(Math.abs(v - turned(four, angle)[i])).toBeLessThan(1e-12);
    });
    const any = anySheet();
    seenFrom(seenFrom(any, angle), -angle).forEach((v, i) => {
      expect(Math.abs(v - any[i])).toBeLessThan(1e-12);
    });
  }
});
