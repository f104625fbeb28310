import type { Work } from '../work.ts';

/**
 * A sparse matrix by rows (CSR): the columns of row i stand, rising, at start[i] .. start[i + 1] of `column`, their numbers in `value`. For `times` every row is
 * filled up with zeros (of column 0) to a multiple of PAD entries: as many angles or condensed unknowns meet in two triangles that share an edge, and the loop over five at a time takes half the time.
 */
export interface Rows {
  readonly count: number;
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly value: Float64Array;
}

const PAD = 5;

/** Entries (row, column, number) on their way into rows; room for `most` of them. */
export interface Entries {
  add(row: number, column: number, number: number): void;
  /** In steps. Entries of one place add up, in the order they came. pad: what each row's length is filled up to a multiple of; default PAD. */
  rows(count: number, pad?: number): Work<Rows>;
}

export function entries(most: number): Entries {
  const row = new Int32Array(most),
    column = new Int32Array(most),
    number = new Float64Array(most);
  let n = 0;
  return {
    add(i, j, v) {
      row[n] = i;
      column[n] = j;
      number[n++] = v;
    },
    rows: (count, pad = PAD) => gathered(count, pad, row.subarray(0, n), column, number),
  };
}

/** Rows made in one go. */
const SLICE = 4000;

function* gathered(count: number, pad: number, row: Int32Array, columnOf: Int32Array, number: Float64Array): Work<Rows> {
  const next = new Int32Array(count + 1);
  for (let e = 0; e < row.length; e++) next[row[e]! + 1] = next[row[e]! + 1]! + 1;
  for (let i = 0; i < count; i++) next[i + 1] = next[i + 1]! + next[i]!;
  const byRow = new Int32Array(row.length),
    from = next.slice();
  for (let e = 0; e < row.length; e++) {
    byRow[next[row[e]!]!] = e;
    next[row[e]!] = next[row[e]!]! + 1;
  }
  const most = row.length + pad * count,
    start = new Int32Array(count + 1),
    column = new Int32Array(most),
    value = new Float64Array(most);
  let end = 0;
  const fill = (first: number, last: number): void => {
    for (let i = first; i < last; i++) {
      for (let f = from[i]!; f < from[i + 1]!; f++) {
        const e = byRow[f]!,
          j = columnOf[e]!;
        // Rows are short: the place is found from the end.
        let at = end;
        while (at > start[i]! && column[at - 1]! > j) at--;
        if (at > start[i]! && column[at - 1] === j) value[at - 1] = value[at - 1]! + number[e]!;
        else {
          // A few entries: a call for moving them costs more than moving them one by one.
          for (let k = end; k > at; k--) {
            column[k] = column[k - 1]!;
            value[k] = value[k - 1]!;
          }
          column[at] = j;
          value[at] = number[e]!;
          end++;
        }
      }
      for (; (end - start[i]!) % pad !== 0; end++) column[end] = value[end] = 0;
      start[i + 1] = end;
    }
  };
  for (let i = 0; i < count; i += SLICE) {
    yield;
    fill(i, Math.min(count, i + SLICE));
  }
  return { count, start, column: column.slice(0, start[count]), value: value.slice(0, start[count]) };
}

/** The transpose, `columns` its number of rows. */
export function* transposed(a: Rows, columns: number): Work<Rows> {
  const to = entries(a.value.length);
  for (let i = 0; i < a.count; i++) for (let p = a.start[i]!; p < a.start[i + 1]!; p++) if (a.value[p] !== 0) to.add(a.column[p]!, i, a.value[p]!);
  return yield* to.rows(columns);
}

/** out = factor A x; out: at least `count` numbers, not the same array as x. */
export function times(a: Rows, factor: number, x: Float64Array, out: Float64Array): void {
  const { count, start, column, value } = a;
  for (let i = 0, p = 0; i < count; i++) {
    let sum = 0;
    for (const end = start[i + 1]!; p < end; p += PAD)
      sum +=
        value[p]! * x[column[p]!]! +
        value[p + 1]! * x[column[p + 1]!]! +
        (value[p + 2]! * x[column[p + 2]!]! + value[p + 3]! * x[column[p + 3]!]!) +
        value[p + 4]! * x[column[p + 4]!]!;
    out[i] = factor * sum;
  }
}
