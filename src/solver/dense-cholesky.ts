/** Cholesky factor of the symmetric matrix in the lower triangle of A (n x n, row by row), in place; false at a pivot that is not positive. For a handful of rows: sheets have sparse/. */
export function choleskyInPlace(A: Float64Array, n: number): boolean {
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let s = A[n * i + j]!;
      for (let k = 0; k < j; k++) s -= A[n * i + k]! * A[n * j + k]!;
      if (i === j) {
        if (!(s > 0)) return false;
        A[n * j + j] = Math.sqrt(s);
      } else A[n * i + j] = s / A[n * j + j]!;
    }
  }
  return true;
}

/** b = (L L^T)^-1 b for such a factor. Mutates b. */
export function choleskySolve(L: Float64Array, n: number, b: Float64Array): void {
  for (let j = 0; j < n; j++) {
    let s = b[j]!;
    for (let k = 0; k < j; k++) s -= L[n * j + k]! * b[k]!;
    b[j] = s / L[n * j + j]!;
  }
  for (let j = n - 1; j >= 0; j--) {
    let s = b[j]!;
    for (let k = j + 1; k < n; k++) s -= L[n * k + j]! * b[k]!;
    b[j] = s / L[n * j + j]!;
  }
}
