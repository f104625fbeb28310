/** Are two plain values (numbers, strings, lists, records, typed arrays) the same to the last bit? NaN is like NaN; functions only where they are one. */
export function alike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null || a.constructor !== b.constructor) return false;
  if (ArrayBuffer.isView(a) || Array.isArray(a)) {
    const [p, q] = [a as ArrayLike<unknown>, b as ArrayLike<unknown>];
    if (p.length !== q.length) return false;
    for (let i = 0; i < p.length; i++) if (!alike(p[i], q[i])) return false;
    return true;
  }
  const [own, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(own);
  return keys.length === Object.keys(other).length && keys.every((k) => k in other && alike(own[k], other[k]));
}
