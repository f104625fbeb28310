import { describe, expect, it } from 'vitest';
import { findCrossings } from '../../src/mesh/crossings.ts';
import { activate, createPairContact } from '../../src/solver/contact/cloth/pairs.ts';
import { truncatePairs } from '../../src/solver/contact/cloth/truncate.ts';
import { createFall } from '../../src/solver/index.ts';
import type { Model, Support } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

const g = 9.80665;
const D = [2e-5, 2e-5, 0, 1e-5] as const;
const C = [3e3, 3e3, 0, 1e3] as const;

describe('a small stiff sheet on a slope of 25 deg (Coulomb: sticks while mu > tan, slides with g (sin - mu cos) otherwise)', () => {
  const slope = (25 * Math.PI) / 180,
    n = [Math.sin(slope), 0, Math.cos(slope)] as const;
  const slide = (share: number) => {
    const s = flatSheet({ nx: 4, ny: 4, length: 0.04, width: 0.04, arealMass: 1, D: [1e-2, 1e-2, 0, 5e-3], C: [2e4, 2e4, 0, 1e4] });
    const table: Support = {
      name: 'slope',
      sdf: { kind: 'plane', point: [-1e-3 * n[0], 0, -1e-3 * n[2]], normal: n },
      friction: Math.tan(slope) / share,
      offset: 1e-3,
    };
    const model: Model = { ...s.model, supports: [table] },
      x = s.x.slice();
    for (let v = 0; v < model.vertexCount; v++) {
      const u = s.x[3 * v]!;
      x[3 * v] = u * Math.cos(slope);
      x[3 * v + 2] = -u * Math.sin(slope);
    }
    const fall = createFall(model, x, { drag: 0, iterations: 4 }),
      dt = 1 / 240,
      at = () => {
        let p = 0;
        for (let v = 0; v < model.vertexCount; v++) p += (fall.x[3 * v]! * Math.cos(slope) - fall.x[3 * v + 2]! * Math.sin(slope)) / model.vertexCount;
        return p;
      };
    for (let k = 0; k < 60; k++) fall.step(dt);
    const p0 = at(),
      speed = (() => {
        const before = at();
        fall.step(dt);
        return (at() - before) / dt;
      })();
    const p1 = at();
    for (let k = 0; k < 120; k++) fall.step(dt);
    return { moved: at() - p1, speed, p0, time: 120 * dt };
  };

  it('at 0.98 of the sticking limit it moves less than 0.1 mm in half a second', () => {
    const { moved } = slide(0.98);
    console.log(`moved ${(moved * 1e3).toFixed(4)} mm, expected 0 +- 0.1 mm (Coulomb)`);
    expect(Math.abs(moved)).toBeLessThan(1e-4);
  });

  it.each([1.02, 1.25])('at %d of it, it slides as far as Coulomb says within 5 %%', (share) => {
    const { moved, speed, time } = slide(share),
      a = g * (Math.sin(slope) - (Math.tan(slope) / share) * Math.cos(slope)),
      expected = speed * time + 0.5 * a * time * time;
    console.log(`slid ${(moved * 1e3).toFixed(2)} mm, expected ${(expected * 1e3).toFixed(2)} mm +- 5 % (Coulomb)`);
    expect(Math.abs(moved / expected - 1)).toBeLessThan(0.05);
  });
});

describe('nothing passes through itself', () => {
  it('0 crossings after every one of 45 steps of a soft sheet falling over a sphere onto a table', () => {
    const s = flatSheet({ nx: 16, ny: 16, length: 0.2, width: 0.2, arealMass: 0.15, D, C, jitter: 0.5 });
    const supports: Support[] = [
      { name: 'sphere', sdf: { kind: 'sphere', centre: [0.1, 0.1, -0.042], radius: 0.04 }, friction: 0.3, offset: 1e-3 },
      { name: 'table', sdf: { kind: 'plane', point: [0, 0, -0.085], normal: [0, 0, 1] }, friction: 0.3, offset: 1e-3 },
    ];
    const model: Model = { ...s.model, supports },
      fall = createFall(model, s.x, { selfContact: true, iterations: 3, formulation: 'plain' });
    let worst = 0,
      deepest = 0;
    for (let k = 0; k < 45; k++) {
      fall.step(1 / 60);
      worst = Math.max(worst, findCrossings(fall.x, model.triVerts).length);
      deepest = Math.max(deepest, fall.sys.contact.deepest);
    }
    console.log(`crossings ${worst}, expected 0; deepest penetration of a support ${(deepest * 1e3).toFixed(4)} mm, bar 0.2 mm`);
    expect(worst).toBe(0);
    expect(deepest).toBeLessThan(2e-4);
  });

  it('random steps of 30 mm on two facing sheets 2 mm apart: 0 crossings in 60 steps, hundreds without the truncation', () => {
    const one = flatSheet({ nx: 8, ny: 8, length: 0.08, width: 0.08, arealMass: 0.2, D, C, jitter: 0.4 }),
      n = one.model.vertexCount;
    const triVerts = Uint32Array.from([...one.model.triVerts, ...one.model.triVerts.map((v) => v + n)]);
    const model: Model = {
      ...one.model,
      vertexCount: 2 * n,
      triVerts,
      triRest: Float64Array.from([...one.model.triRest, ...one.model.triRest]),
      mass: Float64Array.from([...one.model.mass, ...one.model.mass]),
    };
    const start = Float64Array.from([...one.x, ...one.x.map((v, i) => (i % 3 === 2 ? v + 2e-3 : v))]),
      rand = random(11),
      pc = createPairContact(model);
    const x = start.slice();
    let bad = 0,
      free = 0;
    for (let k = 0; k < 60; k++) {
      const d = Float64Array.from(x, () => 0.03 * (rand() - 0.5)),
        loose = x.map((v, i) => v + d[i]!);
      free += findCrossings(loose, triVerts).length > 0 ? 1 : 0;
      truncatePairs(pc, x, d);
      for (let i = 0; i < x.length; i++) x[i] = x[i]! + d[i]!;
      bad += findCrossings(x, triVerts).length;
    }
    console.log(`with truncation ${bad} crossings, expected 0; without it ${free} of 60 steps would have crossed`);
    expect(bad).toBe(0);
    expect(free).toBeGreaterThan(50);
  });

  it('two sheets 6 mm apart fall 10 mm together, the lower one is stopped by a third 2 mm below it: the upper one stops short of it, 0 crossings', () => {
    const one = flatSheet({ nx: 8, ny: 8, length: 0.08, width: 0.08, arealMass: 0.2, D, C, jitter: 0.4 }),
      n = one.model.vertexCount,
      three = (list: ArrayLike<number>) => Float64Array.from([...Array.from(list), ...Array.from(list), ...Array.from(list)]);
    const model: Model = {
      ...one.model,
      vertexCount: 3 * n,
      triVerts: Uint32Array.from([0, n, 2 * n].flatMap((from) => [...one.model.triVerts].map((v) => v + from))),
      triRest: three(one.model.triRest),
      mass: three(one.model.mass),
    };
    const x = three(one.x),
      d = new Float64Array(x.length),
      rand = random(3);
    for (let v = 0; v < 3 * n; v++) {
      x[3 * v + 2] = [0, 2e-3, 8e-3][Math.floor(v / n)]!;
      if (v >= n) d[3 * v + 2] = -0.01 - 1e-4 * rand();
    }
    const crossed = findCrossings(
      x.map((v, i) => v + (i < 6 * n ? 0 : d[i]!)),
      model.triVerts,
    ).length;
    truncatePairs(createPairContact(model), x, d);
    for (let i = 0; i < x.length; i++) x[i] = x[i]! + d[i]!;
    let lowest = Number.POSITIVE_INFINITY,
      highest = 0;
    for (let v = n; v < 3 * n; v++) {
      if (v < 2 * n) highest = Math.max(highest, x[3 * v + 2]!);
      else lowest = Math.min(lowest, x[3 * v + 2]!);
    }
    const bad = findCrossings(x, model.triVerts).length;
    console.log(`upper sheet ${((lowest - highest) * 1e3).toFixed(3)} mm above the middle one, expected > 0; ${bad} crossings, expected 0`);
    expect(crossed).toBe(0);
    expect(bad).toBe(0);
    expect(lowest).toBeGreaterThan(highest);
  });
});

describe('where nothing is near, nothing is looked for', () => {
  /** Two facing sheets of 80 mm this far apart. */
  const facing = (gap: number): { model: Model; x: Float64Array } => {
    const one = flatSheet({ nx: 8, ny: 8, length: 0.08, width: 0.08, arealMass: 0.2, D, C, jitter: 0.4 }),
      n = one.model.vertexCount,
      twice = (list: ArrayLike<number>) => Float64Array.from([...Array.from(list), ...Array.from(list)]);
    return {
      model: {
        ...one.model,
        vertexCount: 2 * n,
        triVerts: Uint32Array.from([...one.model.triVerts, ...one.model.triVerts.map((v) => v + n)]),
        triRest: twice(one.model.triRest),
        mass: twice(one.model.mass),
      },
      x: Float64Array.from([...one.x, ...one.x.map((v, i) => (i % 3 === 2 ? v + gap : v))]),
    };
  };
  /** Random steps of up to 0.3 mm, sheets coming 0.1 mm nearer each time, cut and felt with and without what is known of contact-free radii. */
  const walk = (gap: number, steps: number): { quiet: number; same: boolean; felt: number } => {
    const { model, x } = facing(gap),
      [a, b] = [createPairContact(model), createPairContact(model)],
      rand = random(17),
      [y, z] = [x.slice(), x.slice()];
    let [quiet, felt, same] = [0, 0, true];
    for (let k = 0; k < steps; k++) {
      const d = Float64Array.from(x, (_, i) => 3e-4 * (rand() - 0.5) - (i >= x.length / 2 && i % 3 === 2 ? 1e-4 : 0)),
        e = d.slice();
      truncatePairs(a, y, d);
      if (a.vt.count + a.ee.count === 0) quiet++;
      // Never asked, so never known.
      b.contactFree.wait = 1;
      truncatePairs(b, z, e);
      for (let i = 0; i < x.length; i++) {
        y[i] = y[i]! + d[i]!;
        z[i] = z[i]! + e[i]!;
      }
      activate(a, y);
      activate(b, z);
      felt += b.active;
      same &&= a.active === b.active && y.every((v, i) => v === z[i]);
    }
    return { quiet, same, felt };
  };

  it('sheets that come together from 5 mm: no pair is looked at while they are far, and every step and every pair felt is the same as if all were', () => {
    const { quiet, same, felt } = walk(5e-3, 60);
    console.log(`${quiet} of 60 steps without a search; ${felt} pairs felt on the way, the same either way`);
    expect(quiet).toBeGreaterThan(10);
    expect(quiet).toBeLessThan(50);
    expect(felt).toBeGreaterThan(100);
    expect(same).toBe(true);
  });

  it('sheets 0.8 mm apart are looked at in every step', () => {
    const { quiet, same } = walk(8e-4, 10);
    expect(quiet).toBe(0);
    expect(same).toBe(true);
  });
});
