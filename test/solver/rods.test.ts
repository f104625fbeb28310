import { describe, expect, it } from 'vitest';
import { apply } from '../../src/solver/elastic/action.ts';
import { createElastic, evaluate, linearise } from '../../src/solver/elastic/elastic.ts';
import { joinRods, type RodChain } from '../../src/solver/elastic/rod-chains.ts';
import { settle } from '../../src/solver/index.ts';
import { unstableMode } from '../../src/solver/rest/stability.ts';
import { createSystem } from '../../src/solver/system.ts';
import type { Model } from '../../src/solver/types.ts';
import { toEnd } from '../../src/solver/work.ts';
import { GREENHILL, loopHeight, tipLoaded } from '../../src/swatch/elastica.ts';
import { GRAVITY } from '../../src/units/index.ts';
import { chain, rodThrough } from './chains.ts';
import { flatSheet, random } from './sheets.ts';

type Point = readonly [number, number, number];
const norm = (a: ArrayLike<number>) => Math.sqrt(Array.from(a).reduce((s, v) => s + v * v, 0));

/** Rods alone, without cloth; a line of kg/m lumped on their points. */
function model(
  points: readonly Point[],
  rods: readonly RodChain[],
  line: number,
  held: readonly number[],
  load?: Float64Array,
): { model: Model; x: Float64Array } {
  const mass = points.map(() => 0);
  for (const r of rods)
    r.lengths.forEach((l, s) => {
      for (const v of [r.verts[s]!, r.verts[s + 1]!]) mass[v]! += (line * l) / 2;
    });
  const bare = chain({ points, mass, stiffness: 0, held, ...(load ? { load } : {}) });
  const { cables, ...rest } = bare.model;
  return { model: { ...rest, rods: joinRods(rods) }, x: bare.x };
}

const level = (n: number, length: number): Point[] => Array.from({ length: n + 1 }, (_, i) => [(length * i) / n, 0, 0]);
const circle = (n: number, R: number): Point[] =>
  Array.from({ length: n }, (_, i) => [R * Math.sin((2 * Math.PI * i) / n), 0, -R * Math.cos((2 * Math.PI * i) / n)]);

describe('a rod, derivatives', () => {
  it.each([
    ['straight at rest, plain', false, 'plain'],
    ['straight at rest, with arcs', false, 'arc-corrected'],
    ['formed, with arcs', true, 'arc-corrected'],
  ] as const)(
    '%s: gradient, and Hessian in the pattern, equal fourth-order differences to 1e-8, with a wall, an open chain and a ring in a sheet',
    (_, formed, formulation) => {
      const s = flatSheet({ nx: 6, ny: 4, length: 0.06, width: 0.04, arealMass: 0.34, D: [1e-4, 6e-5, 1e-5, 3e-5], C: [2e3, 1.2e3, 2e2, 4e2], jitter: 0.5 });
      const rand = random(5),
        y = s.x.map((v) => v + 2e-3 * (rand() - 0.5)),
        at = (v: number): Point => [s.x[3 * v]!, s.x[3 * v + 1]!, s.x[3 * v + 2]!];
      const through = (verts: readonly number[], o: Partial<Parameters<typeof rodThrough>[1]>): RodChain => {
        const r = rodThrough(verts.map(at), { rigidity: 0.01, stiffness: 3e3, formed, ...o });
        return { ...r, verts: r.verts.map((i) => verts[i]!) };
      };
      const open = through(
          [0, 1, 2, 3, 4].map((j) => s.vertex(1, j)),
          { walls: [[0.1, 0.9, 0.2], null] },
        ),
        ring = through([s.vertex(2, 1), s.vertex(3, 1), s.vertex(4, 1), s.vertex(4, 2), s.vertex(4, 3), s.vertex(3, 3), s.vertex(2, 3), s.vertex(2, 2)], {
          ring: true,
        }),
        rods = joinRods([{ ...open, from: 0.004, to: 0.034 }, ring]),
        el = createElastic({ ...s.model, rods }),
        x = Float64Array.from(y),
        d = Float64Array.from(x, () => rand() - 0.5),
        h = 1e-7;
      const point = (t: number) => {
        const g = new Float64Array(x.length),
          e = evaluate(
            el,
            x.map((v, i) => v + t * d[i]!),
            g,
            formulation,
          );
        return { g, e: e.bend + e.stretch };
      };
      const [a, b, c, e] = [point(h), point(-h), point(2 * h), point(-2 * h)],
        g = point(0).g;
      linearise(el, null, false);
      const out = new Float64Array(x.length);
      apply(el, d, out);
      const slope = (8 * (a.e - b.e) - (c.e - e.e)) / (12 * h),
        exact = g.reduce((sum, v, i) => sum + v * d[i]!, 0),
        fd = out.map((_v, i) => (8 * (a.g[i]! - b.g[i]!) - (c.g[i]! - e.g[i]!)) / (12 * h)),
        off = norm(out.map((v, i) => v - fd[i]!)) / norm(fd);
      console.log(`gradient off by ${Math.abs(slope / exact - 1).toExponential(2)}, action by ${off.toExponential(2)}, bars 1e-8`);
      expect(Math.abs(slope / exact - 1)).toBeLessThan(1e-8);
      expect(off).toBeLessThan(1e-8);
      // The projected form has no negative curvature in any of these directions.
      linearise(el, null, true);
      for (let k = 0; k < 50; k++) {
        const p = Float64Array.from(x, () => rand() - 0.5);
        apply(el, p, out);
        expect(out.reduce((sum, v, i) => sum + v * p[i]!, 0)).toBeGreaterThan(0);
      }
    },
  );
});

describe('a rod alone', () => {
  const [EI, L] = [0.01, 0.3];

  it('cantilever under its own weight: tip within 0.5 degrees of the exact elastica at w L^3/B = 1, 8.0042 and 40, 30 segments', () => {
    for (const K of [1, 8.0042, 40]) {
      const line = (K * EI) / (L ** 3 * GRAVITY),
        points = level(30, L),
        m = model(points, [rodThrough(points, { rigidity: EI, stiffness: 1e4, walls: [[1, 0, 0], null] })], line, [0]),
        s = settle(m.model, m.x),
        read = (Math.atan2(-s.x.at(-1)!, s.x.at(-3)!) * 180) / Math.PI,
        { drop, reach } = tipLoaded(1e-9, K),
        exact = (Math.atan2(drop, reach) * 180) / Math.PI;
      console.log(`K ${K}: ${s.status} after ${s.iterations}, ${read.toFixed(3)} deg, exact ${exact.toFixed(3)}`);
      expect(s.status).toBe('settled');
      expect(Math.abs(read - exact)).toBeLessThan(0.5);
    }
  });

  it('ring hung from its top under its own weight: height within 1 % of the exact loop at K = 10, 40 and 150 (w L^3/B; Peirce 1930, Plaut 2015), 60 segments', () => {
    for (const K of [10, 40, 150]) {
      const n = 60,
        R = L / (2 * n * Math.sin(Math.PI / n)),
        points = circle(n, R),
        line = (K * EI) / (L ** 3 * GRAVITY),
        top = n / 2,
        // Both strands leave the clamp level.
        verts = points.map((_, i) => (i + top) % n),
        open = rodThrough(
          verts.map((v) => points[v]!),
          { rigidity: EI, stiffness: 1e4, ring: true, formed: false },
        ),
        clamped: RodChain = { ...open, verts: open.verts.map((i) => verts[i]!) },
        m = model(points, [clamped], line, [top]),
        s = settle(m.model, m.x);
      const heights = points.map((_, i) => s.x[3 * i + 2]!),
        read = (Math.max(...heights) - Math.min(...heights)) / L,
        exact = loopHeight('ring', K)!;
      console.log(`K ${K}: ${s.status} after ${s.iterations}, h/L ${read.toFixed(4)}, exact ${exact.toFixed(4)}`);
      expect(s.status).toBe('settled');
      expect(Math.abs(read / exact - 1)).toBeLessThan(0.01);
    }
  });

  it('ring under two opposite forces: both diameters within 1 % of its elliptic integrals, P R^2/B = 1, 5 and 20; pressed to P R^2/B = -2, the other diameter and the force', () => {
    const n = 120,
      R = 0.05;
    for (const P of [1, 5, 20]) {
      const points = circle(n, R),
        load = new Float64Array(3 * n);
      load[3 * (n / 2) + 2] = (P * EI) / R ** 2;
      const m = model(points, [rodThrough(points, { rigidity: EI, stiffness: 1e5, ring: true })], 1e-3, [0], load),
        s = settle({ ...m.model, gravity: [0, 0, 0] }, m.x, { tolerance: 1e-3 });
      const at = (i: number): Point => [s.x[3 * i]!, s.x[3 * i + 1]!, s.x[3 * i + 2]!];
      const along = at(n / 2)[2] - at(0)[2],
        xs = points.map((_, i) => at(i)[0]),
        // The widest chord of the polygon, and what its arc adds beyond: none to speak of at 60 segments.
        across = Math.max(...xs) - Math.min(...xs),
        exact = pulledRing(P);
      console.log(
        `P R^2/B ${P}: ${s.status} after ${s.iterations}; along ${(along / R).toFixed(4)}, exact ${exact.along.toFixed(4)}; across ${(across / R).toFixed(4)}, exact ${exact.across.toFixed(4)}`,
      );
      expect(s.status).toBe('settled');
      expect(Math.abs(along / R / exact.along - 1)).toBeLessThan(0.01);
      expect(Math.abs(across / R / exact.across - 1)).toBeLessThan(0.01);
    }
    // Pressed by a load it would turn over; between two plates that are held it cannot.
    const exact = pulledRing(-2),
      round = circle(n, R),
      oval = round.map((p): Point => [(p[0] * exact.across) / 2, 0, (p[2] * exact.along) / 2]),
      m = model(round, [rodThrough(round, { rigidity: EI, stiffness: 1e5, ring: true })], 1e-3, [0, n / 2]),
      s = settle({ ...m.model, gravity: [0, 0, 0] }, Float64Array.from(oval.flat()), { tolerance: 1e-3 }),
      xs = round.map((_, i) => s.x[3 * i]!),
      across = Math.max(...xs) - Math.min(...xs),
      P = (s.reaction[3 * (n / 2) + 2]! * R ** 2) / EI;
    console.log(`pressed: ${s.status}; across ${(across / R).toFixed(4)}, exact ${exact.across.toFixed(4)}; P ${P.toFixed(4)}, exact -2`);
    expect(Math.abs(across / R / exact.across - 1)).toBeLessThan(0.01);
    expect(Math.abs(P / -2 - 1)).toBeLessThan(0.02);
  });

  it('upright in a wall it buckles at L = (7.83735 EI/q)^(1/3) (Greenhill 1881): bracketed to 1 % with 40 segments', () => {
    const line = 0.05,
      exact = ((GREENHILL * EI) / (line * GRAVITY)) ** (1 / 3);
    const stands = (length: number): boolean => {
      const points = level(40, length).map((p): Point => [0, 0, p[0]]),
        m = model(points, [rodThrough(points, { rigidity: EI, stiffness: 1e5, walls: [[0, 0, 1], null] })], line, [0]),
        sys = createSystem(m.model);
      // Pressed together by its weight first: straight, and at rest.
      const s = settle({ ...m.model, rods: joinRods([rodThrough(points, { rigidity: 1e3 * EI, stiffness: 1e5, walls: [[0, 0, 1], null] })]) }, m.x);
      return toEnd(unstableMode(sys, s.x, 'arc-corrected')) === null;
    };
    expect(stands(0.99 * exact)).toBe(true);
    expect(stands(1.01 * exact)).toBe(false);
  });

  it('formed to an arc it stays on it to 1e-6 of its radius, and comes back to it its tip pushed off by 2 % of its radius', () => {
    const [n, R] = [24, 0.1];
    const points = Array.from({ length: n + 1 }, (_, i): Point => [R * Math.sin((2 * i) / n), 0, R * (1 - Math.cos((2 * i) / n))]);
    const rod = rodThrough(points, { rigidity: EI, stiffness: 1e4, formed: true });
    const off = (x: Float64Array): number => {
      // Its chord from end to end and its rise say radius and turn.
      const mid = points.map((_, i) => Math.hypot(x[3 * i]! - x[0]!, x[3 * i + 1]! - x[1]!, x[3 * i + 2]! - x[2]!)),
        drawn = points.map((p) => Math.hypot(p[0] - points[0]![0], p[1] - points[0]![1], p[2] - points[0]![2]));
      return Math.max(...mid.map((d, i) => Math.abs(d - drawn[i]!))) / R;
    };
    const m = model(points, [rod], 1e-2, [0, 1]),
      weightless = { ...m.model, gravity: [0, 0, 0] as const },
      still = settle(weightless, m.x, { tolerance: 1e-8 });
    expect(off(still.x)).toBeLessThan(1e-6);
    const pushed = m.x.map((v, i) => (i % 3 === 2 ? v + 0.02 * R * ((i / 3 - 1) / n) ** 2 : v)),
      back = settle(weightless, pushed, { tolerance: 1e-7 });
    console.log(`stays to ${off(still.x).toExponential(1)}, comes back to ${off(back.x).toExponential(1)}, ${back.status} after ${back.iterations}`);
    expect(off(back.x)).toBeLessThan(1e-6);
  });
});

/**
 * Diameters over R of an inextensible ring pulled by P at two opposite points, P R^2/B given. From the side (u = 0) to the load (u = pi/2): B u'' = P/2 sin u,
 * so u'^2 = C - p cos u, p = P R^2/B; a quarter's length, pi/2, fixes C. Elliptic integrals, by Simpson's rule. The rest curvature drops out.
 */
function pulledRing(p: number): { along: number; across: number } {
  const sum = (C: number, f: (u: number) => number): number => {
    const n = 2000,
      h = Math.PI / 2 / n;
    let out = 0;
    for (let i = 0; i <= n; i++) out += ((i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * f(i * h)) / Math.sqrt(C - p * Math.cos(i * h));
    return (out * h) / 3;
  };
  let [low, high] = [Math.max(p, 0) + 1e-9, Math.max(p, 0) + 100];
  for (let k = 0; k < 200; k++) {
    const C = (low + high) / 2;
    if (sum(C, () => 1) > Math.PI / 2) low = C;
    else high = C;
  }
  return { along: 2 * sum(low, Math.cos), across: 2 * sum(low, Math.sin) };
}
