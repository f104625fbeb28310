import { describe, expect, it } from 'vitest';
import { massWhenStiffer, materialBands } from '../../src/material/index.ts';
import type { Laminate } from '../../src/material/types.ts';

const canvas: Pick<Laminate, 'arealMass' | 'bending'> = { arealMass: 0.339, bending: [55e-6, 55e-6, 0, 27e-6] };
/** Factor at which what is added is as stiff as this interlining. */
const factorOf = (id: 'fus_light' | 'fus_heavy' | 'nwboard'): number => 1 + materialBands(id).bending[1] / 55e-6;

describe('what a stiffer stack weighs more', () => {
  it('as stiff as the light, heavy and board nonwoven would make it: 30, 80 and 350 g/m2 more, to 1e-9', () => {
    for (const id of ['fus_light', 'fus_heavy', 'nwboard'] as const)
      expect(massWhenStiffer(canvas, factorOf(id)) - canvas.arealMass).toBeCloseTo(materialBands(id).arealMass[1], 9);
  });
  it('rises with the factor without a step, and a factor of 1 or less takes nothing away', () => {
    let before = canvas.arealMass;
    for (let factor = 1; factor < 400; factor *= 1.07) {
      const now = massWhenStiffer(canvas, factor);
      expect(now).toBeGreaterThanOrEqual(before);
      expect(now - before).toBeLessThan(0.03);
      before = now;
    }
    expect([massWhenStiffer(canvas, 1), massWhenStiffer(canvas, 0.2)]).toEqual([0.339, 0.339]);
  });
});
