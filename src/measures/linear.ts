/**
 * Small dense linear algebra for measuring: 3x3 and 4x4 symmetric eigenproblems, least squares with a handful of unknowns.
 * Nothing here is in a hot loop, so clarity wins over speed.
 */

/**
 * Eigenvalues (ascending) and eigenvectors of a symmetric n x n matrix given by rows; vectors[k] belongs to values[k], unit length.
 * Formula: cyclic Jacobi rotations until the off-diagonal vanishes to 1e-30 of the trace squared. Source: Golub and Van Loan, 8.5 (from memory).
 * Deterministic: the same input gives the same signs; callers that need a sign must choose it themselves.
 */
export function symmetricEigen(rows: readonly (readonly number[])[]): { values: number[]; vectors: number[][] } {
  const n = rows.length;
  const a = rows.map((r) => r.slice());
  const v = rows.map((_, i) => rows.map((_, j) => (i === j ? 1 : 0)));
  let scale = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) scale += a[i][j] * a[i][j];
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) off += a[i][j] * a[i][j];
    if (off <= 1e-30 * scale) break;
    for (let p = 0; p < n - 1; p++) for (let q = p + 1; q < n; q++) rotate(a, v, p, q);
  }
  const order = rows.map((_, i) => i).sort((i, j) => a[i][i] - a[j][j] || i - j);
  return { values: order.map((i) => a[i][i]), vectors: order.map((i) => v.map((row) => row[i])) };
}

function rotate(a: number[][], v: number[][], p: number, q: number): void {
  const apq = a[p][q];
  if (apq === 0) return;
  const theta = (a[q][q] - a[p][p]) / (2 * apq);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < a.length; k++) {
    const kp = a[k][p];
    const kq = a[k][q];
    a[k][p] = c * kp - s * kq;
    a[k][q] = s * kp + c * kq;
  }
  for (let k = 0; k < a.length; k++) {
    const pk = a[p][k];
    const qk = a[q][k];
    a[p][k] = c * pk - s * qk;
    a[q][k] = s * pk + c * qk;
    const vp = v[k][p];
    const vq = v[k][q];
    v[k][p] = c * vp - s * vq;
    v[k][q] = s * vp + c * vq;
  }
}

/**
 * Solution of the normal equations N x = b by elimination with partial pivoting, or null when N is singular
 * (pivot under 1e-12 of its column's largest entry): the caller then leaves the point out. N and b are overwritten.
 */
function solveSmall(N: number[][], b: number[]): number[] | null {
  const n = b.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(N[i][k]) > Math.abs(N[pivot][k])) pivot = i;
    const largest = Math.max(...N[pivot].map(Math.abs));
    if (!(Math.abs(N[pivot][k]) > 1e-12 * largest)) return null;
    [N[k], N[pivot]] = [N[pivot], N[k]];
    [b[k], b[pivot]] = [b[pivot], b[k]];
    for (let i = k + 1; i < n; i++) {
      const f = N[i][k] / N[k][k];
      for (let j = k; j < n; j++) N[i][j] -= f * N[k][j];
      b[i] -= f * b[k];
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) b[k] -= N[k][j] * b[j];
    b[k] /= N[k][k];
  }
  return b;
}

/** Normal equations of a least-squares fit with n unknowns, gathered sample by sample. */
export interface NormalEquations {
  /** One sample: its basis values f_k (n), the value, and its weight. */
  add(row: ArrayLike<number>, value: number, weight?: number): void;
  /** Coefficients, or null when the samples cannot carry them; once only. */
  solved(): number[] | null;
}

export function normalEquations(n: number): NormalEquations {
  const N = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const b = new Array<number>(n).fill(0);
  return {
    add(row, value, w = 1) {
      for (let i = 0; i < n; i++) {
        const wi = w * row[i],
          Ni = N[i];
        b[i] += wi * value;
        for (let j = 0; j < n; j++) Ni[j] += wi * row[j];
      }
    },
    solved: () => (n === 0 ? null : solveSmall(N, b)),
  };
}

/**
 * Coefficients of the least-squares fit sum_k c_k f_k to samples, weights w; null when the samples cannot carry it.
 * rows: one row of basis values f_k per sample.
 */
export function leastSquares(rows: readonly (readonly number[])[], values: readonly number[], weights?: readonly number[]): number[] | null {
  const fit = normalEquations(rows[0]?.length ?? 0);
  rows.forEach((row, s) => {
    fit.add(row, values[s], weights?.[s]);
  });
  return fit.solved();
}
