import { zlib } from './deflate.ts';

/** A picture of points: 4 bytes each (red, green, blue, how much it covers), row by row from the top. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array;
}

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** CRC-32 of some bytes. Source: PNG specification (W3C), annex D; that of ZIP is the same. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = CRC[(crc ^ byte) & 255]! ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

function chunk(kind: string, data: Uint8Array): Uint8Array {
  const out = new Uint8Array(12 + data.length);
  const view = new DataView(out.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) out[4 + i] = kind.charCodeAt(i);
  out.set(data, 8);
  view.setUint32(8 + data.length, crc32(out.subarray(4, 8 + data.length)));
  return out;
}

/** Rows less what their neighbours foretell: whichever of three ways leaves least, row by row. Source: PNG specification (W3C), 9. */
function filtered({ width, height, rgba }: Raster): Uint8Array {
  const long = 4 * width;
  const out = new Uint8Array(height * (long + 1));
  const above = new Uint8Array(long);
  const rows = [0, 1, 2].map(() => new Uint8Array(long)) as [Uint8Array, Uint8Array, Uint8Array];
  for (let y = 0; y < height; y++) {
    const row = rgba.subarray(y * long, (y + 1) * long);
    const sums = [0, 0, 0];
    for (let i = 0; i < long; i++) {
      const v = row[i]!;
      rows[0][i] = v;
      rows[1][i] = v - (i >= 4 ? row[i - 4]! : 0);
      rows[2][i] = v - above[i]!;
      for (let k = 0; k < 3; k++) {
        const left = rows[k]![i]!;
        sums[k]! += left < 128 ? left : 256 - left;
      }
    }
    const kind = sums.indexOf(Math.min(...sums));
    out[y * (long + 1)] = kind;
    out.set(rows[kind]!, y * (long + 1) + 1);
    above.set(row);
  }
  return out;
}

/** Chunk that says how large a picture is printed. */
function printSize(dotsPerMetre: number): Uint8Array {
  const data = new Uint8Array(9);
  new DataView(data.buffer).setUint32(0, Math.round(dotsPerMetre));
  new DataView(data.buffer).setUint32(4, Math.round(dotsPerMetre));
  data[8] = 1;
  return chunk('pHYs', data);
}

/** Bytes before the second chunk: the signature, and IHDR with its 13. */
const HEAD = 8 + 12 + 13;

/** A PNG file with the size that it is printed at. file: as a browser writes it, which says nothing of that. */
export function pngOfSize(file: Uint8Array, dotsPerMetre: number): Uint8Array {
  const size = printSize(dotsPerMetre);
  const out = new Uint8Array(file.length + size.length);
  out.set(file.subarray(0, HEAD));
  out.set(size, HEAD);
  out.set(file.subarray(HEAD), HEAD + size.length);
  return out;
}

/** The picture as a PNG file. dotsPerMetre: as large as it is meant to be printed; left out where it says nothing. Same picture, same bytes. Source: PNG specification (W3C). */
export function png(raster: Raster, dotsPerMetre?: number): Uint8Array {
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, raster.width);
  view.setUint32(4, raster.height);
  head.set([8, 6, 0, 0, 0], 8);
  const parts = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', head),
    ...(dotsPerMetre === undefined ? [] : [printSize(dotsPerMetre)]),
    chunk('IDAT', zlib(filtered(raster))),
    chunk('IEND', new Uint8Array(0)),
  ];
  const out = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const p of parts) {
    out.set(p, at);
    at += p.length;
  }
  return out;
}

/** The file as an address that holds it. */
export function pngAddress(raster: Raster): string {
  const bytes = png(raster);
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return `data:image/png;base64,${btoa(text)}`;
}
