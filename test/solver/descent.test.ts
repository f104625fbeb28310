/** Energy-lowering steps: corrected ones go to the same rest by fewer, and none of them raises the energy. */
import { describe, expect, it } from 'vitest';
import { pseudoTransient } from '../../src/solver/rest/pseudo-transient.ts';
import { createSystem, forces } from '../../src/solver/system.ts';
import { flatSheet } from './sheets.ts';

const g = 9.80665;
const D = 1e-4,
  w = 0.34,
  length = Math.cbrt((8.0042 * D) / (w * g));
const strip = () =>
  flatSheet({ nx: 14, ny: 6, length, width: 0.03, arealMass: w, D: [D, D, 0, D / 2], C: [2e4, 2e4, 0, 1e4], jitter: 0.6, angle: 0, clamp: true });

/** Lets the strip down from level; its chord below level, deg, the steps it took and the largest rise of its energy from one accepted step to the next, J. */
function letDown(correct: boolean) {
  const { model, x, vertex } = strip();
  const sys = createSystem(model),
    witness = createSystem(model),
    scratch = new Float64Array(x.length);
  let last = forces(witness, x, scratch, 'arc-corrected').total,
    rise = Number.NEGATIVE_INFINITY;
  const watch = (_: number, __: number, at: Float64Array): undefined => {
    const now = forces(witness, at, scratch, 'arc-corrected').total;
    rise = Math.max(rise, now - last);
    last = now;
  };
  const r = pseudoTransient(sys, x, {
    formulation: 'arc-corrected',
    tolerance: 1e-5,
    dt: 0.01,
    grow: 1.6,
    dtMax: 1e4,
    cap: 0.005,
    monotone: true,
    correct,
    maxIterations: 2000,
    cg: 1e-2,
    watch,
  });
  const v = vertex(14, 3);
  return { r, rise, deg: (Math.atan2(-x[3 * v + 2]!, x[3 * v]!) * 180) / Math.PI, factorisations: sys.counts.factorisations };
}

describe('a clamped strip (K = 8.0042) let down by energy-lowering steps of at most 5 mm', () => {
  const [plain, corrected] = [letDown(false), letDown(true)];

  it('comes to the same rest either way, and to 41.5 deg (elastica; 0.5 deg at 5 mm)', () => {
    console.log(`refused: ${plain.deg.toFixed(5)} deg, ${plain.r.iterations} steps, ${plain.factorisations} factorisations`);
    console.log(`corrected: ${corrected.deg.toFixed(5)} deg, ${corrected.r.iterations} steps, ${corrected.factorisations} factorisations`);
    expect([plain.r.status, corrected.r.status]).toEqual(['settled', 'settled']);
    expect(Math.abs(plain.deg - corrected.deg)).toBeLessThan(1e-3);
    expect(Math.abs(corrected.deg - 41.5)).toBeLessThan(0.5);
  });

  it('never by a step that raises its energy by more than rounding', () => {
    console.log(`largest rise ${plain.rise.toExponential(1)} J refused, ${corrected.rise.toExponential(1)} J corrected`);
    for (const { rise } of [plain, corrected]) expect(rise).toBeLessThan(1e-12);
  });

  it('corrected in at most half the steps', () => {
    expect(corrected.r.iterations).toBeLessThan(plain.r.iterations / 2);
  });
});
