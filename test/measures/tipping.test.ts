/** Tipping angles against the closed form tan theta = s/h of a rigid body on a slope (statics). */
import { describe, expect, it } from 'vitest';
import { balanceOf, reachWithin } from '../../src/measures/tipping.ts';

const deg = 180 / Math.PI;
const even = (points: readonly (readonly [number, number, number])[]) => ({ x: Float64Array.from(points.flat()), mass: points.map(() => 0.1) });

describe('a box of 300 x 100 x 240 mm', () => {
  const corners = [-0.15, 0.15].flatMap((x) => [-0.05, 0.05].flatMap((y) => [0, 0.24].map((z) => [x, y, z] as const)));
  const { x, mass } = even(corners);

  it('of even mass tips forward at atan(50/120) = 22.62 deg and sideways at atan(150/120) = 51.34 deg', () => {
    const { centre, tipping } = balanceOf(x, mass, null, 0, 9.80665);
    expect(centre[2]).toBeCloseTo(0.12, 12);
    expect(tipping!.front * deg).toBeCloseTo(22.6199, 4);
    expect(tipping!.back * deg).toBeCloseTo(22.6199, 4);
    expect(tipping!.left * deg).toBeCloseTo(51.3402, 4);
    expect(tipping!.right * deg).toBeCloseTo(51.3402, 4);
  });

  it('with as much weight again 120 mm deep inside, its centre sinks to (120 + 60)/2 mm and it tips forward at atan(50/90) = 29.05 deg', () => {
    const load = new Float64Array(x.length);
    // Eight points of 0.1 kg each; the contents weigh the same, on the four lower corners.
    corners.forEach(([, , z], v) => {
      if (z === 0) load[3 * v + 2] = -0.2 * 9.80665;
    });
    const { centre, tipping } = balanceOf(x, mass, load, 0.12, 9.80665);
    expect(centre[2]).toBeCloseTo(0.09, 12);
    expect(tipping!.front * deg).toBeCloseTo(29.0546, 4);
  });

  it('with a weight of 0.8 kg more at its front edge it tips forward sooner than back: atan(25/60) and atan(75/60)', () => {
    const pulled = even([...corners, [0, -0.05, 0]]);
    pulled.mass[8] = 0.8;
    const { centre, tipping } = balanceOf(pulled.x, pulled.mass, null, 0, 9.80665);
    expect(centre[1]).toBeCloseTo(-0.025, 12);
    expect(tipping!.front * deg).toBeCloseTo(Math.atan(25 / 60) * deg, 9);
    expect(tipping!.back * deg).toBeCloseTo(Math.atan(75 / 60) * deg, 9);
  });
});

it('a round base of 200 mm (720 points) under a centre at 150 mm tips at atan(100/150) = 33.69 deg whichever way, within 0.01 deg', () => {
  const ring = Array.from({ length: 720 }, (_, i) => [0.1 * Math.cos((i * Math.PI) / 360), 0.1 * Math.sin((i * Math.PI) / 360), 0] as const);
  const top = ring.map(([a, b]) => [a, b, 0.3] as const);
  const { x, mass } = even([...ring, ...top]);
  const { tipping } = balanceOf(x, mass, null, 0, 9.80665);
  for (const angle of Object.values(tipping!)) expect(Math.abs(angle * deg - 33.6901)).toBeLessThan(0.01);
});

it('a bag that stands on a line has no tipping angle; one whose centre hangs over its footprint tips at 0', () => {
  const wall = even([-0.1, 0.1].flatMap((x) => [0, 0.2].map((z) => [x, 0, z] as const)));
  expect(balanceOf(wall.x, wall.mass, null, 0, 9.80665).tipping).toBeNull();
  expect(
    reachWithin(
      [
        [0, 0],
        [1, 0],
        [0, 1],
      ],
      [2, 2],
      [1, 0],
    ),
  ).toBe(0);
});

it('an L-shaped footprint counts with its hull, cut off at x + y = 1.5: toward +x it is left after 0.75 m from (0.25, 0.25) and after 0.15 m from (0.75, 0.6)', () => {
  const hull = [
    [0, 0],
    [1, 0],
    [1, 0.5],
    [0.5, 1],
    [0, 1],
  ] as const;
  expect(reachWithin(hull, [0.25, 0.25], [1, 0])).toBeCloseTo(0.75, 12);
  expect(reachWithin(hull, [0.75, 0.6], [1, 0])).toBeCloseTo(0.15, 12);
});
