import { type Kernel, result, times, when, whileLess } from './encode.ts';
import { fdiv, fmul, fsqrt, fsub, load, load2, loadBoth, mul2, one, positive, store, store2, sub2, zero2 } from './encode-floats.ts';
import { add, and, type Code, equal, get, i32, mul, not, set, shl, shr, step } from './encode-integers.ts';

// The kernels of dense.ts, two numbers at a time. Lanes are rows, so every entry goes through the same operations in the
// same order as there, and the bytes of the factor are the same. Addresses and strides are in bytes.
//
// A 4 x 4 tile is 8 pairs of accumulators: with two pairs of A and one of B it just fits the 16 registers of SSE2.
// Unrolling over columns made it 1.5 times slower (spills), a 4 x 2 tile 1.6 times (loads).

/** C - A B^T for 4 rows and `width` columns, in the accumulators; loads them from `from` unless it starts at zero. */
interface Tile {
  readonly acc: number;
  readonly a: number;
  readonly b: number;
  readonly p: number;
  readonly q: number;
  readonly column: number;
}

function loadTile(t: Tile, from: number, columnBytes: Code, width: number): Code {
  return [
    set(t.column, get(from)),
    times(width, (j) => [j > 0 ? step(t.column, columnBytes) : [], set(t.acc + 2 * j, load2(get(t.column))), set(t.acc + 2 * j + 1, load2(get(t.column), 16))]),
  ];
}

function storeTile(t: Tile, to: number, columnBytes: Code, width: number): Code {
  return [
    set(t.column, get(to)),
    times(width, (j) => [
      j > 0 ? step(t.column, columnBytes) : [],
      store2(get(t.column), get(t.acc + 2 * j)),
      store2(get(t.column), get(t.acc + 2 * j + 1), 16),
    ]),
  ];
}

/** Subtracts A B^T: row groups from p up to `end`, and from q. */
function subtractProduct(t: Tile, end: number, width: number): Code {
  const body = [
    set(t.a, load2(get(t.p))),
    set(t.a + 1, load2(get(t.p), 16)),
    times(width, (j) => [
      set(t.b, loadBoth(get(t.q), 8 * j)),
      set(t.acc + 2 * j, sub2(get(t.acc + 2 * j), mul2(get(t.a), get(t.b)))),
      set(t.acc + 2 * j + 1, sub2(get(t.acc + 2 * j + 1), mul2(get(t.a + 1), get(t.b)))),
    ]),
  ];
  return whileLess(t.p, get(end), body, [step(t.p, i32(32)), step(t.q, i32(32))]);
}

/** X L^T = T in the accumulators, L the diagonal tile at `diagonal` with reciprocals on its diagonal. */
function solveTile(t: Tile, diagonal: number, width: number): Code {
  return times(width, (j) => {
    const both = (op: (half: number) => Code): Code => [op(0), op(1)];
    const own = t.acc + 2 * j;
    return [
      times(j, (c) => [
        set(t.b, loadBoth(get(diagonal), 32 * c + 8 * j)),
        both((h) => set(own + h, sub2(get(own + h), mul2(get(t.acc + 2 * c + h), get(t.b))))),
      ]),
      set(t.b, loadBoth(get(diagonal), 40 * j)),
      both((h) => set(own + h, mul2(get(own + h), get(t.b)))),
    ];
  });
}

/** Cholesky of the diagonal tile at `diagonal`; leaves the kernel with `column` + j when pivot j is not positive. */
function factorTile(diagonal: number, floats: number, column: Code, width: number): Code {
  // floats + 4 c + i holds L_ic.
  const l = (i: number, c: number): number => floats + 4 * c + i;
  return times(width, (j) => [
    set(l(j, j), load(get(diagonal), 40 * j)),
    times(j, (c) => set(l(j, j), fsub(get(l(j, j)), fmul(get(l(j, c)), get(l(j, c)))))),
    when(not(positive(get(l(j, j)))), result(add(column, i32(j)))),
    set(l(j, j), fdiv(one, fsqrt(get(l(j, j))))),
    store(get(diagonal), get(l(j, j)), 40 * j),
    times(width - j - 1, (k) => {
      const i = j + 1 + k;
      return [
        set(l(i, j), load(get(diagonal), 32 * j + 8 * i)),
        times(j, (c) => set(l(i, j), fsub(get(l(i, j)), fmul(get(l(i, c)), get(l(j, c)))))),
        set(l(i, j), fmul(get(l(i, j)), get(l(j, j)))),
        store(get(diagonal), get(l(i, j)), 32 * j + 8 * i),
      ];
    }),
  ]);
}

/** eliminate(base, k, pivotGroups, groups, front, update, columnBytes, fresh): -1, or the pivot column that failed. */
export function eliminate(): Kernel {
  const [base, k, pivotGroups, groups, front, update, columnBytes, fresh] = [0, 1, 2, 3, 4, 5, 6, 7];
  const [stride, I, J, rowI, rowJ, tileI, diagonal, end, c, d, last, limit, p, q, column] = [8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22];
  const floats = 23;
  const t: Tile = { p, q, column, acc: floats + 16, a: floats + 24, b: floats + 26 };
  const reach = (row: number, length: Code): Code => [set(p, get(row)), set(q, get(rowJ)), set(end, add(get(row), length))];

  const pivotColumn = (width: number): Code => [
    // The diagonal tile first, then every row group below it.
    reach(rowJ, shl(get(J), 7)),
    loadTile(t, diagonal, i32(32), width),
    subtractProduct(t, end, width),
    storeTile(t, diagonal, i32(32), width),
    factorTile(diagonal, floats, shl(get(J), 2), width),
    set(I, add(get(J), i32(1))),
    set(rowI, add(get(rowJ), get(stride))),
    whileLess(
      I,
      get(groups),
      [
        reach(rowI, shl(get(J), 7)),
        set(tileI, get(end)),
        loadTile(t, tileI, i32(32), width),
        subtractProduct(t, end, width),
        solveTile(t, diagonal, width),
        storeTile(t, tileI, i32(32), width),
      ],
      [step(I, i32(1)), step(rowI, get(stride))],
    ),
  ];

  const trailing = (zero: boolean): Code => [
    set(J, get(pivotGroups)),
    set(c, get(front)),
    set(last, get(update)),
    set(rowJ, add(get(base), mul(get(pivotGroups), get(stride)))),
    whileLess(
      J,
      get(groups),
      [
        set(I, get(J)),
        set(rowI, get(rowJ)),
        set(d, get(last)),
        set(limit, get(c)),
        whileLess(
          I,
          get(groups),
          [
            zero ? times(8, (i) => set(t.acc + i, zero2)) : loadTile(t, limit, get(columnBytes), 4),
            reach(rowI, get(stride)),
            subtractProduct(t, end, 4),
            storeTile(t, d, get(columnBytes), 4),
          ],
          [step(I, i32(1)), step(rowI, get(stride)), step(limit, i32(32)), step(d, i32(32))],
        ),
      ],
      // The next diagonal tile is four columns to the right and four rows down.
      [step(J, i32(1)), step(rowJ, get(stride)), step(c, add(shl(get(columnBytes), 2), i32(32))), step(last, add(shl(get(columnBytes), 2), i32(32)))],
    ),
  ];

  const body: Code = [
    set(stride, shl(get(k), 5)),
    set(rowJ, get(base)),
    set(J, i32(0)),
    whileLess(J, shr(get(k), 2), [set(diagonal, add(get(rowJ), shl(get(J), 7))), pivotColumn(4)], [step(J, i32(1)), step(rowJ, get(stride))]),
    set(diagonal, add(get(rowJ), shl(get(J), 7))),
    times(3, (w) => when(equal(and(get(k), 3), i32(w + 1)), pivotColumn(w + 1))),
    when(get(fresh), trailing(true)),
    when(not(get(fresh)), trailing(false)),
    i32(-1),
  ];
  return { name: 'eliminate', params: 8, ints: 15, floats: 16, pairs: 11, returns: true, body };
}
