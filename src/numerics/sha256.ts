/** Round constants: the first 32 bits of the fractional parts of the cube roots of the first 64 primes, and of the square roots of the first 8 (FIPS 180-4, 4.2.2 and 5.3.3). */
const PRIMES = (() => {
  const found: number[] = [];
  for (let n = 2; found.length < 64; n++) if (found.every((p) => n % p !== 0)) found.push(n);
  return found;
})();

/** floor(2^32 frac(p^(1/k))) in whole numbers: no rounding of a power decides a bit. */
function fraction(p: number, k: 2 | 3): number {
  const wanted = BigInt(p) << BigInt(32 * k);
  let [low, high] = [0n, 1n << 36n];
  while (high - low > 1n) {
    const mid = (low + high) >> 1n;
    if (mid * mid * (k === 3 ? mid : 1n) <= wanted) low = mid;
    else high = mid;
  }
  return Number(low & 0xffffffffn);
}

/** UTF-8 of a text (RFC 3629); half a surrogate pair becomes U+FFFD, as in every encoder of the web. */
function utf8(text: string): number[] {
  const out: number[] = [];
  for (const sign of text) {
    let c = sign.codePointAt(0)!;
    if (c >= 0xd800 && c < 0xe000) c = 0xfffd;
    if (c < 0x80) out.push(c);
    else if (c < 0x800) out.push(0xc0 | (c >> 6), 0x80 | (c & 63));
    else if (c < 0x10000) out.push(0xe0 | (c >> 12), 0x80 | ((c >> 6) & 63), 0x80 | (c & 63));
    else out.push(0xf0 | (c >> 18), 0x80 | ((c >> 12) & 63), 0x80 | ((c >> 6) & 63), 0x80 | (c & 63));
  }
  return out;
}

/** UTF-8 of a text, padded as the standard wants. */
function padded(text: string): Uint8Array {
  const own = utf8(text),
    out = new Uint8Array(64 * Math.ceil((own.length + 9) / 64)),
    view = new DataView(out.buffer);
  out.set(own);
  out[own.length] = 0x80;
  view.setUint32(out.length - 8, Math.floor(own.length / 0x20000000));
  view.setUint32(out.length - 4, (own.length * 8) >>> 0);
  return out;
}

const turn = (x: number, by: number): number => (x >>> by) | (x << (32 - by));

/** SHA-256 of a text's UTF-8, 64 hexadecimal digits. Source: FIPS 180-4 (2015), 6.2. */
export function sha256(text: string): string {
  const K = PRIMES.map((p) => fraction(p, 3)),
    H = Int32Array.from(PRIMES.slice(0, 8), (p) => fraction(p, 2)),
    bytes = padded(text),
    view = new DataView(bytes.buffer),
    w = new Int32Array(64);
  for (let at = 0; at < bytes.length; at += 64) {
    for (let i = 0; i < 16; i++) w[i] = view.getInt32(at + 4 * i);
    for (let i = 16; i < 64; i++) {
      const a = w[i - 15]!,
        b = w[i - 2]!;
      w[i] = w[i - 16]! + (turn(a, 7) ^ turn(a, 18) ^ (a >>> 3)) + w[i - 7]! + (turn(b, 17) ^ turn(b, 19) ^ (b >>> 10));
    }
    let [a, b, c, d, e, f, g, h] = H as unknown as [number, number, number, number, number, number, number, number];
    for (let i = 0; i < 64; i++) {
      const t1 = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + K[i]! + w[i]!) | 0,
        t2 = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
    }
    [a, b, c, d, e, f, g, h].forEach((v, i) => {
      H[i] = H[i]! + v;
    });
  }
  return Array.from(H, (v) => (v >>> 0).toString(16).padStart(8, '0')).join('');
}
