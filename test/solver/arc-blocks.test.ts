import { describe, expect, it } from 'vitest';
import { readyForArcs } from '../../src/solver/arcs.ts';
import { apply } from '../../src/solver/elastic/action.ts';
import { creatingArcBlocks } from '../../src/solver/elastic/arc-blocks.ts';
import { assemblingArcBlocks } from '../../src/solver/elastic/arc-values.ts';
import { createElastic, evaluate, linearise } from '../../src/solver/elastic/elastic.ts';
import { newtonDirection } from '../../src/solver/newton.ts';
import { multiply } from '../../src/solver/sparse/index.ts';
import { createSystem, forces } from '../../src/solver/system.ts';
import { toEnd } from '../../src/solver/work.ts';
import { flatSheet, random, type SheetSpec } from './sheets.ts';

const CLOTH = { arealMass: 0.4, D: [1e-3, 6e-4, 1e-4, 4e-4], C: [4e4, 3e4, 5e3, 1e4], jitter: 0.4, seed: 3 } as const;
const norm = (a: Float64Array) => Math.sqrt(a.reduce((s, v) => s + v * v, 0));

/** A sheet rolled up along x by `turn` rad/m and stretched by `strain`, and what arcs add to its stiffness by the action and by the blocks, along a seeded way. */
function rolled(spec: SheetSpec, turn: number, strain: number) {
  const { model, x } = flatSheet(spec);
  for (let v = 0; v < model.vertexCount; v++) {
    const s = (1 + strain) * x[3 * v]!;
    x.set([Math.sin(turn * s) / turn, (1 + strain) * x[3 * v + 1]!, (1 - Math.cos(turn * s)) / turn], 3 * v);
  }
  // One corner out of the cylinder: a single pair of triangles would lie flat on it.
  x[2] = x[2]! + 0.003;
  const el = createElastic(model);
  evaluate(el, x, new Float64Array(x.length), 'arc-corrected');
  linearise(el, null, false);
  // Negative ones are left out of the blocks on purpose.
  for (let e = 0; e < el.bendSlope.length; e++) el.bendSlope[e] = Math.max(0, el.bendSlope[e]!);
  const rand = random(4),
    p = Float64Array.from(x, () => rand() - 0.5),
    full = new Float64Array(x.length),
    plain = new Float64Array(x.length),
    blocks = toEnd(creatingArcBlocks(el)),
    sum = new Float64Array(x.length);
  apply(el, p, full);
  el.formulation = 'plain';
  apply(el, p, plain);
  el.formulation = 'arc-corrected';
  toEnd(assemblingArcBlocks(blocks, el, new Float64Array(9 * el.shell.pattern.colIdx.length)));
  multiply(blocks.pattern, blocks.values, p, sum);
  const arcs = full.map((v, i) => v - plain[i]!);
  return { arcs, sum, err: norm(sum.map((v, i) => v - arcs[i]!)) / norm(arcs) };
}

describe("what arcs add to the preconditioner's matrix", () => {
  it('is all that they add to the action, to 1e-12, where two triangles are the whole sheet', () => {
    const { err } = rolled({ ...CLOTH, nx: 1, ny: 1, length: 0.02, width: 0.015 }, 12, 0.05);
    console.log(`relative error ${err.toExponential(1)}, bar 1e-12`);
    expect(err).toBeLessThan(1e-12);
  });

  it('leaves CG less than half of its iterations on a bent sheet of stiff cloth, to the same direction within 1e-3', () => {
    const { model, x } = flatSheet({ ...CLOTH, D: [1e-4, 6e-5, 1e-5, 4e-5], C: [4e5, 3e5, 5e4, 1e5], nx: 24, ny: 16, length: 0.36, width: 0.24, clamp: true });
    const turn = 9;
    for (let v = 0; v < model.vertexCount; v++) {
      const s = x[3 * v]!;
      x.set([Math.sin(turn * s) / turn, x[3 * v + 1]!, (1 - Math.cos(turn * s)) / turn], 3 * v);
    }
    readyForArcs();
    const sys = createSystem(model),
      g = new Float64Array(x.length),
      found: { d: Float64Array; its: number; has: string }[] = [];
    sys.preconditioner.hangs = true;
    for (let k = 0; k < 2; k++) {
      g.fill(0);
      forces(sys, x, g, 'arc-corrected');
      const d = new Float64Array(x.length),
        { cgIterations, ok } = newtonDirection(sys, g, d, { massFactor: 1e2, predicted: null, tolerance: 1e-5, positive: true, limit: 300 });
      expect(ok).toBe(true);
      found.push({ d, its: cgIterations, has: sys.preconditioner.has });
    }
    const [without, with_] = found as [(typeof found)[0], (typeof found)[0]],
      off = norm(with_.d.map((v, i) => v - without.d[i]!)) / norm(without.d);
    console.log(`${without.has}: ${without.its} iterations; ${with_.has}: ${with_.its}; directions ${off.toExponential(1)} apart`);
    expect([without.has, with_.has]).toEqual(['nothing', 'arcs']);
    expect(without.its).toBeGreaterThan(25);
    expect(with_.its).toBeLessThan(without.its / 2);
    expect(off).toBeLessThan(1e-3);
  });
});
