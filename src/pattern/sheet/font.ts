/** The letters of a sheet: widths, glyph numbers and the file itself. */
import { FONT_TTF } from '../data/font.ts';

/** A TrueType font as read: design units are thousandths of the letter height (unitsPerEm 1000). */
export interface Font {
  readonly bytes: Uint8Array;
  readonly base64: string;
  /** Glyph of a character; 0 where the font has none. */ glyph(code: number): number;
  /** Advance of a glyph, thousandths. */ advance(glyph: number): number;
  readonly glyphs: number;
  readonly ascent: number;
  readonly descent: number;
  readonly box: readonly [number, number, number, number];
}

let known: Font | null = null;

/** The embedded font. Reads the tables head, hhea, hmtx, maxp and cmap (format 4) of the TrueType file. Source: ISO/IEC 14496-22 (OpenType). */
export function font(): Font {
  if (known) return known;
  const text = atob(FONT_TTF);
  const bytes = Uint8Array.from(text, (c) => c.charCodeAt(0));
  const view = new DataView(bytes.buffer);
  const tables = new Map<string, number>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    tables.set(String.fromCharCode(...bytes.subarray(at, at + 4)), view.getUint32(at + 8));
  }
  const table = (name: string): number => tables.get(name)!;
  const head = table('head');
  const hhea = table('hhea');
  const hmtx = table('hmtx');
  const metrics = view.getUint16(hhea + 34);
  const size = 1000 / view.getUint16(head + 18);
  const cmap = format4(view, table('cmap'));
  known = {
    bytes,
    base64: FONT_TTF,
    glyph: (code) => cmap.get(code) ?? 0,
    advance: (glyph) => view.getUint16(hmtx + 4 * Math.min(glyph, metrics - 1)) * size,
    glyphs: view.getUint16(table('maxp') + 4),
    ascent: view.getInt16(hhea + 4) * size,
    descent: view.getInt16(hhea + 6) * size,
    box: [36, 38, 40, 42].map((at) => view.getInt16(head + at) * size) as [number, number, number, number],
  };
  return known;
}

function format4(view: DataView, cmap: number): Map<number, number> {
  const out = new Map<number, number>();
  for (let i = 0; i < view.getUint16(cmap + 2); i++) {
    const at = cmap + view.getUint32(cmap + 4 + 8 * i + 4);
    if (view.getUint16(at) !== 4) continue;
    const segments = view.getUint16(at + 6) / 2;
    const [ends, starts] = [at + 14, at + 16 + 2 * segments];
    const [deltas, ranges] = [starts + 2 * segments, starts + 4 * segments];
    for (let s = 0; s < segments; s++) {
      const [start, end] = [view.getUint16(starts + 2 * s), view.getUint16(ends + 2 * s)];
      const range = view.getUint16(ranges + 2 * s);
      for (let c = start; c <= end && c < 0xffff; c++) {
        const raw = range === 0 ? c : view.getUint16(ranges + 2 * s + range + 2 * (c - start));
        const glyph = range !== 0 && raw === 0 ? 0 : (raw + view.getUint16(deltas + 2 * s)) & 0xffff;
        if (glyph !== 0) out.set(c, glyph);
      }
    }
  }
  return out;
}

/** Width of a text, in the unit of its size. */
export const textWidth = (text: string, size: number): number =>
  ([...text].reduce((sum, c) => sum + font().advance(font().glyph(c.codePointAt(0)!)), 0) * size) / 1000;

/** Characters of texts that the font has no letter for, each once, in order. */
export const unknownLetters = (texts: readonly string[]): string[] => [
  ...new Set(texts.flatMap((t) => [...t]).filter((c) => c > ' ' && font().glyph(c.codePointAt(0)!) === 0)),
];
