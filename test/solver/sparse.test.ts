import { describe, expect, it } from 'vitest';
import { allocateFactor, analyse, type BlockPattern, factorise, multiply, solve } from '../../src/solver/sparse/index.ts';
import { analyseAnew } from '../../src/solver/sparse/symbolic.ts';
import { boxBag, dominantValues, edgePattern, hingePattern, patternOf, seeded, sheetValues } from './sparse-meshes.ts';

function randomVector(length: number, seed: number): Float64Array {
  const random = seeded(seed);
  return Float64Array.from({ length }, () => 2 * random() - 1);
}

function norm(v: Float64Array): number {
  return Math.sqrt(v.reduce((sum, value) => sum + value * value, 0));
}

function relativeResidual(pattern: BlockPattern, values: Float64Array, x: Float64Array, rhs: Float64Array): number {
  const ax = new Float64Array(rhs.length);
  multiply(pattern, values, x, ax);
  return norm(ax.map((v, i) => v - rhs[i])) / norm(rhs);
}

/** Whole matrix, row by row. */
function dense(pattern: BlockPattern, values: Float64Array): Float64Array {
  const { blockCount: n, blockSize: b, rowPtr, colIdx } = pattern;
  const N = n * b;
  const A = new Float64Array(N * N);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++)
      for (let r = 0; r < b; r++)
        for (let c = 0; c < b; c++) {
          const v = values[(p * b + r) * b + c];
          A[(i * b + r) * N + colIdx[p] * b + c] = v;
          A[(colIdx[p] * b + c) * N + i * b + r] = v;
        }
  return A;
}

/** x by textbook dense Cholesky, or undefined when a pivot is not positive. */
function denseSolve(A: Float64Array, rhs: Float64Array): Float64Array | undefined {
  const N = rhs.length;
  const L = A.slice();
  for (let j = 0; j < N; j++) {
    for (let c = 0; c < j; c++) for (let i = j; i < N; i++) L[i * N + j] -= L[i * N + c] * L[j * N + c];
    if (!(L[j * N + j] > 0)) return undefined;
    const pivot = Math.sqrt(L[j * N + j]);
    for (let i = j; i < N; i++) L[i * N + j] /= pivot;
  }
  const x = rhs.slice();
  for (let i = 0; i < N; i++) {
    for (let c = 0; c < i; c++) x[i] -= L[i * N + c] * x[c];
    x[i] /= L[i * N + i];
  }
  for (let i = N - 1; i >= 0; i--) {
    for (let c = i + 1; c < N; c++) x[i] -= L[c * N + i] * x[c];
    x[i] /= L[i * N + i];
  }
  return x;
}

function randomGraph(n: number, degree: number, blockSize: 1 | 3, seed: number): BlockPattern {
  const random = seeded(seed);
  const pairs = Array.from({ length: 2 * Math.round((n * degree) / 2) }, () => Math.floor(random() * n));
  return patternOf(n, pairs, blockSize);
}

describe('sparse Cholesky', () => {
  for (const blockSize of [1, 3] as const)
    it(`agrees with a dense Cholesky to 1e-12 on random graphs, block size ${blockSize}`, () => {
      for (let n = 1; n <= 60; n++) {
        const pattern = randomGraph(n, n % 7, blockSize, n);
        const values = dominantValues(pattern, n + 100);
        const rhs = randomVector(n * blockSize, n + 200);
        const symbolic = analyse(pattern);
        const factor = factorise(symbolic, values);
        expect(factor.failedAt).toBe(-1);
        const x = new Float64Array(rhs.length);
        solve(symbolic, factor, rhs, x);
        const reference = denseSolve(dense(pattern, values), rhs)!;
        const error = norm(x.map((v, i) => v - reference[i])) / norm(reference);
        expect(error, `n ${n}`).toBeLessThan(1e-12);
      }
    });

  it('multiplies like the dense matrix', () => {
    for (const blockSize of [1, 3] as const) {
      const pattern = randomGraph(40, 5, blockSize, 3);
      const values = dominantValues(pattern, 4);
      const x = randomVector(40 * blockSize, 5);
      const y = new Float64Array(x.length);
      multiply(pattern, values, x, y);
      const A = dense(pattern, values);
      const expected = x.map((_, i) => x.reduce((sum, v, j) => sum + A[i * x.length + j] * v, 0));
      expect(norm(y.map((v, i) => v - expected[i])) / norm(expected)).toBeLessThan(1e-14);
    }
  });

  for (const spacing of [0.05, 0.02, 0.01])
    it(`leaves ||Ax-b||/||b|| under 1e-12 on a box bag meshed at ${spacing * 1000} mm`, () => {
      const sheet = boxBag(spacing);
      for (const pattern of [hingePattern(sheet), edgePattern(sheet)]) {
        const values = dominantValues(pattern, 7);
        const rhs = randomVector(pattern.blockCount * pattern.blockSize, 8);
        const symbolic = analyse(pattern);
        const x = rhs.slice();
        solve(symbolic, factorise(symbolic, values), x, x);
        expect(relativeResidual(pattern, values, x, rhs)).toBeLessThan(1e-12);
      }
    });

  it('leaves a residual under 1e-9 on a sheet whose stretch is 1e4 times its bending', () => {
    const sheet = boxBag(0.01);
    const pattern = hingePattern(sheet);
    const values = sheetValues(sheet, pattern, 2e4, 2, 1e-3);
    const rhs = randomVector(3 * sheet.vertexCount, 9);
    const symbolic = analyse(pattern);
    const factor = factorise(symbolic, values);
    expect(factor.failedAt).toBe(-1);
    const x = new Float64Array(rhs.length);
    solve(symbolic, factor, rhs, x);
    // ||A|| ||x|| u with ||A||/lambda_min about 1e8: 1e-9 leaves a factor of ten.
    expect(relativeResidual(pattern, values, x, rhs)).toBeLessThan(1e-9);
  });

  it('solves to 1e-12 in an order that is given, and what was asked before does not decide in which order: 3 orders of one pattern, each as if asked alone', () => {
    const pattern = edgePattern(boxBag(0.02)),
      values = dominantValues(pattern, 7),
      rhs = randomVector(pattern.blockCount * pattern.blockSize, 8),
      backwards = Int32Array.from({ length: pattern.blockCount }, (_, i) => pattern.blockCount - 1 - i),
      forwards = backwards.slice().reverse();
    const alone = [null, backwards, forwards].map((given) => analyseAnew(pattern, given).perm);
    for (const i of [0, 1, 2, 1, 0]) {
      const symbolic = analyse(pattern, [null, backwards, forwards][i]);
      expect(symbolic.perm, `order ${i}`).toEqual(alone[i]);
      const x = new Float64Array(rhs.length);
      solve(symbolic, factorise(symbolic, values), rhs, x);
      expect(relativeResidual(pattern, values, x, rhs), `order ${i}`).toBeLessThan(1e-12);
    }
  });

  it('numbers every block exactly once', () => {
    for (const pattern of [hingePattern(boxBag(0.02)), edgePattern(boxBag(0.02)), randomGraph(200, 1, 1, 5), randomGraph(50, 30, 3, 6)]) {
      const { perm } = analyse(pattern);
      expect(Array.from(perm).sort((a, b) => a - b)).toEqual(Array.from({ length: pattern.blockCount }, (_, i) => i));
    }
  });

  it('solves graphs in several pieces, without any edge, and of one block', () => {
    const bag = hingePattern(boxBag(0.05));
    const twice: number[] = [];
    for (let i = 0; i < bag.blockCount; i++)
      for (let p = bag.rowPtr[i]; p < bag.rowPtr[i + 1]; p++) twice.push(i, bag.colIdx[p], i + bag.blockCount, bag.colIdx[p] + bag.blockCount);
    for (const pattern of [
      patternOf(2 * bag.blockCount + 3, twice, 3),
      patternOf(500, [], 1),
      patternOf(500, [], 3),
      patternOf(1, [], 1),
      patternOf(1, [], 3),
    ]) {
      const values = dominantValues(pattern, 11);
      const rhs = randomVector(pattern.blockCount * pattern.blockSize, 12);
      const symbolic = analyse(pattern);
      const x = new Float64Array(rhs.length);
      solve(symbolic, factorise(symbolic, values), rhs, x);
      expect(relativeResidual(pattern, values, x, rhs)).toBeLessThan(1e-13);
    }
  });

  it('says where an indefinite matrix fails, and is usable again afterwards', () => {
    const sheet = boxBag(0.03);
    for (const pattern of [hingePattern(sheet), edgePattern(sheet)]) {
      const values = dominantValues(pattern, 13);
      const symbolic = analyse(pattern);
      const good = factorise(symbolic, values);
      const bytes = good.panels.slice();
      for (const block of [0, 17, pattern.blockCount - 1]) {
        for (const bad of [-1, Number.NaN]) {
          const broken = values.slice();
          broken[(pattern.rowPtr[block + 1] - 1) * pattern.blockSize ** 2] = bad;
          expect(factorise(symbolic, broken, good).failedAt).toBe(block);
        }
      }
      expect(factorise(symbolic, values, good).failedAt).toBe(-1);
      expect(good.panels).toEqual(bytes);
    }
  });

  it('finds every indefinite matrix that a dense Cholesky finds', () => {
    let failures = 0;
    for (let seed = 0; seed < 60; seed++) {
      const pattern = randomGraph(20, 4, 3, seed);
      const values = dominantValues(pattern, seed);
      const shift = seed / 12;
      for (let i = 0; i < 20; i++) for (let c = 0; c < 3; c++) values[(pattern.rowPtr[i + 1] - 1) * 9 + 4 * c] -= shift;
      const expected = denseSolve(dense(pattern, values), new Float64Array(60)) === undefined;
      if (expected) failures++;
      expect(factorise(analyse(pattern), values).failedAt !== -1, `seed ${seed}`).toBe(expected);
    }
    expect(failures).toBeGreaterThan(10);
    expect(failures).toBeLessThan(55);
  });

  it('gives the same bytes for the same input, fresh or reused', () => {
    const sheet = boxBag(0.02);
    const pattern = hingePattern(sheet);
    const values = dominantValues(pattern, 21);
    const rhs = randomVector(3 * sheet.vertexCount, 22);
    const run = (): Float64Array => {
      const symbolic = analyse(pattern);
      const factor = factorise(symbolic, dominantValues(pattern, 99));
      factorise(symbolic, values, factor);
      const x = new Float64Array(rhs.length);
      solve(symbolic, factor, rhs, x);
      return x;
    };
    const symbolic = analyse(pattern);
    const x = new Float64Array(rhs.length);
    solve(symbolic, factorise(symbolic, values), rhs, x);
    expect(run()).toEqual(x);
    expect(run()).toEqual(x);
  });

  it('gives the same bytes with WebAssembly kernels and without', () => {
    const sheet = boxBag(0.012);
    const patterns = [hingePattern(sheet), edgePattern(sheet)];
    for (let n = 1; n < 40; n++) patterns.push(randomGraph(n, n % 9, n % 2 === 0 ? 1 : 3, n));
    for (const pattern of patterns) {
      const values = dominantValues(pattern, 17);
      const symbolic = analyse(pattern);
      const plain = allocateFactor(symbolic, false);
      const simd = allocateFactor(symbolic);
      expect(plain.simd).toBeUndefined();
      expect(simd.simd).toBeDefined();
      factorise(symbolic, values, plain);
      factorise(symbolic, values, simd);
      expect(Buffer.compare(Buffer.from(plain.panels.slice().buffer), Buffer.from(simd.panels.slice().buffer))).toBe(0);
      const rhs = randomVector(pattern.blockCount * pattern.blockSize, 18);
      const x = rhs.slice();
      const y = rhs.slice();
      solve(symbolic, plain, x, x);
      solve(symbolic, simd, y, y);
      expect(Buffer.compare(Buffer.from(x.buffer), Buffer.from(y.buffer))).toBe(0);
      // A matrix that fails must fail at the same block.
      values[(pattern.rowPtr[(pattern.blockCount + 1) >> 1] - 1) * pattern.blockSize ** 2] = -1;
      expect(factorise(symbolic, values, simd).failedAt).toBe(factorise(symbolic, values, plain).failedAt);
    }
  });

  it('has no place outside the pattern: the factor times its transpose is the permuted matrix', () => {
    const sheet = boxBag(0.05);
    const pattern = hingePattern(sheet);
    const values = dominantValues(pattern, 31);
    const symbolic = analyse(pattern);
    // Solving against unit vectors is the inverse; times A it must be the identity.
    const factor = factorise(symbolic, values);
    const N = 3 * sheet.vertexCount;
    const unit = new Float64Array(N);
    const column = new Float64Array(N);
    const back = new Float64Array(N);
    let worst = 0;
    for (let i = 0; i < N; i++) {
      unit.fill(0);
      unit[i] = 1;
      solve(symbolic, factor, unit, column);
      multiply(pattern, values, column, back);
      for (let j = 0; j < N; j++) worst = Math.max(worst, Math.abs(back[j] - unit[j]));
    }
    expect(worst).toBeLessThan(1e-13);
  });
});
