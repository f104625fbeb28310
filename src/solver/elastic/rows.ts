/**
 * A sparse matrix by rows: the columns of row i stand, rising, at start[i] .. start[i + 1] of `column`, their numbers in `value`. Every row is filled up with
 * zeros (of column 0) to a multiple of FIVE entries: as many angles or slaves meet in two triangles that share an edge, and the loop over five at a time takes half the time.
 */
export interface Rows {
  readonly count: number;
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly value: Float64Array;
}

const FIVE = 5;

/** Gathers entries (row, column, number) into rows; entries of one place add up, in the order they came. */
export function rowsOf(count: number, rows: readonly number[], columns: readonly number[], numbers: readonly number[]): Rows {
  const first = new Int32Array(count + 1);
  for (const i of rows) first[i + 1] = first[i + 1]! + 1;
  for (let i = 0; i < count; i++) first[i + 1] = first[i + 1]! + first[i]!;
  const next = first.slice(0, count),
    byRow = new Int32Array(rows.length);
  rows.forEach((i, e) => {
    byRow[next[i]!] = e;
    next[i] = next[i]! + 1;
  });
  const start = new Int32Array(count + 1),
    column: number[] = [],
    value: number[] = [];
  for (let i = 0; i < count; i++) {
    for (let k = first[i]!; k < first[i + 1]!; k++) {
      const j = columns[byRow[k]!]!,
        v = numbers[byRow[k]!]!;
      // Rows are short: the place is found from the end.
      let at = column.length;
      while (at > start[i]! && column[at - 1]! > j) at--;
      if (at > start[i]! && column[at - 1] === j) value[at - 1] = value[at - 1]! + v;
      else {
        column.splice(at, 0, j);
        value.splice(at, 0, v);
      }
    }
    while ((column.length - start[i]!) % FIVE !== 0) {
      column.push(0);
      value.push(0);
    }
    start[i + 1] = column.length;
  }
  return { count, start, column: Int32Array.from(column), value: Float64Array.from(value) };
}

/** The transpose, `columns` its number of rows. */
export function transposed(a: Rows, columns: number): Rows {
  const rows: number[] = [],
    cols: number[] = [],
    numbers: number[] = [];
  for (let i = 0; i < a.count; i++)
    for (let p = a.start[i]!; p < a.start[i + 1]!; p++) {
      if (a.value[p] === 0) continue;
      rows.push(a.column[p]!);
      cols.push(i);
      numbers.push(a.value[p]!);
    }
  return rowsOf(columns, rows, cols, numbers);
}

/** out = factor A x; out: at least `count` numbers, not the same array as x. */
export function times(a: Rows, factor: number, x: Float64Array, out: Float64Array): void {
  const { count, start, column, value } = a;
  for (let i = 0, p = 0; i < count; i++) {
    let sum = 0;
    for (const end = start[i + 1]!; p < end; p += FIVE)
      sum +=
        value[p]! * x[column[p]!]! +
        value[p + 1]! * x[column[p + 1]!]! +
        (value[p + 2]! * x[column[p + 2]!]! + value[p + 3]! * x[column[p + 3]!]!) +
        value[p + 4]! * x[column[p + 4]!]!;
    out[i] = factor * sum;
  }
}
