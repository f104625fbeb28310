import { expect, test } from 'vitest';
import { settle } from '../../src/solver/index.ts';
import { flatSheet } from '../solver/sheets.ts';

/**
 * A straight strip that stood on its clamp above its buckling load was called settled and stable: its residual was nothing, and no pivot of the
 * preconditioner's matrix negative. Critical load of a standing strip: w L^3/D = 7.83735 (Greenhill 1881).
 */
const LENGTH = 0.2;
const upright = (load: number) => {
  const w = 0.34 * 9.80665;
  const D = (w * LENGTH ** 3) / load;
  const { model, x } = flatSheet({ nx: 24, ny: 3, length: LENGTH, width: 0.025, arealMass: 0.34, D: [D, D, 0, D / 2], C: [5e3, 5e3, 0, 2.5e3], clamp: true });
  const settled = settle({ ...model, gravity: [-9.80665, 0, 0] }, x);
  let [aside, top] = [0, 0];
  for (let i = 0; i < settled.x.length; i += 3) {
    aside = Math.max(aside, Math.abs(settled.x[i + 2]!));
    top = Math.max(top, settled.x[i]!);
  }
  console.log(
    `w L^3/D = ${load}: ${settled.status}, stable ${settled.stable}, residual ${settled.residual.toExponential(1)}, tip ${(1000 * aside).toFixed(1)} mm aside, top at ${(1000 * top).toFixed(1)} mm`,
  );
  return { settled, aside };
};

test.each([3, 7, 7.6])('stands straight at w L^3/D = %d, under its buckling load', (load) => {
  const { settled, aside } = upright(load);
  expect(settled.status).toBe('settled');
  expect(settled.stable).toBe(true);
  expect(aside).toBeLessThan(1e-3 * LENGTH);
});

test.each([8.1, 9, 12, 40])('falls over from straight at w L^3/D = %d, above it, and rests bent', (load) => {
  const { settled, aside } = upright(load);
  expect(settled.status).toBe('settled');
  expect(settled.stable).toBe(true);
  expect(settled.residual).toBeLessThan(1e-4);
  expect(aside).toBeGreaterThan(0.2 * LENGTH);
});
