import { describe, expect, it } from 'vitest';
import { distance } from '../../src/solver/contact/support/shapes.ts';
import type { SupportShape } from '../../src/solver/types.ts';
import { random } from './sheets.ts';

const s2 = Math.SQRT1_2;
/** A quarter turn about z and 45 deg about the new x. */
const axes = [0, 1, 0, -s2, 0, s2, s2, 0, s2] as const;
const SHAPES: Record<string, SupportShape> = {
  plane: { kind: 'plane', point: [0.01, 0, 0.02], normal: [0.6, 0, 0.8] },
  sphere: { kind: 'sphere', centre: [0.01, 0.02, 0.03], radius: 0.05 },
  capsule: { kind: 'capsule', a: [-0.05, 0, 0], b: [0.05, 0.02, 0.01], radius: 0.03 },
  'rounded box': { kind: 'box', centre: [0, 0.01, 0], half: [0.08, 0.05, 0.03], round: 0.01 },
  cylinder: { kind: 'cylinder', a: [0, -0.05, 0.01], b: [0.02, 0.06, 0], radius: 0.04, round: 0.005 },
  ellipsoid: { kind: 'ellipsoid', centre: [0, 0, 0.01], half: [0.09, 0.05, 0.03] },
  'flat ellipsoid': { kind: 'ellipsoid', centre: [0, 0, 0], half: [0.09, 0.09, 0.01] },
  'posed box': { kind: 'posed', shape: { kind: 'box', centre: [0, 0, 0], half: [0.08, 0.05, 0.03], round: 0.004 }, origin: [0.02, 0, 0.01], axes },
};

const at = (s: SupportShape, p: readonly number[]): readonly [number, number, number, number] => {
  const out = new Float64Array(4);
  distance(s, p[0]!, p[1]!, p[2]!, out);
  return [out[0]!, out[1]!, out[2]!, out[3]!];
};

/** Points spread over a cube of 0.3 m, fixed seed. */
function points(n: number): [number, number, number][] {
  const next = random(7);
  return Array.from({ length: n }, () => [0.3 * (next() - 0.5), 0.3 * (next() - 0.5), 0.3 * (next() - 0.5)]);
}

describe.each(Object.entries(SHAPES))('%s', (_, shape) => {
  it('at 2000 points: the normal has length 1 and, outside, is the gradient of the distance (central differences, 1e-6)', () => {
    let worst = 0,
      length = 0;
    for (const p of points(2000)) {
      const [d, ...n] = at(shape, p);
      length = Math.max(length, Math.abs(Math.hypot(...n) - 1));
      if (d < 1e-4) continue;
      for (let k = 0; k < 3; k++) {
        const [a, b] = [p.slice(), p.slice()];
        a[k]! += 1e-6;
        b[k]! -= 1e-6;
        worst = Math.max(worst, Math.abs((at(shape, a)[0] - at(shape, b)[0]) / 2e-6 - n[k]!));
      }
    }
    console.log(`gradient off by ${worst.toExponential(1)}, length by ${length.toExponential(1)}`);
    expect(length).toBeLessThan(1e-12);
    expect(worst).toBeLessThan(1e-6);
  });

  it('following the normal back by the distance ends on the surface within 1e-12 m: the distance is the true one', () => {
    let worst = 0;
    for (const p of points(2000)) {
      const [d, nx, ny, nz] = at(shape, p);
      if (d <= 0) continue;
      worst = Math.max(worst, Math.abs(at(shape, [p[0] - d * nx, p[1] - d * ny, p[2] - d * nz])[0]));
    }
    console.log(`surface missed by ${worst.toExponential(1)} m`);
    expect(worst).toBeLessThan(1e-12);
  });
});

describe('closed forms', () => {
  it('a cylinder of radius 40 mm: 7 mm over its end 7 mm, 9 mm beside it 9 mm, off its rim by 3 and 4 mm 5 mm', () => {
    const c: SupportShape = { kind: 'cylinder', a: [0, 0, 0], b: [0, 0, 0.1], radius: 0.04, round: 0 };
    expect(at(c, [0.01, 0.01, 0.107])[0]).toBeCloseTo(0.007, 14);
    expect(at(c, [0, -0.049, 0.02])[0]).toBeCloseTo(0.009, 14);
    expect(at(c, [0.043, 0, -0.004])[0]).toBeCloseTo(0.005, 14);
    expect(at(c, [0.039, 0, 0.05])[0]).toBeCloseTo(-0.001, 14);
  });

  it('an ellipsoid of three equal axes is the sphere, inside and outside, within 1e-15 m', () => {
    const e: SupportShape = { kind: 'ellipsoid', centre: [0, 0, 0], half: [0.05, 0.05, 0.05] };
    for (const p of points(200)) expect(Math.abs(at(e, p)[0] - (Math.hypot(...p) - 0.05))).toBeLessThan(1e-15);
  });

  it('of an ellipsoid the middle is as deep as the shortest half axis, and a point on an axis as far as the axis says', () => {
    const e: SupportShape = { kind: 'ellipsoid', centre: [0, 0, 0], half: [0.09, 0.05, 0.03] };
    expect(at(e, [0, 0, 0])[0]).toBeCloseTo(-0.03, 12);
    expect(at(e, [0.1, 0, 0])[0]).toBeCloseTo(0.01, 12);
    expect(at(e, [0, 0, -0.05])[0]).toBeCloseTo(0.02, 12);
    // Inside, between the foci of the long section, the nearest point lies off the axis: sqrt(b^2 - x^2 b^2/(a^2 - b^2)) with a = 0.09, b = 0.03.
    expect(at(e, [0.04, 0, 0])[0]).toBeCloseTo(-Math.sqrt(0.03 ** 2 * (1 - 0.04 ** 2 / (0.09 ** 2 - 0.03 ** 2))), 12);
  });
});
