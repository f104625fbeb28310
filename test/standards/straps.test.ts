/** Straps as cables against statics: one strap over a hook, a chain under its own weight, a rope round a post. */
import { describe, expect, it } from 'vitest';
import { createSystem } from '../../src/solver/index.ts';
import { pseudoTransient } from '../../src/solver/rest/pseudo-transient.ts';
import { rest } from '../../src/solver/rest/settle.ts';
import type { Support } from '../../src/solver/types.ts';
import { chain } from '../solver/chains.ts';
import { check, rows } from './rows.ts';

const g = 9.80665;

/**
 * A strap with a kilogram at each end, the ends kept `spacing` apart, over a bar of 0.5 mm radius `drop` above them. The bar grips: on a smooth one the
 * level state is a balance on a knife edge (the hook runs to the end of the ellipse whose foci are the anchors), and pulls are the same by symmetry.
 */
function overHook(spacing: number, drop: number) {
  const R = 5e-4,
    n = 41,
    half = (n - 1) / 2,
    points = Array.from({ length: n }, (_, i): [number, number, number] => {
      const t = 1 - Math.abs(i - half) / half;
      return [(spacing / 2) * (i / half - 1), 0, drop * t];
    });
  const bar: Support = { name: 'hook', sdf: { kind: 'capsule', a: [0, -0.1, drop - R], b: [0, 0.1, drop - R], radius: R - 1e-4 }, friction: 0.4, offset: 1e-4 };
  const mass = points.map((_, i) => (i === 0 || i === n - 1 ? 1 : 1e-6));
  const { model, x } = chain({ points, mass, stiffness: 1e5, supports: [bar], pressed: g, ...(spacing > 0 ? { struts: [[0, n - 1, spacing]] } : {}) });
  const sys = createSystem(model),
    r = rest(sys, x, { formulation: 'plain' }),
    tension = sys.el.cables!.tension;
  return { r, W: 2 * g, pull: tension[0]!, inward: spacing > 0 ? -tension[n - 1]! : 0 };
}

describe('one strap over a hook (statics: T/W = 1/(2 cos a), inward pull = W s/(4 d))', () => {
  it.each([0.25, 0.5, 1, 2, 3])('spacing / drop = %d: pull and inward pull within 2 %', (ratio) => {
    const { r, W, pull, inward } = overHook(0.3 * ratio, 0.3);
    expect(r.status).toBe('settled');
    check(`strap_${ratio}`, pull / W, { rel: 0.02 });
    console.log(`  inward ${(inward / W).toFixed(5)} W, statics ${(ratio / 4).toFixed(5)} W`);
    expect(Math.abs(inward / W - ratio / 4)).toBeLessThan((0.02 * ratio) / 4);
  });
});

describe('a chain hung from both ends', () => {
  it.each([1.05, 1.2, 2])('sags as the catenary does, length / span = %d, within 0.2 %', (share) => {
    const span = 0.3,
      L = share * span,
      n = 81,
      h = Math.sqrt((L / 2) ** 2 - (span / 2) ** 2);
    const points = Array.from({ length: n }, (_, i): [number, number, number] => {
      const t = i / (n - 1);
      return [span * (t - 0.5), 0, -h * (1 - Math.abs(2 * t - 1))];
    });
    const { model, x } = chain({ points, mass: points.map(() => (0.05 * L) / (n - 1)), stiffness: 1e4, held: [0, n - 1] });
    const r = rest(createSystem(model), x, { formulation: 'plain' });
    // L = 2 a sinh(span / 2a), sag = a (cosh(span / 2a) - 1): the catenary, closed form.
    let [low, high] = [1e-3, 1e3];
    for (let i = 0; i < 200; i++) {
      const a = Math.sqrt(low * high);
      if (2 * a * Math.sinh(span / 2 / a) > L) low = a;
      else high = a;
    }
    const sag = low * (Math.cosh(span / 2 / low) - 1),
      got = -r.x[3 * ((n - 1) / 2) + 2]!;
    console.log(`catenary ${share}: sag ${(got * 1000).toFixed(3)} mm, closed form ${(sag * 1000).toFixed(3)} mm`);
    expect(r.status).toBe('settled');
    expect(Math.abs(got / sag - 1)).toBeLessThan(2e-3);
  });
});

/**
 * A strap wound `theta` round a bar, pulled along its ends with 5 N and `ratio` times that: did it come to rest, and how far did the pulled end go, m.
 * Without weight; constant forces in the directions of the ends.
 */
function roundPost(mu: number, theta: number, ratio: number): { rests: boolean; moved: number } {
  const R = 0.02,
    off = 2e-4,
    leg = 0.1,
    pull = 5,
    arc = Math.round((48 * theta) / Math.PI),
    place = (a: number): [number, number, number] => [-R * Math.cos(a), 0, R * Math.sin(a)],
    along = (a: number): [number, number, number] => [Math.sin(a), 0, Math.cos(a)];
  const points: [number, number, number][] = [];
  const [t0, t1] = [along(0), along(theta)],
    [p0, p1] = [place(0), place(theta)];
  for (let i = 20; i > 0; i--) points.push([0, 1, 2].map((k) => p0[k]! - (leg * i * t0[k]!) / 20) as [number, number, number]);
  for (let i = 0; i <= arc; i++) points.push(place((theta * i) / arc));
  for (let i = 1; i <= 20; i++) points.push([0, 1, 2].map((k) => p1[k]! + (leg * i * t1[k]!) / 20) as [number, number, number]);
  const n = points.length,
    load = new Float64Array(3 * n);
  for (let k = 0; k < 3; k++) {
    load[k] = -pull * t0[k]!;
    load[3 * (n - 1) + k] = ratio * pull * t1[k]!;
  }
  // Masses only scale the steps and the unit of the residual; their own weight is a thousandth of the pulls.
  const mass = points.map(() => (1e-3 * pull) / g / n);
  const bar: Support = { name: 'post', sdf: { kind: 'capsule', a: [0, -0.1, 0], b: [0, 0.1, 0], radius: R - off }, friction: mu, offset: off };
  const { model, x } = chain({ points, mass, stiffness: 1e4, supports: [bar], load, pressed: (pull * theta) / arc });
  const y = x.slice(),
    how = { formulation: 'plain' as const, tolerance: 0.1, dt: 0.02, grow: 2, dtMax: 1e4, cap: 0.02, monotone: true, maxIterations: 300, cg: 1e-3 };
  const r = pseudoTransient(createSystem(model), y, how);
  const end = 3 * (n - 1);
  return { rests: r.status === 'settled', moved: t1[0] * (y[end]! - x[end]!) + t1[2] * (y[end + 2]! - x[end + 2]!) };
}

const CAPSTAN = rows.filter((r) => r.id.startsWith('capstan_')).map((r) => r.id);

describe('a strap wound round a post (Euler-Eytelwein: T1/T2 = exp(mu theta); bar 2 %, rows 5 %)', () => {
  it.each(CAPSTAN)('%s: holds at 0.98 of the ratio, runs at 1.02', (id) => {
    const [, mu, degrees] = /mu([\d.]+)_theta(\d+)/.exec(id)!.map(Number) as [number, number, number],
      theta = (degrees * Math.PI) / 180,
      limit = Math.exp(mu * theta),
      below = roundPost(mu, theta, 0.98 * limit),
      above = roundPost(mu, theta, 1.02 * limit);
    check(id, limit, { abs: 6e-6 });
    console.log(`  0.98: ${(below.moved * 1000).toFixed(2)} mm, at rest ${below.rests}; 1.02: ${(above.moved * 1000).toFixed(1)} mm, at rest ${above.rests}`);
    expect(below.rests).toBe(true);
    // At rest only the stretch of the strap and of the contact springs shows; slipping goes on as long as steps are made.
    expect(above.rests).toBe(false);
    expect(above.moved).toBeGreaterThan(3 * below.moved);
  });
});
