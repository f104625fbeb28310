/** A strip whose yarns rub, between the two branches of its bending. */
import { describe, expect, it } from 'vitest';
import { cantileverReadings, chordWithFriction } from '../../src/swatch/friction.ts';
import { residualCurvature } from '../../src/units/index.ts';

const DEGREE = Math.PI / 180;

describe('cantilever with friction in bending', () => {
  it('without friction it is the elastica: 41.5 deg at w L^3/B = 8.0042 to 0.01 deg (check value c_over_L_415), and a reading of the slope itself', () => {
    const length = Math.cbrt(8.0042);
    for (const branch of ['bent up', 'let back'] as const) {
      const got = chordWithFriction(length, 0, branch) / DEGREE;
      console.log(`${branch}: ${got.toFixed(4)} deg, expected 41.5 +- 0.01`);
      expect(Math.abs(got - 41.5)).toBeLessThan(0.01);
    }
    const { bentUp, letBack } = cantileverReadings(1e-5, 0, 0.2);
    for (const b of [bentUp, letBack]) expect(Math.abs(b / 1e-5 - 1)).toBeLessThan(1e-3);
  });

  // Small slopes: M = s^2/2. Bent up, only what lies behind s0 = sqrt(2 h) bends: drop (L^4 - s0^4)/8 - h (L^2 - s0^2)/2. Let back: L^4/8 + h L^2/2.
  it.each([0.001, 0.005, 0.01])('at small slopes both branches are the closed form, friction %d w c^2, to 0.2 percent', (h) => {
    const L = 0.3;
    const s0 = Math.sqrt(2 * h);
    const up = (L ** 4 - s0 ** 4) / 8 - (h * (L ** 2 - s0 ** 2)) / 2;
    const back = L ** 4 / 8 + (h * L ** 2) / 2;
    for (const [branch, want] of [
      ['bent up', up / L],
      ['let back', back / L],
    ] as const) {
      const got = Math.tan(chordWithFriction(L, h, branch));
      console.log(`${branch}, h ${h}: ${got.toPrecision(6)}, expected ${want.toPrecision(6)} +- 0.2 %`);
      expect(Math.abs(got / want - 1)).toBeLessThan(2e-3);
    }
  });

  it('the more friction, the stiffer it reads when bent up and the limper when let back; the slope lies between', () => {
    const runs = [0, 2e-4, 5e-4, 1e-3, 2e-3].map((h) => cantileverReadings(1.5e-5, h, 0.3));
    console.log(runs.map((r) => `${(r.letBack * 1e6).toFixed(2)} .. ${(r.bentUp * 1e6).toFixed(2)} uN.m`).join(', '));
    for (let i = 0; i + 1 < runs.length; i++) {
      expect(runs[i + 1].bentUp).toBeGreaterThan(runs[i].bentUp);
      expect(runs[i + 1].letBack).toBeLessThan(runs[i].letBack);
    }
  });

  it('shown: six published denims, at 300 g/m2 (their weight is not printed), read at most 32 to 51 uN.m by the materials table', () => {
    const slopes = [16.9, 14.1, 22.3, 14.4, 20.3, 14.5];
    const hysteresis = [1.36, 1.39, 1.03, 1.38, 2.1, 1.56];
    const got = slopes.map((b, i) => cantileverReadings(b * 1e-6, hysteresis[i] * 1e-3, 0.3));
    console.log(
      got
        .map(
          (r, i) =>
            `B ${slopes[i]}, left bent at ${residualCurvature(hysteresis[i] * 1e-3, slopes[i] * 1e-6).toFixed(0)} /m: bent up ${(r.bentUp * 1e6).toFixed(1)}, let back ${(r.letBack * 1e6).toFixed(1)} uN.m`,
        )
        .join('; '),
      '(Journal of Textiles 2016, 4614168, table 5)',
    );
    got.forEach((r, i) => {
      expect(r.bentUp).toBeGreaterThan(slopes[i] * 1e-6);
      expect(r.letBack).toBeLessThan(slopes[i] * 1e-6);
    });
  });
});
