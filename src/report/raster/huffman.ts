/** Prefix codes from how often each symbol stands: shortest codes to the commonest. Source: RFC 1951, 3.2.2. */

/**
 * Code lengths in bits by symbol, 0 for those that never stand; none longer than `most`. Where the best code has longer ones, the counts are evened
 * out until it has not: hardly longer, and simple. counts: how often each symbol stands.
 */
export function codeLengths(counts: ArrayLike<number>, most: number): Uint8Array {
  let weights = Array.from(counts);
  for (;;) {
    const lengths = lengthsOf(weights);
    if (lengths.every((l) => l <= most)) return lengths;
    weights = weights.map((w) => (w === 0 ? 0 : (w + 1) >> 1));
  }
}

function lengthsOf(weights: readonly number[]): Uint8Array {
  const lengths = new Uint8Array(weights.length);
  const leaves = weights.flatMap((w, symbol) => (w > 0 ? [symbol] : [])).sort((a, b) => weights[a]! - weights[b]! || a - b);
  if (leaves.length === 0) return lengths;
  if (leaves.length === 1) {
    lengths[leaves[0]!] = 1;
    return lengths;
  }
  // Two queues, both in rising weight: leaves, and the pairs as they are made. Nodes 0..n-1 are leaves.
  const n = leaves.length;
  const weight = leaves.map((s) => weights[s]!);
  const parent = new Int32Array(2 * n - 1);
  let leaf = 0;
  let pair = n;
  const take = (): number => (pair >= weight.length || (leaf < n && weight[leaf]! <= weight[pair]!) ? leaf++ : pair++);
  while (weight.length < 2 * n - 1) {
    const a = take();
    const b = take();
    parent[a] = parent[b] = weight.length;
    weight.push(weight[a]! + weight[b]!);
  }
  const depth = new Uint8Array(2 * n - 1);
  for (let i = 2 * n - 3; i >= 0; i--) depth[i] = depth[parent[i]!]! + 1;
  leaves.forEach((s, i) => {
    lengths[s] = depth[i]!;
  });
  return lengths;
}

/** The codes that belong to lengths, their bits turned round: deflate writes codes from their first bit on. */
export function codesOf(lengths: Uint8Array): Uint16Array {
  const codes = new Uint16Array(lengths.length);
  let code = 0;
  for (let bits = 1; bits <= 15; bits++) {
    for (let s = 0; s < lengths.length; s++) {
      if (lengths[s] !== bits) continue;
      let turned = 0;
      for (let k = 0; k < bits; k++) turned |= ((code >> k) & 1) << (bits - 1 - k);
      codes[s] = turned;
      code++;
    }
    code <<= 1;
  }
  return codes;
}
