import { expect, test } from 'vitest';
import { addHand, handOn } from '../../src/solver/rest/hand.ts';
import { createFall } from '../../src/solver/rest/watched-fall.ts';
import { flatSheet } from './sheets.ts';

const sheet = () => flatSheet({ nx: 8, ny: 4, length: 0.16, width: 0.08, arealMass: 0.4, D: [2e-4, 2e-4, 0, 1e-4], C: [3e3, 3e3, 0, 1.5e3] });
const weight = 0.4 * 0.16 * 0.08 * 9.80665;

test('a sheet held at one point comes to hang below the hand by weight over stiffness, within 1 %, and falls freely once let go', () => {
  const { model, x, vertex } = sheet();
  const v = vertex(4, 2);
  const fall = createFall(model, x, { drag: 8 });
  const at = [x[3 * v]!, x[3 * v + 1]!, 0.5] as const;
  fall.hold(v, at);
  let speed = 1;
  for (let n = 0; n < 1200 && speed > 1e-5; n++) ({ speed } = fall.step());
  const below = 0.5 - fall.x[3 * v + 2]!;
  const { stiffness } = handOn(v, at, weight);
  console.log(`hangs ${(1000 * below).toFixed(3)} mm below the hand; weight over stiffness ${((1000 * weight) / stiffness).toFixed(3)} mm`);
  expect(speed).toBeLessThan(1e-4);
  expect(Math.abs(below / (weight / stiffness) - 1)).toBeLessThan(0.01);
  const before = fall.x[3 * v + 2]!;
  fall.hold(v, null);
  for (let n = 0; n < 6; n++) fall.step();
  expect(before - fall.x[3 * v + 2]!).toBeGreaterThan(0.01);
});

test('the pull grows to its limit and no further; gradient equals the difference of the energy to 1e-6, near and far', () => {
  for (const z of [0.01, 0.05, 0.119, 0.121, 3]) {
    const hand = handOn(0, [0.004, -0.002, z], weight);
    const run = (dz: number) => {
      const g = new Float64Array(3);
      return { e: addHand(hand, Float64Array.of(0, 0, dz), g, new Float64Array(9)), g };
    };
    const { g } = run(0);
    const h = 1e-6;
    expect(Math.abs((run(h).e - run(-h).e) / (2 * h) / g[2]! - 1)).toBeLessThan(1e-6);
    expect(Math.hypot(...g)).toBeLessThan(hand.most * (1 + 1e-12));
  }
});
