import type { SimdKernels } from './simd.ts';

/**
 * Lower triangle of a symmetric block matrix, diagonal included: the pattern alone, so that many matrices can share one analysis.
 *
 * The values that go with it are a Float64Array(b*b*nnz): block p holds A_ij (i its row, j = colIdx[p] <= i) row by row,
 * a_00 a_01 a_02 a_10 ...; diagonal blocks are stored whole.
 */
export interface BlockPattern {
  /** Number of block rows n. */ readonly blockCount: number;
  /** Rows and columns of a block, b. */ readonly blockSize: 1 | 3;
  /** n+1: row i owns blocks rowPtr[i] .. rowPtr[i+1]-1. */ readonly rowPtr: Int32Array;
  /** nnz: block columns, increasing within each row and <= the row; the last of each row is the diagonal. */ readonly colIdx: Int32Array;
}

/**
 * Everything about P A P^T = L L^T that depends on the pattern alone. "New" numbers are places in the elimination order.
 *
 * A supernode is a run of consecutive block columns of L kept as one dense panel. With k scalar columns and r scalar rows
 * below them, its panel is ceil(k/4) groups of pivot rows followed by ceil(r/4) groups of rows below; a group is 4 rows
 * stored column by column (4k numbers), padded with zero rows. One group is thus one contiguous stream for the kernels.
 */
export interface Symbolic {
  readonly blockCount: number;
  readonly blockSize: 1 | 3;
  /** n: perm[new] = old block. */ readonly perm: Int32Array;
  readonly superCount: number;
  /** S+1: first new block column of each supernode. */ readonly superStart: Int32Array;
  /** S+1: where each supernode's rows start in `rows` and `relative`. */ readonly rowStart: Int32Array;
  /** New block rows below each supernode's pivots, increasing. */ readonly rows: Int32Array;
  /** The same rows as places in the parent's front (pivots first, then its own rows). */ readonly relative: Int32Array;
  /** S: parent supernode, -1 at a root. Children come before parents (postorder). */ readonly parent: Int32Array;
  /** S+1: children of s are childList[childStart[s] ..]. */ readonly childStart: Int32Array;
  readonly childList: Int32Array;
  /** S+1: where each panel starts in the factor's numbers. */ readonly panelStart: Int32Array;
  /** S+1: matrix blocks that enter each front. */ readonly entryStart: Int32Array;
  /** nnz: block number p in the pattern, or ~p when it enters transposed. */ readonly entryBlock: Int32Array;
  /** nnz: place in the front, pivots first. */ readonly entryRow: Int32Array;
  /** nnz: pivot column, counted from the supernode's first. */ readonly entryCol: Int32Array;
  /** S: where each update matrix waits for its parent. */ readonly updateStart: Int32Array;
  /** Numbers held by the waiting update matrices at their fullest. */ readonly updateSize: number;
  /** Numbers of the largest front's trailing square. */ readonly frontSize: number;
  /** Largest count of scalar rows below one supernode, rounded up to 4. */ readonly maxRows: number;
  /** Scalar nonzeros of L as stored (relaxation zeros counted, padding not). */ readonly factorNonzeros: number;
  /** Multiplications and additions of one factorisation, relaxation zeros counted. */ readonly flops: number;
}

/** Numbers of L and the work arrays; reuse it from one factorisation to the next. All share one buffer. */
export interface Factor {
  /** Panels as laid out by Symbolic; the diagonal of L is stored as its reciprocal. */ readonly panels: Float64Array;
  /** Update matrices waiting for their parents, columns padded to a multiple of 4, lower triangles. */ readonly updates: Float64Array;
  /** Trailing square of the front at work, laid out like an update matrix. */ readonly front: Float64Array;
  /** The permuted right-hand side, then the solution. */ readonly work: Float64Array;
  /** maxRows + 4: rows of one supernode gathered. */ readonly gather: Float64Array;
  /** maxRows: where a child's rows land. */ readonly landing: Int32Array;
  /** WebAssembly kernels and what they need to know, where there are any. */ readonly simd: FactorSimd | undefined;
  /** -1, or the block (caller's numbering) where a pivot was not positive: L is then unusable. */ failedAt: number;
}

/** Copies of Symbolic's arrays in the memory of the kernels. */
interface FactorSimd {
  readonly kernels: SimdKernels;
  readonly superStart: Int32Array;
  readonly rowStart: Int32Array;
  readonly panelStart: Int32Array;
  readonly rows: Int32Array;
  readonly relative: Int32Array;
}
