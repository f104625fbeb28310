import { toEnd, type Work } from '../numerics/index.ts';
import { analysing, type BlockPattern, type Factor, factorising, type Symbolic, solve } from '../solver/index.ts';

/** A symmetric matrix of 1 x 1 or 3 x 3 blocks that is filled, factorised and solved again and again on one pattern. */
export class SymmetricSystem {
  /** b*b per stored block; row by row. Filled through `slot`. */ readonly values: Float64Array;
  private readonly pattern: BlockPattern;
  private symbolic: Symbolic | undefined;
  private factor: Factor | undefined;

  /** @param pairs block pairs (i, j) that may be nonzero, in any order; the diagonal is added */
  constructor(
    readonly blockCount: number,
    readonly blockSize: 1 | 3,
    pairs: Iterable<readonly [number, number]>,
  ) {
    const named: number[] = [];
    for (let i = 0; i < blockCount; i++) named.push(i * blockCount + i);
    for (const [i, j] of pairs) named.push(Math.max(i, j) * blockCount + Math.min(i, j));
    const sorted = Float64Array.from(named).sort();
    const rowPtr = new Int32Array(blockCount + 1);
    const columns = new Int32Array(sorted.length);
    let stored = 0;
    sorted.forEach((key, p) => {
      if (p > 0 && key === sorted[p - 1]) return;
      rowPtr[Math.floor(key / blockCount) + 1]++;
      columns[stored++] = key % blockCount;
    });
    for (let i = 0; i < blockCount; i++) rowPtr[i + 1] += rowPtr[i];
    this.pattern = { blockCount, blockSize, rowPtr, colIdx: columns.slice(0, stored) };
    this.values = new Float64Array(blockSize * blockSize * stored);
  }

  /** Number of the stored block (max, min); the block holds rows of the larger number. */
  slot(i: number, j: number): number {
    const { rowPtr, colIdx } = this.pattern,
      column = Math.min(i, j);
    let p = rowPtr[Math.max(i, j)];
    // Rows are short.
    while (colIdx[p] < column) p++;
    return p;
  }

  /** Factorises the current values; false when they are not positive definite. */
  factorise(): boolean {
    return toEnd(this.factorising());
  }

  /** The same in steps. */
  *factorising(): Work<boolean> {
    this.symbolic ??= yield* analysing(this.pattern);
    this.factor = yield* factorising(this.symbolic, this.values, this.factor);
    return this.factor.failedAt < 0;
  }

  /** x with A x = rhs, from the last factorisation; rhs and x may be one array. */
  solve(rhs: Float64Array, x: Float64Array): void {
    solve(this.symbolic!, this.factor!, rhs, x);
  }
}
