import { analyse, type BlockPattern, type Factor, factorise, type Symbolic, solve } from '../solver/index.ts';

/** A symmetric matrix of 1 x 1 or 3 x 3 blocks that is filled, factorised and solved again and again on one pattern. */
export class SymmetricSystem {
  /** b*b per stored block; row by row. Filled through `slot`. */ readonly values: Float64Array;
  private readonly pattern: BlockPattern;
  private readonly symbolic: Symbolic;
  private readonly slots: Map<number, number>;
  private factor: Factor | undefined;

  /** @param pairs block pairs (i, j) that may be nonzero, in any order; the diagonal is added */
  constructor(
    readonly blockCount: number,
    readonly blockSize: 1 | 3,
    pairs: Iterable<readonly [number, number]>,
  ) {
    const keys = new Set<number>();
    for (let i = 0; i < blockCount; i++) keys.add(i * blockCount + i);
    for (const [i, j] of pairs) keys.add(Math.max(i, j) * blockCount + Math.min(i, j));
    const sorted = Float64Array.from(keys).sort();
    const rowPtr = new Int32Array(blockCount + 1);
    const colIdx = new Int32Array(sorted.length);
    this.slots = new Map();
    sorted.forEach((key, p) => {
      rowPtr[Math.floor(key / blockCount) + 1]++;
      colIdx[p] = key % blockCount;
      this.slots.set(key, p);
    });
    for (let i = 0; i < blockCount; i++) rowPtr[i + 1] += rowPtr[i];
    this.pattern = { blockCount, blockSize, rowPtr, colIdx };
    this.symbolic = analyse(this.pattern);
    this.values = new Float64Array(blockSize * blockSize * sorted.length);
  }

  /** Number of the stored block (max, min); the block holds rows of the larger number. */
  slot(i: number, j: number): number {
    return this.slots.get(Math.max(i, j) * this.blockCount + Math.min(i, j))!;
  }

  /** Factorises the current values; false when they are not positive definite. */
  factorise(): boolean {
    this.factor = factorise(this.symbolic, this.values, this.factor);
    return this.factor.failedAt < 0;
  }

  /** x with A x = rhs, from the last factorisation; rhs and x may be one array. */
  solve(rhs: Float64Array, x: Float64Array): void {
    solve(this.symbolic, this.factor!, rhs, x);
  }
}
