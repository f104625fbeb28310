/** Where the theory of narrow strips leaves something out, and that the solver comes to it as the strip narrows. */
import { expect, it } from 'vitest';
import { isotropic, swatchTest } from '../../src/swatch/index.ts';

it.each([
  [0, 18.17],
  [0.3, 14.5],
  [0.5, 11.13],
])('strip on edge, Poisson %d: w L^3/D of tipping over goes to %d within 1 percent as width over length goes to 0', (nu, want) => {
  // The clamp keeps the width flat, which adds a share in proportion to W/L; two slendernesses give the limit. C is high, so that sagging in its own plane adds nothing.
  const sheet = isotropic(0.34, 1e-4, 5e4, nu);
  const [L, per] = [0.0815 * Math.cbrt(want / 18.17), 6];
  const read = (slender: number) => {
    const r = swatchTest('on-edge', { sheet, length: L, width: L / slender, mesh: L / slender / per, kind: 'equilateral' });
    expect(r.status).toBe('settled');
    return r.reading;
  };
  const [wide, narrow] = [read(6), read(12)];
  const limit = 2 * narrow - wide;
  const say = `nu ${nu}: ${wide.toFixed(3)} at L/W 6, ${narrow.toFixed(3)} at 12, limit ${limit.toFixed(3)}; expected ${want} +- 1 %; lateral buckling of a cantilever under its own weight (Timoshenko and Gere; from memory)`;
  console.log(say);
  expect(Math.abs(limit / want - 1), say).toBeLessThan(0.01);
});

it('cantilever, Poisson 0.42: a wide strip hangs less than a narrow one, which comes towards 41.5 deg; Poisson 0 does not care about width', () => {
  const read = (nu: number, width: number) =>
    swatchTest('cantilever', { sheet: isotropic(0.34, 1e-4, 5e2, nu), width, mesh: Math.min(0.0025, width / 6), kind: 'equilateral' }).error as number;
  const errors = [0.025, 0.0125, 0.00625].map((w) => read(0.42, w));
  const plain = [0.025, 0.00625].map((w) => read(0, w));
  console.log(
    `Poisson 0.42: ${errors.map((e) => e.toFixed(2)).join(', ')} deg off at 25, 12.5, 6.25 mm; Poisson 0: ${plain.map((e) => e.toFixed(2)).join(', ')}`,
  );
  expect(errors[0]).toBeLessThan(errors[1]);
  expect(errors[1]).toBeLessThan(errors[2]);
  expect(errors[2]).toBeLessThan(0);
  for (const e of plain) expect(Math.abs(e)).toBeLessThan(0.1);
});
