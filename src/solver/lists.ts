/** Lists of lists: the items of i stand at start[i] .. start[i + 1] of `items`. */
export interface Lists {
  readonly start: Int32Array;
  readonly items: Int32Array;
}

/** The lists 0 .. count - 1 of what `each` adds, in the order in which it adds; it is gone through twice. */
export function lists(count: number, each: (add: (list: number, item: number) => void) => void): Lists {
  const start = new Int32Array(count + 1);
  each((i) => {
    start[i + 1] = start[i + 1]! + 1;
  });
  for (let i = 0; i < count; i++) start[i + 1] = start[i + 1]! + start[i]!;
  const items = new Int32Array(start[count]!),
    next = start.slice();
  each((i, item) => {
    items[next[i]!] = item;
    next[i] = next[i]! + 1;
  });
  return { start, items };
}
