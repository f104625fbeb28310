import { describe, expect, it } from 'vitest';
import { createPairBlocks, factorisingPairBlocks } from '../../src/solver/contact/cloth/pair-blocks.ts';
import { applyPairs, commitPairs, evaluatePairs } from '../../src/solver/contact/cloth/pair-force.ts';
import { activate, createPairContact, PAIR, type PairContact } from '../../src/solver/contact/cloth/pairs.ts';
import { findPairs } from '../../src/solver/contact/cloth/truncate.ts';
import { createElastic } from '../../src/solver/elastic/elastic.ts';
import { analyse, analyseAnew, type BlockPattern, factorise, multiply, resizeFactor, solve } from '../../src/solver/sparse/index.ts';
import type { Model } from '../../src/solver/types.ts';
import { toEnd } from '../../src/solver/work.ts';
import { flatSheet, random } from './sheets.ts';

const SHEET = { nx: 8, ny: 6, length: 0.08, width: 0.06, arealMass: 0.3, D: [1e-4, 1e-4, 0, 5e-5], C: [2e3, 2e3, 0, 1e3] } as const;

/** Two sheets of irregular points as one model, the second 0.6 mm above the first and askew: hundreds of pairs touch. */
function laidOn(): { model: Model; x: Float64Array; upper: number } {
  const a = flatSheet({ ...SHEET, jitter: 0.4, seed: 3 }),
    b = flatSheet({ ...SHEET, jitter: 0.4, seed: 5 }),
    n = a.model.vertexCount,
    m = a.model.triVerts.length / 3;
  const floats = ['triRest', 'triStretch', 'triBend', 'mass', 'hingeStiffness', 'hingeRest'] as const;
  const joined = Object.fromEntries(floats.map((k) => [k, Float64Array.from([...a.model[k], ...b.model[k]])]));
  const on = (k: 'triVerts' | 'hingeVerts' | 'hingeTris', by: number) => Uint32Array.from([...a.model[k], ...b.model[k].map((v) => v + by)]);
  const model: Model = {
    ...a.model,
    ...joined,
    vertexCount: 2 * n,
    triVerts: on('triVerts', n),
    hingeVerts: on('hingeVerts', n),
    hingeTris: on('hingeTris', m),
    hingeLocal: Uint8Array.from([...a.model.hingeLocal, ...b.model.hingeLocal]),
    held: new Uint8Array(2 * n),
  };
  model.held[0] = 1;
  const x = Float64Array.from([...a.x, ...b.x]);
  for (let v = n; v < 2 * n; v++) {
    const [u, w] = [x[3 * v]!, x[3 * v + 1]!];
    x.set([u + 0.1 * w + 0.003, w - 0.1 * u + 0.002, 6e-4], 3 * v);
  }
  return { model, x, upper: n };
}

/** Leaves only the pairs whose normal is upright: where one sheet goes straight at the other, theirs do not turn. */
function keepUpright(pc: PairContact): void {
  const upright = Array.from({ length: pc.active }, (_, p) => p).filter((p) => Math.abs(pc.activeData[PAIR * p + 6]!) > 1 - 1e-12);
  const verts = upright.flatMap((p) => [...pc.activeVerts.subarray(4 * p, 4 * p + 4)]),
    keys = upright.map((p) => pc.activeKeys[p]!);
  pc.activeVerts.set(verts);
  pc.activeKeys.set(keys);
  pc.active = upright.length;
}

/** The sheets' contact at x after they slid by `slid`, m, and what the pairs' blocks come to on a diagonal matrix of `own`, N/m. */
function touching(own: number, slid = 1e-5, upright = false) {
  const { model, x, upper } = laidOn();
  const pc = createPairContact(model);
  findPairs(pc, x, new Float64Array(x.length));
  activate(pc, x);
  commitPairs(pc, x);
  for (let v = upper; v < model.vertexCount; v++) x[3 * v] = x[3 * v]! + slid;
  const g = new Float64Array(x.length),
    diag = new Float64Array(9 * model.vertexCount);
  evaluatePairs(pc, x, g, diag);
  if (upright) {
    keepUpright(pc);
    diag.fill(0);
    evaluatePairs(pc, x, g, diag);
  }
  const { pattern, diagonal } = createElastic(model).shell,
    values = diagonalOf(model, pattern, diagonal, diag, own);
  const blocks = createPairBlocks(pattern, analyse(pattern));
  toEnd(factorisingPairBlocks(blocks, values, pc, model.held));
  return { model, x, upper, pc, diag, blocks, pattern, diagonal };
}

/** The matrix of the pairs' own 3x3 diagonals and `own` besides, identity rows at held points, in the sheets' pattern. */
function diagonalOf(model: Model, pattern: BlockPattern, diagonal: Int32Array, diag: Float64Array, own: number): Float64Array {
  const values = new Float64Array(9 * pattern.colIdx.length);
  for (let v = 0; v < model.vertexCount; v++) {
    for (let k = 0; k < 9; k++) values[9 * diagonal[v]! + k] = model.held[v] ? 0 : diag[9 * v + k]!;
    for (const k of [0, 4, 8]) values[9 * diagonal[v]! + k] = values[9 * diagonal[v]! + k]! + (model.held[v] ? 1 : own);
  }
  return values;
}

const norm = (a: Float64Array) => Math.sqrt(a.reduce((s, v) => s + v * v, 0));

describe("touching pairs' blocks in the preconditioner", () => {
  it('come to the same as the action of the pairs, to 1e-13, and leave held points alone', () => {
    const { model, pc, diag, blocks } = touching(0),
      rand = random(4),
      p = Float64Array.from({ length: 3 * model.vertexCount }, (_, i) => (model.held[(i / 3) | 0] ? 0 : rand() - 0.5)),
      out = new Float64Array(p.length),
      matrix = new Float64Array(p.length);
    applyPairs(pc, p, out);
    for (let v = 0; v < model.vertexCount; v++)
      for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) out[3 * v + a] = out[3 * v + a]! + diag[9 * v + 3 * a + b]! * p[3 * v + b]!;
    multiply(blocks.pattern, blocks.values, p, matrix);
    for (let q = 0; q < 3; q++) out[q] = matrix[q] = 0;
    const err = norm(matrix.map((v, i) => v - out[i]!)) / norm(out);
    console.log(
      `${pc.active} pairs, ${blocks.pattern.colIdx.length - blocks.sheet.colIdx.length} blocks beside the sheets': relative error ${err.toExponential(1)}, bar 1e-13`,
    );
    expect(pc.active).toBeGreaterThan(200);
    expect(err).toBeLessThan(1e-13);
  });

  // The turning of normals is left out of the pairs' stiffness: a way on which they do not turn is compared.
  it('equal the fourth-order difference of the gradient where one sheet moves straight at the other, to 1e-8', () => {
    const { model, x, upper, pc, blocks } = touching(0, 1e-9, true),
      p = Float64Array.from({ length: 3 * model.vertexCount }, (_, i) => (i % 3 === 2 && i >= 3 * upper ? 1 : 0)),
      matrix = new Float64Array(p.length);
    multiply(blocks.pattern, blocks.values, p, matrix);
    const at = (h: number) => {
      const g = new Float64Array(x.length);
      evaluatePairs(
        pc,
        x.map((v, i) => v + h * p[i]!),
        g,
        null,
      );
      return g;
    };
    const h = 1e-7,
      [a, b, c, d] = [at(h), at(-h), at(2 * h), at(-2 * h)],
      difference = a.map((v, i) => (8 * (v - b[i]!) - (c[i]! - d[i]!)) / (12 * h));
    for (let q = 0; q < 3; q++) difference[q] = matrix[q] = 0;
    const err = norm(matrix.map((v, i) => v - difference[i]!)) / norm(difference);
    console.log(`${pc.active} pairs: relative error ${err.toExponential(1)}, bar 1e-8`);
    expect(err).toBeLessThan(1e-8);
  });

  it('are covered anew when other pairs touch, in the same memory, and solve as a factor of their own does, to the last byte', () => {
    const { model, x, pc, diag, blocks, pattern, diagonal } = touching(1);
    for (let v = 0; v < model.vertexCount; v++) if (x[3 * v + 2]! > 1e-4) x[3 * v + 1] = x[3 * v + 1]! + 0.004;
    findPairs(pc, x, new Float64Array(x.length));
    activate(pc, x);
    diag.fill(0);
    evaluatePairs(pc, x, null, diag);
    toEnd(factorisingPairBlocks(blocks, diagonalOf(model, pattern, diagonal, diag, 1), pc, model.held));
    expect(blocks.plans).toBe(2);
    const rand = random(9),
      rhs = Float64Array.from({ length: 3 * model.vertexCount }, () => rand() - 0.5),
      one = new Float64Array(rhs.length),
      two = new Float64Array(rhs.length);
    solve(blocks.symbolic, blocks.factor!, rhs, one);
    const anew = analyseAnew(blocks.pattern, blocks.order);
    solve(anew, factorise(anew, blocks.values), rhs, two);
    expect(one).toEqual(two);
    const back = new Float64Array(rhs.length);
    multiply(blocks.pattern, blocks.values, one, back);
    const err = norm(back.map((v, i) => v - rhs[i]!)) / norm(rhs);
    console.log(`residual of the solve ${err.toExponential(1)}, bar 1e-9`);
    expect(err).toBeLessThan(1e-9);
  });

  it('stay in plain buffers where the first factor is in one', () => {
    const { pattern } = touching(1),
      symbolic = analyse(pattern),
      plain = { ...resizeFactor(symbolic, undefined), simd: undefined };
    expect(resizeFactor(symbolic, plain).simd).toBeUndefined();
  });
});
