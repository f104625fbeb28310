/** What friction of one kind of contact remembers: each one's sideways stretch at the last commit by its key, m, and all positions then. */
export interface Slip {
  readonly memory: Map<number, readonly [number, number, number]>;
  readonly committed: Float64Array;
}

/** Replaces what was remembered; contacts not in `kept` are forgotten. x: positions the stretches belong to. Mutates slip. */
export function remember(slip: Slip, kept: Iterable<readonly [number, readonly [number, number, number]]>, x: Float64Array): void {
  const entries = [...kept];
  slip.memory.clear();
  for (const [key, e] of entries) slip.memory.set(key, e);
  slip.committed.set(x);
}
