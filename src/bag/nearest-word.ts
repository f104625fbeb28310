/** The known name that was probably meant, for "did you mean". */

/**
 * The name nearest to a mistyped one, or null when none is near. Case, spaces and hyphens do not count. A name begun or contained (three letters at
 * least) is nearer than any slip; else no slip is forgiven in W or D, one in a word of up to four letters, a third of its letters in a long one.
 */
export function nearestWord(word: string, known: Iterable<string>): string | null {
  const flat = (s: string) => s.toLowerCase().replace(/[\s_-]/g, '');
  const wanted = flat(word.slice(0, 60));
  const slips = wanted.length <= 2 ? 0 : wanted.length <= 4 ? 1 : Math.max(2, Math.floor(wanted.length / 3));
  let best: string | null = null;
  let least = slips + 0.75;
  for (const name of known) {
    const candidate = flat(name);
    const begun = wanted.length >= 3 && candidate !== wanted && candidate.includes(wanted);
    const far = Math.abs(candidate.length - wanted.length) > slips;
    const d = begun ? 0.5 : far ? Number.POSITIVE_INFINITY : editDistance(wanted, candidate);
    if (d < least) {
      least = d;
      best = name;
    }
  }
  return best;
}

/** Letters to insert, drop or change, or neighbours to swap, to turn a into b. Source: Damerau 1964, Levenshtein 1966 (from memory). */
export function editDistance(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) => [i, ...new Array<number>(b.length).fill(0)]);
  for (let j = 0; j <= b.length; j++) rows[0][j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      rows[i][j] = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) rows[i][j] = Math.min(rows[i][j], rows[i - 2][j - 2] + 1);
    }
  }
  return rows[a.length][b.length];
}
