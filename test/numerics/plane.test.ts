import { describe, expect, it } from 'vitest';
import { crossingFraction, distanceToPolygon, insidePolygon, meetingPoint, orientation, polygonArea, seeded } from '../../src/numerics/index.ts';

describe('segments and polygons', () => {
  it('segments that cross at (0.3, 0.3) meet there to 1e-15, and the fraction along the first is 0.3', () => {
    const [a, b, c, d] = [
      [0, 0],
      [1, 1],
      [0.3, 0],
      [0.3, 2],
    ] as const;
    const met = meetingPoint(a, b, c, d, 1e-6);
    expect(Math.hypot(met![0] - 0.3, met![1] - 0.3), `met at ${met}`).toBeLessThan(1e-15);
    expect(crossingFraction(a, b, c, d)).toBeCloseTo(0.3, 14);
  });

  it('an end 0.9 of the reach away touches, 1.1 away does not', () => {
    const reach = 1e-6;
    for (const [gap, meets] of [
      [0.9e-6, true],
      [1.1e-6, false],
    ] as const)
      expect(meetingPoint([0, 0], [1, 0], [0.5, gap], [0.5, 1], reach) !== null, `gap of ${gap}`).toBe(meets);
  });

  it('parallel segments have no crossing, even one upon the other', () => {
    expect(crossingFraction([0, 0], [1, 0], [0.2, 0], [0.7, 0])).toBeNull();
    expect(crossingFraction([0, 0], [1, 0], [0, 1], [1, 1])).toBeNull();
  });

  it('the share of 20000 random points inside an L of area 0.75 is within 3 standard deviations (0.009) of it', () => {
    const shape = [
      [0, 0],
      [1, 0],
      [1, 0.5],
      [0.5, 0.5],
      [0.5, 1],
      [0, 1],
    ] as const;
    const random = seeded(3);
    let inside = 0;
    for (let i = 0; i < 20000; i++) inside += Number(insidePolygon([random(), random()], shape));
    console.log(`${inside / 20000} of the points inside; area ${polygonArea(shape)}`);
    expect(polygonArea(shape)).toBeCloseTo(0.75, 15);
    expect(Math.abs(inside / 20000 - 0.75)).toBeLessThan(3 * Math.sqrt((0.75 * 0.25) / 20000));
    expect(distanceToPolygon([0.75, 0.75], shape)).toBeCloseTo(0.25, 15);
    expect(distanceToPolygon([0.25, 0.4], shape)).toBeCloseTo(0.25, 15);
  });
});

describe('orientation', () => {
  it('is 1 for a point below a triangle that runs counterclockwise from above, -1 above it, 0 in its plane', () => {
    const sign = (z: number): number => orientation([0, 0, 0, 1, 0, 0, 0, 1, 0, 0.2, 0.2, z], 0, 1, 2, 3);
    expect([sign(-1e-3), sign(1e-3), sign(0)]).toEqual([1, -1, 0]);
  });

  it('is never wrong in sign for 10000 points a few roundings off a plane, against whole numbers', () => {
    const random = seeded(5);
    // Coordinates are whole numbers under 2^24, so that the determinant is exact in big integers.
    const whole = (): number => Math.floor(16777216 * random());
    let told = 0;
    for (let k = 0; k < 10000; k++) {
      const p = Array.from({ length: 9 }, whole);
      const w = [random(), random()];
      const near = [0, 1, 2].map((d) => Math.round(p[d] + w[0] * (p[3 + d] - p[d]) + w[1] * (p[6 + d] - p[d])));
      const x = [...p, ...near];
      const v = (i: number, d: number): bigint => BigInt(x[3 * i + d]) - BigInt(x[9 + d]);
      const exact =
        v(0, 2) * (v(1, 0) * v(2, 1) - v(2, 0) * v(1, 1)) +
        v(1, 2) * (v(2, 0) * v(0, 1) - v(0, 0) * v(2, 1)) +
        v(2, 2) * (v(0, 0) * v(1, 1) - v(1, 0) * v(0, 1));
      const sign = orientation(x, 0, 1, 2, 3);
      if (sign === 0) continue;
      told++;
      expect(sign, `points ${x}`).toBe(exact > 0n ? 1 : -1);
    }
    console.log(`${told} of 10000 told a side`);
    expect(told).toBeGreaterThan(5000);
  });
});
