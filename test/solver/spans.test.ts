import { describe, expect, it } from 'vitest';
import { applySpans, createSpanContact, evaluateSpans } from '../../src/solver/contact/edge-face/span-force.ts';
import { leastOverFace } from '../../src/solver/contact/edge-face/span-nearest.ts';
import { distance } from '../../src/solver/contact/support/shapes.ts';
import { createSupportContact, evaluateSupports } from '../../src/solver/contact/support/support.ts';
import { limitStep } from '../../src/solver/contact-state.ts';
import { createFall } from '../../src/solver/index.ts';
import { createSystem } from '../../src/solver/system.ts';
import type { Model, Support, SupportShape } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

const g = 9.80665;
const D = [1e-4, 1e-4, 0, 5e-5] as const;
const C = [2e3, 2e3, 0, 1e3] as const;

const shapes: Record<string, SupportShape> = {
  'a ball': { kind: 'sphere', centre: [0, 0, 0], radius: 0.004 },
  'a rod': { kind: 'capsule', a: [-0.02, 0.001, 0], b: [0.02, 0, 0.001], radius: 0.003 },
  'a sharp box': { kind: 'box', centre: [0, 0, 0], half: [0.006, 0.01, 0.004], round: 0 },
  'a rounded box': { kind: 'box', centre: [0, 0, 0], half: [0.006, 0.01, 0.004], round: 0.002 },
  'a can': { kind: 'cylinder', a: [0, 0, -0.01], b: [0, 0.002, 0.01], radius: 0.008, round: 0.001 },
  'an ellipsoid': { kind: 'ellipsoid', centre: [0, 0, 0], half: [0.01, 0.006, 0.003] },
};

describe('the nearest place of a triangle to a shape', () => {
  it.each(Object.entries(shapes))('%s: never further than any of 7381 places on it, and none of them nearer by more than their spacing allows', (_, shape) => {
    const rand = random(7),
      out = new Float64Array(4),
      K = 120;
    let worst = 0,
      inside = 0;
    for (let k = 0; k < 60; k++) {
      const p = Float64Array.from({ length: 9 }, () => 0.03 * (rand() - 0.5));
      const least = leastOverFace(shape, p);
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= K; i++)
        for (let j = 0; i + j <= K; j++) {
          const [a, b, c] = [i / K, j / K, 1 - (i + j) / K];
          distance(shape, a * p[0]! + b * p[3]! + c * p[6]!, a * p[1]! + b * p[4]! + c * p[7]!, a * p[2]! + b * p[5]! + c * p[8]!, out);
          sampled = Math.min(sampled, out[0]!);
        }
      if (least < 0) inside++;
      else expect(sampled).toBeGreaterThan(least - 1e-7);
      if (least >= 0) worst = Math.max(worst, sampled - least);
    }
    console.log(
      `best of 7381 places further than the nearest by ${(1e3 * worst).toExponential(1)} mm at most; ${inside} of 60 triangles pass through the shape`,
    );
    // Places lie at most 0.05 / 120 m apart; the distance falls no faster than the way gone.
    expect(worst).toBeLessThan(0.05 / 120);
  });
});

/** A sheet of 80 x 80 mm in 20 mm cells round the origin, 0.4 mm above the top of a thing that stands between its points. */
function over(sdf: SupportShape, top: number, friction = 0): { model: Model; x: Float64Array } {
  const s = flatSheet({ nx: 4, ny: 4, length: 0.08, width: 0.08, arealMass: 0.3, D, C, jitter: 0.3 });
  const support: Support = { name: 'thing', sdf, friction, offset: 1e-3 };
  const rand = random(5),
    x = s.x.map((v, i) => (i % 3 === 2 ? top + 4e-4 + 2e-4 * rand() : v - 0.043));
  return { model: { ...s.model, supports: [support] }, x };
}

const between: readonly (readonly [string, SupportShape, number])[] = [
  ['a ball under a face', { kind: 'sphere', centre: [0, 0, 0], radius: 0.004 }, 0.004],
  ['a rod under edges', { kind: 'capsule', a: [-0.1, 0.001, 0], b: [0.1, 0.002, 0], radius: 0.003 }, 0.003],
  ['the corner of a box', { kind: 'box', centre: [0, 0, 0], half: [0.01, 0.012, 0.004], round: 0.001 }, 0.004],
  ['an ellipsoid', { kind: 'ellipsoid', centre: [0, 0, 0], half: [0.02, 0.012, 0.006] }, 0.006],
];

describe('what stands between the points of a sheet', () => {
  it.each(between)(
    '%s: the gradient equals the fourth-order difference of the energy to 1e-8, the exact Hessian that of the gradient to 1e-4',
    (_, shape, top) => {
      const { model, x } = over(shape, top),
        points = createSupportContact(model),
        c = createSpanContact(model, points)!,
        N = x.length,
        rand = random(9),
        way = Float64Array.from({ length: N }, () => rand() - 0.5),
        h = 2e-6;
      // The points' own forces are left out: they are asked for their distances alone.
      const felt = (y: Float64Array, grad: Float64Array, blocks: Float64Array | null): number => {
        evaluateSupports(points, y, null, null);
        return evaluateSpans(c, y, grad, blocks);
      };
      const at = (t: number): { e: number; g: Float64Array } => {
        const grad = new Float64Array(N),
          y = x.map((v, i) => v + t * way[i]!);
        return { e: felt(y, grad, null), g: grad };
      };
      const [a, b, d, e] = [at(-2 * h), at(-h), at(h), at(2 * h)] as const,
        grad = new Float64Array(N),
        diag = new Float64Array(3 * N),
        action = new Float64Array(N);
      felt(x, grad, diag);
      expect(c.count).toBeGreaterThan(0);
      applySpans(c, way, action);
      let [wrong, size] = [0, 0];
      for (let i = 0; i < N; i++) {
        const v = (i / 3) | 0;
        for (let k = 0; k < 3; k++) action[i] = action[i]! + diag[9 * v + 3 * (i % 3) + k]! * way[3 * v + k]!;
        const expected = (a.g[i]! - 8 * b.g[i]! + 8 * d.g[i]! - e.g[i]!) / (12 * h);
        wrong = Math.max(wrong, Math.abs(action[i]! - expected));
        size = Math.max(size, Math.abs(expected));
      }
      const slope = grad.reduce((sum, v, i) => sum + v * way[i]!, 0),
        off = Math.abs((slope * 12 * h) / (a.e - 8 * b.e + 8 * d.e - e.e) - 1);
      console.log(`${c.count} contacts; gradient off by ${off.toExponential(1)}, Hessian action by ${(wrong / size).toExponential(1)} of its largest`);
      expect(off).toBeLessThan(1e-8);
      expect(wrong / size).toBeLessThan(1e-4);
    },
  );

  it.each(between)('%s: 60 random steps of up to 20 mm pass no face through it; left alone, most would', (_, shape, top) => {
    const { model, x } = over(shape, top),
      sys = createSystem(model, {}),
      rand = random(11);
    const least = (y: Float64Array): number => {
      let d = Number.POSITIVE_INFINITY;
      for (let t = 0; t < model.triVerts.length; t += 3)
        d = Math.min(
          d,
          leastOverFace(
            shape,
            Float64Array.from({ length: 9 }, (_, i) => y[3 * model.triVerts[t + ((i / 3) | 0)]! + (i % 3)]!),
          ),
        );
      return d;
    };
    let [nearest, loose] = [Number.POSITIVE_INFINITY, 0];
    for (let k = 0; k < 60; k++) {
      const d = Float64Array.from(x, (_, i) => 0.02 * (rand() - (i % 3 === 2 ? 0.8 : 0.5)));
      if (least(x.map((v, i) => v + d[i]!)) < 0) loose++;
      limitStep(sys, x, d);
      for (let i = 0; i < x.length; i++) x[i] = x[i]! + d[i]!;
      nearest = Math.min(nearest, least(x));
    }
    console.log(`nearest ${(1e3 * nearest).toExponential(1)} mm off; ${loose} of 60 steps would have passed through`);
    expect(nearest).toBeGreaterThan(0);
    expect(loose).toBeGreaterThan(30);
  });
});

describe('a stiff plate on two rods that fall at 20 deg, touched between its points alone (Coulomb)', () => {
  const slope = (20 * Math.PI) / 180;
  const slide = (share: number) => {
    // In the rods' frame the rods lie level along x and the pull is turned; cells of 30 mm, rods at y = -10 and 10 between points at -30, 0 and 30.
    const s = flatSheet({ nx: 3, ny: 2, length: 0.09, width: 0.06, arealMass: 1, D: [1e-2, 1e-2, 0, 5e-3], C: [2e4, 2e4, 0, 1e4] });
    const rod = (y: number): Support => ({
      name: 'rod',
      sdf: { kind: 'capsule', a: [-1, y, -0.0045], b: [1, y, -0.0045], radius: 0.004 },
      friction: Math.tan(slope) / share,
      offset: 1e-3,
    });
    const model: Model = { ...s.model, gravity: [g * Math.sin(slope), 0, -g * Math.cos(slope)], supports: [rod(-0.01), rod(0.01)] },
      x = s.x.map((v, i) => (i % 3 === 1 ? v - 0.03 : v));
    const fall = createFall(model, x, { drag: 0, iterations: 6 }),
      dt = 1 / 480,
      at = (): number => {
        let p = 0;
        for (let v = 0; v < model.vertexCount; v++) p += fall.x[3 * v]! / model.vertexCount;
        return p;
      };
    for (let k = 0; k < 120; k++) fall.step(dt);
    const before = at();
    fall.step(dt);
    const start = at(),
      speed = (start - before) / dt;
    for (let k = 0; k < 120; k++) fall.step(dt);
    const points = fall.sys.contact.anchors.reduce((sum, a) => sum + a.filter((v) => !Number.isNaN(v)).length, 0);
    return { moved: at() - start, speed, time: 120 * dt, points };
  };

  it('at 0.98 of the sticking limit it moves less than 0.1 mm in a quarter of a second', () => {
    const { moved, points } = slide(0.98);
    console.log(`moved ${(1e3 * moved).toFixed(4)} mm, expected 0 +- 0.1 mm (Coulomb)`);
    expect(points).toBe(0);
    expect(Math.abs(moved)).toBeLessThan(1e-4);
  });

  it.each([1.02, 1.25])('at %d of it, it slides as far as Coulomb says within 5 %%', (share) => {
    const { moved, speed, time, points } = slide(share),
      a = g * (Math.sin(slope) - (Math.tan(slope) / share) * Math.cos(slope)),
      expected = speed * time + 0.5 * a * time * time;
    console.log(`slid ${(1e3 * moved).toFixed(2)} mm, expected ${(1e3 * expected).toFixed(2)} mm +- 5 % (Coulomb)`);
    expect(points).toBe(0);
    expect(Math.abs(moved / expected - 1)).toBeLessThan(0.05);
  });
});
