import { describe, expect, it } from 'vitest';
import { applyBodies } from '../../src/solver/contact/body/body-steps.ts';
import { readyForBodies } from '../../src/solver/contact/body/kernel.ts';
import { findContacts, updateAnchors } from '../../src/solver/contact-state.ts';
import { type BodySpec, joinBodies } from '../../src/solver/join-bodies.ts';
import { rest } from '../../src/solver/rest/settle.ts';
import { createFall } from '../../src/solver/rest/watched-fall.ts';
import { createSystem, forces } from '../../src/solver/system.ts';
import type { Model, SupportShape } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

readyForBodies();

const D = [1e-4, 1e-4, 0, 5e-5] as const;
const C = [2e3, 2e3, 0, 1e3] as const;
const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;
const G = 9.80665;

const tin: SupportShape = { kind: 'cylinder', a: [0, 0, -0.05], b: [0, 0, 0.05], radius: 0.035, round: 0.002 };
const book: SupportShape = { kind: 'box', centre: [0, 0, 0], half: [0.06, 0.02, 0.09], round: 0.002 };
const ball: SupportShape = { kind: 'sphere', centre: [0, 0, 0], radius: 0.03 };

const spec = (shape: SupportShape, at: readonly [number, number, number], over: Partial<BodySpec> = {}): BodySpec => ({
  name: shape.kind,
  shape,
  at,
  axes: UPRIGHT,
  mass: 0.4,
  friction: 0.4,
  offset: 1e-3,
  ...over,
});

/** A sheet of 0.2 x 0.2 m round the origin at z = 0 with things on it. */
function scene(things: readonly BodySpec[], over: Partial<Model> = {}) {
  const s = flatSheet({ nx: 12, ny: 12, length: 0.2, width: 0.2, arealMass: 0.3, D, C });
  const x = s.x.map((v, i) => (i % 3 === 2 ? v : v - 0.1));
  return joinBodies({ ...s.model, ...over }, x, things);
}

const table = (friction = 0.4): Partial<Model> => ({
  supports: [{ name: 'table', sdf: { kind: 'plane', point: [0, 0, -1e-3], normal: [0, 0, 1] }, friction, offset: 1e-3 }],
});

describe('rigid things among the unknowns', () => {
  // With friction the force acts at today's contact point, not where the material met: off by one step's motion (2e-5 m) over the arm, and where the sheet is
  // touched between its points over an edge of it (0.2 m / 12); nothing at rest.
  it.each([
    [0, 1e-8],
    [0.4, (2e-5 * 12) / 0.2],
  ])('friction %d: gradient equals the fourth-order difference of the energy to %d, tilted book pressed on sheet, table and tin', (friction, bar) => {
    const tilted: BodySpec['axes'] = [Math.cos(0.3), 0, Math.sin(0.3), 0, 1, 0, -Math.sin(0.3), 0, Math.cos(0.3)];
    const { model, x } = scene([spec(book, [0, 0, 0.1036], { axes: tilted, friction }), spec(tin, [0.012, 0.0559, 0.0506], { friction })], table(friction));
    const sys = createSystem(model, {});
    const n = x.length;
    x[n - 1] = 0.02; // the tin turned by 19 degrees about the plumb line
    findContacts(sys, x);
    const g = new Float64Array(n);
    forces(sys, x, g, 'arc-corrected');
    updateAnchors(sys, x);
    const rand = random(4);
    const y = x.map((v) => v + 2e-5 * (rand() - 0.5));
    forces(sys, y, g, 'arc-corrected');
    expect(sys.bodies!.count).toBeGreaterThan(5);
    expect(new Set(Array.from({ length: sys.bodies!.count }, (_, k) => sys.bodies!.contacts[k]!.slots.kind)).size).toBe(3);
    const d = Float64Array.from(x, () => rand() - 0.5);
    const at = (h: number) =>
      forces(
        sys,
        y.map((v, i) => v + h * d[i]!),
        new Float64Array(n),
        'arc-corrected',
      ).total;
    const h = 2e-7;
    const fd = (8 * (at(h) - at(-h)) - (at(2 * h) - at(-2 * h))) / (12 * h);
    const exact = g.reduce((s, v, i) => s + v * d[i]!, 0);
    console.log(`gradient with bodies: off by ${(Math.abs(fd - exact) / Math.abs(exact)).toExponential(1)} at friction ${friction}`);
    expect(Math.abs(fd - exact) / Math.abs(exact)).toBeLessThan(bar);
  });

  it('action of the contact stiffness equals the difference of the forces to 1e-6 of its size, friction just gripping', () => {
    const { model, x } = scene([spec(tin, [0.012, 0.0559, 0.0506]), spec(book, [0, 0, 0.0906]), spec(ball, [-0.05, 0.0505, 0.0306])], table());
    const sys = createSystem(model, {}),
      n = x.length;
    findContacts(sys, x);
    const g0 = new Float64Array(n);
    forces(sys, x, g0, 'arc-corrected');
    updateAnchors(sys, x);
    forces(sys, x, g0, 'arc-corrected');
    const rand = random(9);
    const p = Float64Array.from(x, (_, i) => (i < n - 18 ? 0 : rand() - 0.5));
    const out = new Float64Array(n);
    applyBodies(sys.bodies!, p, out);
    for (let v = 0; v < model.vertexCount; v++)
      for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) out[3 * v + r] = out[3 * v + r]! + sys.diag[9 * v + 3 * r + c]! * p[3 * v + c]!;
    const h = 1e-8;
    const g1 = new Float64Array(n),
      g2 = new Float64Array(n);
    forces(
      sys,
      x.map((v, i) => v + h * p[i]!),
      g1,
      'arc-corrected',
    );
    forces(
      sys,
      x.map((v, i) => v - h * p[i]!),
      g2,
      'arc-corrected',
    );
    const fd = g1.map((v, i) => (v - g2[i]!) / (2 * h));
    // Sheet rows: the bending and stretch of the sheet take no part, since only the body moves.
    const size = Math.sqrt(fd.reduce((s, v) => s + v * v, 0)),
      off = Math.sqrt(fd.reduce((s, v, i) => s + (v - out[i]!) ** 2, 0));
    console.log(`action with bodies: off by ${(off / size).toExponential(2)}`);
    expect(off / size).toBeLessThan(1e-6);
  });

  it.each([
    ['a ball under a face', { kind: 'sphere', centre: [0, 0, 0], radius: 0.006 } as SupportShape, 0.006],
    ['a tilted book under edges', { kind: 'box', centre: [0, 0, 0], half: [0.03, 0.01, 0.02], round: 0.001 } as SupportShape, 0.0266],
    ['a tilted tin', { kind: 'cylinder', a: [0, 0, -0.02], b: [0, 0, 0.02], radius: 0.012, round: 0.001 } as SupportShape, 0.0222],
  ])('%s, between the points of cloth: gradient and exact action equal fourth-order differences to 1e-7 and 1e-4, sheet and body moving', (_, shape, top) => {
    const s = flatSheet({ nx: 4, ny: 4, length: 0.12, width: 0.12, arealMass: 0.3, D, C, jitter: 0.3 });
    const rand = random(5),
      tilt = 0.25;
    const axes: BodySpec['axes'] = [Math.cos(tilt), 0, Math.sin(tilt), 0, 1, 0, -Math.sin(tilt), 0, Math.cos(tilt)];
    const start = s.x.map((v, i) => (i % 3 === 2 ? 5e-4 * rand() : v - 0.064));
    const { model, x } = joinBodies(s.model, start, [spec(shape, [0, 0, -top - 4e-4], { axes, friction: 0 })]);
    const sys = createSystem(model, {}),
      n = x.length,
      bare = createSystem(s.model, {}),
      sheet = 3 * s.model.vertexCount;
    // The sheet's own forces are checked elsewhere and taken off.
    const at = (t: number): { e: number; g: Float64Array } => {
      const y = x.map((v, i) => v + t * way[i]!),
        [grad, own] = [new Float64Array(n), new Float64Array(sheet)];
      const e = forces(sys, y, grad, 'arc-corrected').total - forces(bare, y.slice(0, sheet), own, 'arc-corrected').total;
      return { e, g: grad.map((v, i) => v - (own[i] ?? 0)) };
    };
    const way = Float64Array.from(x, () => rand() - 0.5),
      h = 1e-6;
    const [a, b, c, d] = [at(-2 * h), at(-h), at(h), at(2 * h)] as const,
      { g } = at(0);
    const { count } = sys.bodies!.spans,
      out = new Float64Array(n);
    applyBodies(sys.bodies!, way, out);
    for (let v = 0; v < model.vertexCount; v++)
      for (let r = 0; r < 3; r++) for (let k = 0; k < 3; k++) out[3 * v + r] = out[3 * v + r]! + sys.diag[9 * v + 3 * r + k]! * way[3 * v + k]!;
    const fd = a.g.map((v, i) => (v - 8 * b.g[i]! + 8 * c.g[i]! - d.g[i]!) / (12 * h)),
      size = Math.sqrt(fd.reduce((sum, v) => sum + v * v, 0)),
      off = Math.sqrt(fd.reduce((sum, v, i) => sum + (v - out[i]!) ** 2, 0)) / size,
      slope = Math.abs((12 * h * g.reduce((sum, v, i) => sum + v * way[i]!, 0)) / (a.e - 8 * b.e + 8 * c.e - d.e) - 1);
    console.log(
      `${count} contacts between points, ${sys.bodies!.count} at points: gradient off by ${slope.toExponential(1)}, action by ${off.toExponential(1)}`,
    );
    expect(count).toBeGreaterThan(0);
    expect(slope).toBeLessThan(1e-7);
    expect(off).toBeLessThan(1e-4);
  });

  it.each([
    ['tin standing', spec(tin, [0, 0, 0.056]), 0.051],
    ['ball', spec(ball, [0, 0, 0.04]), 0.031],
    ['book', spec(book, [0, 0, 0.1]), 0.091],
  ])(
    '%s: comes to rest on cloth on a table at its own half height plus 1 mm of cloth within 0.1 mm; the table carries all within 1 in 1000',
    (_, thing, height) => {
      const { model, x } = scene([thing], table());
      const sys = createSystem(model, {});
      const r = rest(sys, x, {});
      const total = model.mass.slice(0, -1).reduce((s, m) => s + m, 0) * G;
      forces(sys, r.x, new Float64Array(x.length), 'arc-corrected');
      const carried = sys.contact.force[0]!.reduce((s, v, i) => s + (i % 3 === 2 ? v : 0), sys.bodies!.carried[2]!);
      console.log(
        `${thing.name}: ${r.status} ${r.path} residual ${r.residual.toExponential(1)} after ${r.iterations}, z ${(r.x[x.length - 4]! * 1000).toFixed(3)} mm, table ${(carried / total).toFixed(5)} of the weight`,
      );
      expect(r.status).toBe('settled');
      expect(Math.abs(r.x[x.length - 4]! - height)).toBeLessThan(1e-4);
      expect(Math.abs(carried / total - 1)).toBeLessThan(1e-3);
    },
  );

  it.each([
    ['tin', tin, 0.058],
    ['ball', ball, 0.038],
  ] as const)('a %s in a cloth held all round hangs in it: the held edges carry both within 1 in 1000, no vertex inside it', (_, shape, z) => {
    const base = scene([spec(shape, [0, 0, z])]);
    const held = base.model.held.slice();
    for (let v = 0; v < 169; v++) if (Math.max(Math.abs(base.x[3 * v]!), Math.abs(base.x[3 * v + 1]!)) > 0.1 - 1e-9) held[v] = 1;
    const sys = createSystem({ ...base.model, held }, {});
    const r = rest(sys, base.x, {});
    const g = new Float64Array(base.x.length);
    forces(sys, r.x, g, 'arc-corrected');
    let deepest = 1;
    for (let k = 0; k < sys.bodies!.count; k++) deepest = Math.min(deepest, sys.bodies!.contacts[k]!.normal);
    console.log(
      `hung ${shape.kind}: ${r.status} ${r.path} residual ${r.residual.toExponential(1)} after ${r.iterations}, z ${(r.x[base.x.length - 4]! * 1000).toFixed(2)} mm, deepest ${sys.bodies!.deepest}, touching ${sys.bodies!.count}`,
    );
    expect(r.status).toBe('settled');
    const onSheet = sys.bodies!.onSheet.reduce((s, v, i) => s + (i % 3 === 2 ? v : 0), 0);
    expect(Math.abs(onSheet / (0.4 * G) + 1)).toBeLessThan(1e-3);
    expect(sys.bodies!.deepest).toBe(0);
  });

  it('momentum: a ball pushed off a falling cloth takes from it what it gives; both together have M g t within 1e-6', () => {
    // Four fifths of the way through the reach of contact, 1 mm, so that it springs off; nothing else touches the two, and the air does not brake.
    const { model, x } = scene([spec(ball, [0, 0, 0.0302], { mass: 0.01 })]);
    const fall = createFall(model, x, { drag: 0, iterations: 30, enough: 1e-12, cg: 1e-9 });
    const dt = 1 / 500,
      n = model.mass.length - 1;
    const before = x.slice();
    let [all, own] = [0, 0];
    for (let k = 1; k <= 10; k++) {
      before.set(fall.x);
      fall.step(dt);
      all = 0;
      for (let v = 0; v < n; v++) all += (model.mass[v]! * (fall.x[3 * v + 2]! - before[3 * v + 2]!)) / dt;
      own = (model.mass[n - 1]! * (fall.x[3 * n - 1]! - before[3 * n - 1]!)) / dt;
      const total = model.mass.slice(0, n).reduce((sum, m) => sum + m, 0);
      expect(Math.abs(all / (-total * G * k * dt) - 1)).toBeLessThan(1e-6);
    }
    const free = -model.mass[n - 1]! * G * 10 * dt;
    console.log(`momentum of both ${all.toExponential(4)} N*s; of the ball ${own.toExponential(4)}, falling alone ${free.toExponential(4)}`);
    // The exchange is real: what the ball lost or gained is a thousand times what the sum may be off by.
    expect(Math.abs(own - free)).toBeGreaterThan(1e3 * 1e-6 * Math.abs(all));
  });
});
