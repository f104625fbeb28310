import { type Kernel, times, when, whileLess } from './encode.ts';
import { add2, fadd, fmul, fsub, fzero, lane, load, load2, loadBoth, mul2, pair, store, store2, sub2, unpackHigh, unpackLow, zero2 } from './encode-floats.ts';
import { add, and, type Code, equal, get, i32, less, loadI32, mul, set, shl, shr, step, sub } from './encode-integers.ts';

// The sweeps of sweeps.ts over all panels at once, two numbers at a time, in the same order of operations.
// Parameters of every kernel: (supernodes, superStart, rowStart, panelStart, rows, panels, y, gather), addresses in bytes.

const [count, superStart, rowStart, panelStart, rows, panels, y, gather] = [0, 1, 2, 3, 4, 5, 6, 7];
const [s, k, pivots, stride, p, q, v, end, i, place, lastPlace, target, groups, g, at] = Array.from({ length: 15 }, (_, n) => 8 + n);
const INTS = 15;
const floats = 8 + INTS;
const FLOATS = 4;
const pairs = floats + FLOATS;
const PAIRS = 7;
const acc = pairs;
const both = pairs + 4;

const entry = (array: number, index: Code): Code => loadI32(add(get(array), shl(index, 2)));

/** Local addresses and sizes of supernode s. */
function openPanel(b: number): Code {
  const at3 = (index: Code): Code => (b === 3 ? mul(index, i32(3)) : index);
  return [
    set(k, at3(sub(loadI32(add(get(superStart), shl(get(s), 2)), 4), entry(superStart, get(s))))),
    set(pivots, add(get(y), shl(at3(entry(superStart, get(s))), 3))),
    set(stride, shl(get(k), 5)),
    set(p, add(get(panels), shl(entry(panelStart, get(s)), 3))),
    set(place, add(get(rows), shl(entry(rowStart, get(s)), 2))),
    set(lastPlace, add(get(rows), shl(loadI32(add(get(rowStart), shl(get(s), 2)), 4), 2))),
    // Row groups below the pivots: ceil(b * blocks / 4).
    set(groups, shr(add(at3(shr(sub(get(lastPlace), get(place)), 2)), i32(3)), 2)),
  ];
}

/** acc + 2 n, acc + 2 n + 1 += the row group n strides after q, times y, for y addresses v .. end. */
function dots(n: number): Code {
  return [
    times(2 * n, (j) => set(acc + j, zero2)),
    n === 2 ? set(at, add(get(q), get(stride))) : [],
    whileLess(
      v,
      get(end),
      [set(both, loadBoth(get(v))), times(2 * n, (j) => set(acc + j, add2(get(acc + j), mul2(load2(get(j < 2 ? q : at), 16 * (j & 1)), get(both)))))],
      [step(v, i32(8)), step(q, i32(32)), n === 2 ? step(at, i32(32)) : []],
    ),
  ];
}

/** Solves the `width` unknowns at v with the diagonal tile at q; what the columns before contribute is in acc, acc + 1. */
function forwardTile(width: number): Code {
  return times(width, (r) => [
    set(floats + r, fsub(load(get(v), 8 * r), lane(get(acc + (r >> 1)), r & 1))),
    times(r, (c) => set(floats + r, fsub(get(floats + r), fmul(load(get(q), 32 * c + 8 * r), get(floats + c))))),
    set(floats + r, fmul(get(floats + r), load(get(q), 40 * r))),
    store(get(v), get(floats + r), 8 * r),
  ]);
}

function forward(b: 1 | 3): Kernel {
  const columns = (to: Code): Code => [set(v, get(pivots)), set(end, add(get(pivots), to)), set(q, get(p))];
  const below = (n: number): Code => [
    columns(shl(get(k), 3)),
    dots(n),
    times(2 * n, (j) => store2(get(g), get(acc + j), 16 * j)),
    step(g, i32(32 * n)),
    step(p, n === 2 ? shl(get(stride), 1) : get(stride)),
  ];
  const body: Code = [
    set(s, i32(0)),
    whileLess(
      s,
      get(count),
      [
        openPanel(b),
        set(i, i32(0)),
        whileLess(i, and(get(k), -4), [columns(shl(get(i), 3)), dots(1), forwardTile(4)], [step(i, i32(4)), step(p, get(stride))]),
        when(and(get(k), 3), [
          columns(shl(get(i), 3)),
          dots(1),
          times(3, (w) => when(equal(and(get(k), 3), i32(w + 1)), forwardTile(w + 1))),
          step(p, get(stride)),
        ]),
        set(g, get(gather)),
        set(i, i32(1)),
        whileLess(i, get(groups), below(2), step(i, i32(2))),
        when(and(get(groups), 1), below(1)),
        set(g, get(gather)),
        whileLess(
          place,
          get(lastPlace),
          [
            set(target, add(get(y), mul(loadI32(get(place)), i32(8 * b)))),
            b === 3 ? store2(get(target), sub2(load2(get(target)), load2(get(g)))) : [],
            store(get(target), fsub(load(get(target), 8 * (b - 1)), load(get(g), 8 * (b - 1))), 8 * (b - 1)),
          ],
          [step(place, i32(4)), step(g, i32(8 * b))],
        ),
      ],
      step(s, i32(1)),
    ),
  ];
  return { name: `forward${b}`, params: 8, ints: INTS, floats: FLOATS, pairs: PAIRS, returns: false, body };
}

/** y at v .. end -= n row groups at q (transposed) times the numbers in acc ..; two columns a turn, so that lanes add up in pairs. */
function subtractTransposed(n: number): Code {
  const [t0, t1] = [both, both + 1];
  const column = (into: number, offset: number): Code => [
    set(into, mul2(load2(get(q), offset), get(acc))),
    set(into, add2(get(into), mul2(load2(get(q), offset + 16), get(acc + 1)))),
    n === 2
      ? [set(into, add2(get(into), mul2(load2(get(at), offset), get(acc + 2)))), set(into, add2(get(into), mul2(load2(get(at), offset + 16), get(acc + 3))))]
      : [],
  ];
  return [
    n === 2 ? set(at, add(get(q), get(stride))) : [],
    whileLess(
      v,
      sub(get(end), i32(8)),
      [column(t0, 0), column(t1, 32), store2(get(v), sub2(load2(get(v)), add2(unpackLow(get(t0), get(t1)), unpackHigh(get(t0), get(t1)))))],
      [step(v, i32(16)), step(q, i32(64)), n === 2 ? step(at, i32(64)) : []],
    ),
    when(less(get(v), get(end)), [column(t0, 0), store(get(v), fsub(load(get(v)), fadd(lane(get(t0), 0), lane(get(t0), 1))))]),
  ];
}

/** Solves the `width` unknowns at i with the transposed diagonal tile at q, and leaves them in acc, acc + 1. */
function backwardTile(width: number): Code {
  return [
    times(4 - width, (n) => set(floats + 3 - n, fzero)),
    times(width, (n) => {
      const c = width - 1 - n;
      return [
        set(floats + c, load(get(v), 8 * c)),
        times(width - 1 - c, (m) => set(floats + c, fsub(get(floats + c), fmul(load(get(q), 32 * c + 8 * (c + 1 + m)), get(floats + c + 1 + m))))),
        set(floats + c, fmul(get(floats + c), load(get(q), 40 * c))),
        store(get(v), get(floats + c), 8 * c),
      ];
    }),
    set(acc, pair(get(floats), get(floats + 1))),
    set(acc + 1, pair(get(floats + 2), get(floats + 3))),
  ];
}

function backward(b: 1 | 3): Kernel {
  const below = (n: number): Code => [
    set(v, get(pivots)),
    set(end, add(get(pivots), shl(get(k), 3))),
    set(q, get(p)),
    times(2 * n, (j) => set(acc + j, load2(get(g), 16 * j))),
    subtractTransposed(n),
    step(g, i32(32 * n)),
    step(p, n === 2 ? shl(get(stride), 1) : get(stride)),
  ];
  // p is the row group of pivots i ..; its diagonal tile is 32 i bytes in.
  const pivotGroup = (width: number): Code => [
    set(q, add(get(p), shl(get(i), 5))),
    set(v, add(get(pivots), shl(get(i), 3))),
    set(end, get(v)),
    backwardTile(width),
    set(v, get(pivots)),
    set(q, get(p)),
    subtractTransposed(1),
  ];
  const body: Code = [
    set(s, sub(get(count), i32(1))),
    whileLess(
      s,
      get(count),
      [
        openPanel(b),
        set(target, get(p)),
        set(p, add(get(p), mul(shr(add(get(k), i32(3)), 2), get(stride)))),
        set(g, get(gather)),
        whileLess(
          place,
          get(lastPlace),
          [
            set(at, add(get(y), mul(loadI32(get(place)), i32(8 * b)))),
            b === 3 ? store2(get(g), load2(get(at))) : [],
            store(get(g), load(get(at), 8 * (b - 1)), 8 * (b - 1)),
          ],
          [step(place, i32(4)), step(g, i32(8 * b))],
        ),
        store2(get(g), zero2),
        store(get(g), fzero, 16),
        set(g, get(gather)),
        set(i, i32(1)),
        whileLess(i, get(groups), below(2), step(i, i32(2))),
        when(and(get(groups), 1), below(1)),
        set(i, and(get(k), -4)),
        set(p, add(get(target), mul(shr(get(k), 2), get(stride)))),
        times(3, (w) => when(equal(and(get(k), 3), i32(w + 1)), pivotGroup(w + 1))),
        set(i, sub(get(i), i32(4))),
        set(p, sub(get(p), get(stride))),
        whileLess(i, get(k), pivotGroup(4), [step(i, i32(-4)), set(p, sub(get(p), get(stride)))]),
      ],
      step(s, i32(-1)),
    ),
  ];
  return { name: `backward${b}`, params: 8, ints: INTS, floats: FLOATS, pairs: PAIRS, returns: false, body };
}

export function sweepKernels(): Kernel[] {
  return [forward(1), forward(3), backward(1), backward(3)];
}
