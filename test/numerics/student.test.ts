import { expect, it } from 'vitest';
import { student90 } from '../../src/numerics/index.ts';

/** Share of Student's t between -q and q, by Simpson's rule on its density without the constant, over the whole. Own integration: x = tan(u) takes the tails in. */
function held(freedom: number, q: number): number {
  const density = (u: number): number => (1 + Math.tan(u) ** 2 / freedom) ** (-(freedom + 1) / 2) / Math.cos(u) ** 2;
  const sum = (end: number): number => {
    const n = 20_000;
    let s = 0;
    for (let i = 0; i <= n; i++) s += density((end * i) / n) * (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2);
    return (s * end) / (3 * n);
  };
  return sum(Math.atan(q)) / sum(Math.PI / 2 - 1e-9);
}

it('so many standard deviations hold 90.0 +- 0.03 % for 1 to 20 degrees of freedom, 90.0 +- 0.1 % for 21 to 200 (own integration of the distribution)', () => {
  for (const freedom of [...Array.from({ length: 20 }, (_, i) => i + 1), 21, 30, 60, 200]) {
    const share = held(freedom, student90(freedom));
    const tolerance = freedom <= 20 ? 3e-4 : 1e-3;
    expect(Math.abs(share - 0.9), `${freedom}: ${student90(freedom)} holds ${share}`).toBeLessThan(tolerance);
  }
});
