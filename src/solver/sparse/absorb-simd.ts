import { type Kernel, times, when, whileLess } from './encode.ts';
import { add2, fadd, load, load2, store, store2 } from './encode-floats.ts';
import { add, and, type Code, get, i32, less, loadI32, mul, not, set, shl, shr, step, storeI32, sub } from './encode-integers.ts';

/**
 * absorb(update, childBytes, relative, blocks, kBlocks, base, k, front, columnBytes, landing): adds a child's update to its
 * parent's panel and front. `landing` is scratch for b * blocks integers.
 */
export function absorb(b: 1 | 3): Kernel {
  const [update, childBytes, relative, blocks, kBlocks, base, k, front, columnBytes, landing] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
  const [stride, at, row, place, i, j, pivots, s0, s1, s2, to, to1, to2, shift, source, end] = Array.from({ length: 16 }, (_, n) => 10 + n);
  const addTo = (target: number, offset: number, from: number, fromOffset: number): Code =>
    store(get(target), fadd(load(get(target), offset), load(get(from), fromOffset)), offset);
  const add2To = (target: number, from: number): Code => store2(get(target), add2(load2(get(target)), load2(get(from))));
  const sources = b === 3 ? [s0, s1, s2] : [s0];
  const targets = b === 3 ? [to, to1, to2] : [to];
  const scaled = (local: number): Code => (b === 3 ? mul(get(local), i32(3)) : get(local));
  const nextColumns: Code = [step(j, i32(1)), step(source, b === 3 ? add(mul(get(childBytes), i32(3)), i32(24)) : add(get(childBytes), i32(8)))];
  const startColumns: Code = [set(s0, get(source)), b === 3 ? [set(s1, add(get(s0), get(childBytes))), set(s2, add(get(s1), get(childBytes)))] : []];
  const nextRows: Code = sources.flatMap((s) => step(s, i32(8 * b)));
  const body: Code = [
    set(stride, shl(get(k), 5)),
    // Where each row starts in the panel: pivots first, then a new row group for the rows below.
    set(i, i32(0)),
    set(place, get(landing)),
    whileLess(
      i,
      get(blocks),
      [
        set(at, loadI32(add(get(relative), shl(get(i), 2)))),
        set(row, scaled(at)),
        when(less(get(at), get(kBlocks)), set(pivots, add(get(i), i32(1)))),
        when(not(less(get(at), get(kBlocks))), step(row, sub(and(add(get(k), i32(3)), -4), get(k)))),
        times(b, (n) => [storeI32(get(place), add(get(base), add(mul(shr(get(row), 2), get(stride)), shl(and(get(row), 3), 3))), 4 * n), step(row, i32(1))]),
        step(place, i32(4 * b)),
      ],
      step(i, i32(1)),
    ),
    set(j, i32(0)),
    set(source, get(update)),
    whileLess(
      j,
      get(pivots),
      [
        startColumns,
        set(shift, mul(loadI32(add(get(relative), shl(get(j), 2))), i32(32 * b))),
        set(place, add(get(landing), mul(get(j), i32(4 * b)))),
        set(end, add(get(landing), mul(get(blocks), i32(4 * b)))),
        // Diagonal block: its lower triangle only, what lies above is not computed.
        times(b, (r) => [set(to, add(loadI32(get(place), 4 * r), get(shift))), times(r + 1, (c) => addTo(to, 32 * c, sources[c], 8 * r))]),
        nextRows,
        step(place, i32(4 * b)),
        whileLess(
          place,
          get(end),
          times(b, (r) => [set(to, add(loadI32(get(place), 4 * r), get(shift))), times(b, (c) => addTo(to, 32 * c, sources[c], 8 * r))]),
          [nextRows, step(place, i32(4 * b))],
        ),
      ],
      nextColumns,
    ),
    // Rows below the parent's pivots: byte offsets within a front column.
    set(i, get(pivots)),
    whileLess(
      i,
      get(blocks),
      storeI32(add(get(landing), shl(get(i), 2)), mul(sub(loadI32(add(get(relative), shl(get(i), 2))), get(kBlocks)), i32(8 * b))),
      step(i, i32(1)),
    ),
    set(end, add(get(landing), shl(get(blocks), 2))),
    whileLess(
      j,
      get(blocks),
      [
        startColumns,
        set(place, add(get(landing), shl(get(j), 2))),
        // Row offset / 8 = column number.
        set(shift, add(get(front), mul(shr(loadI32(get(place)), 3), get(columnBytes)))),
        set(to, add(get(shift), loadI32(get(place)))),
        b === 3 ? [set(to1, add(get(to), get(columnBytes))), set(to2, add(get(to1), get(columnBytes)))] : [],
        times(b, (c) => times(b - c, (r) => addTo(targets[c], 8 * (c + r), sources[c], 8 * (c + r)))),
        nextRows,
        step(place, i32(4)),
        whileLess(
          place,
          get(end),
          [
            set(to, add(get(shift), loadI32(get(place)))),
            b === 3 ? [set(to1, add(get(to), get(columnBytes))), set(to2, add(get(to1), get(columnBytes)))] : [],
            times(b, (c) => (b === 3 ? [add2To(targets[c], sources[c]), addTo(targets[c], 16, sources[c], 16)] : addTo(targets[c], 0, sources[c], 0))),
          ],
          [nextRows, step(place, i32(4))],
        ),
      ],
      nextColumns,
    ),
  ];
  return { name: `absorb${b}`, params: 10, ints: 16, floats: 0, pairs: 0, returns: false, body };
}
