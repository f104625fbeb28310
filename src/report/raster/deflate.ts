import { codeLengths, codesOf } from './huffman.ts';

/** Compression of pictures, our own because a report is made where there is neither a browser nor node. Source of the format: RFC 1950, RFC 1951. */

const LONGEST = 258;
const WINDOW = 32768;
const HASH_BITS = 15;
/** Earlier places looked at for one match: more finds little in pictures. */
const CHAIN = 12;

/** First length or distance of each code, and its extra bits. Source: RFC 1951, 3.2.5. */
const LENGTH_BASE = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
const LENGTH_EXTRA = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const REACH_BASE = [
  ...[1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769],
  ...[1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577],
];
const REACH_EXTRA = REACH_BASE.map((_, i) => (i < 2 ? 0 : (i >> 1) - 1));
/** Order in which the lengths of the code lengths' own code are written. */
const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

const lastAtMost = (base: readonly number[], v: number): number => {
  let at = base.length - 1;
  while (base[at]! > v) at--;
  return at;
};
const LENGTH_CODE = Uint8Array.from({ length: LONGEST + 1 }, (_, l) => (l < 3 ? 0 : lastAtMost(LENGTH_BASE, l)));

class Bits {
  private bytes = new Uint8Array(1 << 16);
  private size = 0;
  private held = 0;
  private count = 0;

  put(value: number, bits: number): void {
    this.held |= value << this.count;
    this.count += bits;
    while (this.count >= 8) {
      this.byte(this.held & 255);
      this.held >>>= 8;
      this.count -= 8;
    }
  }

  byte(value: number): void {
    if (this.size === this.bytes.length) {
      const more = new Uint8Array(2 * this.size);
      more.set(this.bytes);
      this.bytes = more;
    }
    this.bytes[this.size++] = value;
  }

  done(): Uint8Array {
    if (this.count > 0) this.byte(this.held & 255);
    this.held = this.count = 0;
    return this.bytes.slice(0, this.size);
  }
}

/** Literals as they stand; a match as its length (high 16 bits) and distance less one (low), less than zero by its top bit. */
function tokensOf(data: Uint8Array): Int32Array {
  const tokens = new Int32Array(data.length);
  const head = new Int32Array(1 << HASH_BITS).fill(-1);
  const before = new Int32Array(WINDOW);
  let made = 0;
  const hash = (i: number): number => (Math.imul(data[i]! | (data[i + 1]! << 8) | (data[i + 2]! << 16), 0x9e3779b1) >>> (32 - HASH_BITS)) | 0;
  const note = (i: number): void => {
    if (i + 2 >= data.length) return;
    const h = hash(i);
    before[i % WINDOW] = head[h]!;
    head[h] = i;
  };
  for (let i = 0; i < data.length; ) {
    let best = 2;
    let reach = 0;
    if (i + 2 < data.length) {
      const most = Math.min(LONGEST, data.length - i);
      let at = head[hash(i)]!;
      for (let k = 0; k < CHAIN && at >= 0 && i - at <= WINDOW; k++) {
        let long = 0;
        while (long < most && data[at + long] === data[i + long]) long++;
        if (long > best) {
          best = long;
          reach = i - at;
          if (long === most) break;
        }
        const next = before[at % WINDOW]!;
        if (next >= at) break;
        at = next;
      }
    }
    if (reach > 0) {
      tokens[made++] = (best << 16) | (reach - 1) | (1 << 31);
      for (let k = 0; k < best; k++) note(i + k);
      i += best;
    } else {
      tokens[made++] = data[i]!;
      note(i++);
    }
  }
  return tokens.slice(0, made);
}

/** The bytes as one zlib stream with one block of dynamic codes. Same bytes, same stream. */
export function zlib(data: Uint8Array): Uint8Array {
  const tokens = tokensOf(data);
  const literals = new Uint32Array(286);
  const reaches = new Uint32Array(30);
  literals[256] = 1;
  const matchOf = (t: number): readonly [number, number] => [(t >> 16) & 0x7fff, (t & 0xffff) + 1];
  const reachCode = (reach: number): number => lastAtMost(REACH_BASE, reach);
  for (const t of tokens) {
    if (t >= 0) literals[t]!++;
    else {
      const [length, reach] = matchOf(t);
      literals[257 + LENGTH_CODE[length]!]!++;
      reaches[reachCode(reach)]!++;
    }
  }
  // A reader wants one code of distances even where none stands.
  if (reaches.every((c) => c === 0)) reaches[0] = 1;
  const [literalBits, reachBits] = [codeLengths(literals, 15), codeLengths(reaches, 15)];
  const [literalCodes, reachCodes] = [codesOf(literalBits), codesOf(reachBits)];
  const bits = new Bits();
  bits.byte(0x78);
  bits.byte(0x9c);
  bits.put(1, 1);
  bits.put(2, 2);
  writeCodes(bits, literalBits, reachBits);
  for (const t of tokens) {
    if (t >= 0) {
      bits.put(literalCodes[t]!, literalBits[t]!);
      continue;
    }
    const [length, reach] = matchOf(t);
    const l = LENGTH_CODE[length]!;
    bits.put(literalCodes[257 + l]!, literalBits[257 + l]!);
    bits.put(length - LENGTH_BASE[l]!, LENGTH_EXTRA[l]!);
    const r = reachCode(reach);
    bits.put(reachCodes[r]!, reachBits[r]!);
    bits.put(reach - REACH_BASE[r]!, REACH_EXTRA[r]!);
  }
  bits.put(literalCodes[256]!, literalBits[256]!);
  const body = bits.done();
  const out = new Uint8Array(body.length + 4);
  out.set(body);
  new DataView(out.buffer).setUint32(body.length, adler(data));
  return out;
}

/** The lengths of both codes, each by a code of its own; runs are not folded but for zeros. */
function writeCodes(bits: Bits, literal: Uint8Array, reach: Uint8Array): void {
  const all = [...literal, ...reach];
  const runs: { readonly symbol: number; readonly extra: number; readonly bits: number }[] = [];
  for (let i = 0; i < all.length; ) {
    let zeros = 0;
    while (i + zeros < all.length && all[i + zeros] === 0 && zeros < 138) zeros++;
    if (zeros >= 11) runs.push({ symbol: 18, extra: zeros - 11, bits: 7 });
    else if (zeros >= 3) runs.push({ symbol: 17, extra: zeros - 3, bits: 3 });
    else runs.push({ symbol: all[i]!, extra: 0, bits: 0 });
    i += zeros >= 3 ? zeros : 1;
  }
  const counts = new Uint32Array(19);
  for (const r of runs) counts[r.symbol]!++;
  const lengths = codeLengths(counts, 7);
  const codes = codesOf(lengths);
  bits.put(literal.length - 257, 5);
  bits.put(reach.length - 1, 5);
  bits.put(15, 4);
  for (const symbol of ORDER) bits.put(lengths[symbol]!, 3);
  for (const r of runs) {
    bits.put(codes[r.symbol]!, lengths[r.symbol]!);
    bits.put(r.extra, r.bits);
  }
}

/** Adler-32. Source: RFC 1950, 9. */
function adler(data: Uint8Array): number {
  let [a, b] = [1, 0];
  for (let i = 0; i < data.length; ) {
    // As many as fit 32 bits before the remainder has to be taken.
    const end = Math.min(data.length, i + 3800);
    for (; i < end; i++) {
      a += data[i]!;
      b += a;
    }
    a %= 65521;
    b %= 65521;
  }
  return ((b << 16) | a) >>> 0;
}
