import { expect, test } from 'vitest';
import { coulombSpring, spring } from '../../src/solver/contact/coulomb.ts';

/** A strap carrying 9 kg on a hook had no state to rest in: the force jumped where a spring near its limit began to count as slipping. */
test('friction has no step where a spring begins to count as slipping, nor at its limit', () => {
  const [k, limit] = [4e6, 4];
  const force = (share: number): number => {
    const l = (share * limit) / k;
    spring.length = l;
    coulombSpring(k, limit);
    return spring.pull * l;
  };
  for (const share of [1 - 2e-6, 1 - 1e-6, 1 - 1e-7, 1, 1 + 1e-7])
    for (const by of [1e-12, 1e-9]) expect(Math.abs(force(share + by) - force(share - by))).toBeLessThan(2.1 * by * limit);
  expect(force(2)).toBeCloseTo(limit, 12);
  spring.length = ((1 - 1e-7) * limit) / k;
  coulombSpring(k, limit);
  expect(spring.slips).toBe(true);
});
