/** A PDF file from its parts: objects, one embedded font, pages that show drawings. Source: ISO 32000-1 (PDF 1.7), clauses 7.5, 8.10, 9.7. */
import { font } from './font.ts';
import { INKS, n } from './ink.ts';
import type { SheetLine, SheetText } from './types.ts';

/** Points of a millimetre. */
const POINT = 72 / 25.4;
/** Longest side that readers must take, points. Source: ISO 32000-1, annex C.2. */
const LONGEST = 14400;

/** One page: size in mm, what is drawn on it (operators in mm, y down), and the shared drawings it shows. */
export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly content: string;
}

/** A drawing that pages show by name with "/NAME Do": operators in mm, y down. */
export interface PdfDrawing {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly content: string;
}

const hex = (v: number): string => v.toString(16).padStart(4, '0');

/** Operators of lines and words, mm, y down. */
export function operators(lines: readonly SheetLine[], texts: readonly SheetText[]): string {
  const out: string[] = ['1 J 1 j'];
  for (const ink of Object.keys(INKS) as SheetLine['ink'][]) {
    const own = lines.filter((l) => l.ink === ink);
    if (own.length === 0) continue;
    const { width, dash, grey } = INKS[ink];
    out.push(`${n(width)} w ${n(grey)} G [${dash.map(n).join(' ')}] 0 d`);
    for (const { points, closed } of own) out.push(`${points.map((p, i) => `${n(p[0])} ${n(p[1])} ${i === 0 ? 'm' : 'l'}`).join(' ')} ${closed ? 's' : 'S'}`);
  }
  for (const t of texts)
    out.push(`BT 0 g /F1 ${n(t.size)} Tf 1 0 0 -1 ${n(t.x)} ${n(t.y)} Tm <${[...t.text].map((c) => hex(font().glyph(c.codePointAt(0)!))).join('')}> Tj ET`);
  return out.join('\n');
}

/** Latin-1 bytes of a text that has no others. */
const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

/** Title in UTF-16, as PDF strings hold what is not Latin. */
const utf16 = (text: string): string => `<feff${Array.from({ length: text.length }, (_, i) => hex(text.charCodeAt(i))).join('')}>`;

/**
 * The bytes of a PDF with these pages. texts: all words in it, from which the table of letters for copying and searching is made. No date, no chance: same
 * parts, same bytes. Pages longer than 5.08 m use a larger unit (UserUnit).
 */
export function pdfFile(title: string, pages: readonly PdfPage[], drawings: readonly PdfDrawing[], texts: readonly string[]): Uint8Array {
  const face = font();
  const objects: (string | { readonly head: string; readonly body: Uint8Array })[] = [];
  const add = (o: (typeof objects)[number]): number => objects.push(o);
  const stream = (dictionary: string, body: Uint8Array): { head: string; body: Uint8Array } => ({ head: `<< ${dictionary} /Length ${body.length} >>`, body });
  const letters = new Map([...new Set(texts.flatMap((t) => [...t]))].map((c) => [face.glyph(c.codePointAt(0)!), c.codePointAt(0)!]));
  letters.delete(0);
  const pairs = [...letters].sort((a, b) => a[0] - b[0]);
  const blocks = Array.from({ length: Math.ceil(pairs.length / 100) }, (_, i) => pairs.slice(100 * i, 100 * i + 100));
  const unicode = `/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def /CMapName /Letters def /CMapType 2 def
1 begincodespacerange <0000> <ffff> endcodespacerange
${blocks.map((b) => `${b.length} beginbfchar\n${b.map(([glyph, code]) => `<${hex(glyph)}> <${hex(code)}>`).join('\n')}\nendbfchar`).join('\n')}
endcmap CMapName currentdict /CMap defineresource pop end end`;
  const catalog = 1;
  add('<< /Type /Catalog /Pages 2 0 R >>');
  // The page tree is filled in below, when its pages have numbers.
  add('');
  const file = add(stream(`/Length1 ${face.bytes.length}`, face.bytes));
  const map = add(stream('', bytesOf(unicode)));
  const descriptor = add(
    `<< /Type /FontDescriptor /FontName /NotoSans-Regular /Flags 4 /FontBBox [${face.box.map(n).join(' ')}] /ItalicAngle 0 /Ascent ${n(face.ascent)} /Descent ${n(face.descent)} /CapHeight 714 /StemV 80 /FontFile2 ${file} 0 R >>`,
  );
  const widths = Array.from({ length: face.glyphs }, (_, g) => n(face.advance(g))).join(' ');
  const descendant = add(
    `<< /Type /Font /Subtype /CIDFontType2 /BaseFont /NotoSans-Regular /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${descriptor} 0 R /DW 600 /W [0 [${widths}]] /CIDToGIDMap /Identity >>`,
  );
  const type0 = add(
    `<< /Type /Font /Subtype /Type0 /BaseFont /NotoSans-Regular /Encoding /Identity-H /DescendantFonts [${descendant} 0 R] /ToUnicode ${map} 0 R >>`,
  );
  const shown = drawings.map(
    (d) =>
      `/${d.name} ${add(stream(`/Type /XObject /Subtype /Form /BBox [0 0 ${n(d.width)} ${n(d.height)}] /Resources << /Font << /F1 ${type0} 0 R >> >>`, bytesOf(d.content)))} 0 R`,
  );
  const kids = pages.map((page) => {
    const unit = Math.max(1, Math.ceil((Math.max(page.width, page.height) * POINT) / LONGEST));
    const scale = POINT / unit;
    const six = (v: number): string => v.toFixed(6);
    const content = add(stream('', bytesOf(`${six(scale)} 0 0 ${six(-scale)} 0 ${six(page.height * scale)} cm\n${page.content}`)));
    return add(
      `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${six(page.width * scale)} ${six(page.height * scale)}]${unit > 1 ? ` /UserUnit ${unit}` : ''} /Resources << /Font << /F1 ${type0} 0 R >> /XObject << ${shown.join(' ')} >> >> /Contents ${content} 0 R >>`,
    );
  });
  objects[1] = `<< /Type /Pages /Count ${kids.length} /Kids [${kids.map((k) => `${k} 0 R`).join(' ')}] >>`;
  const info = add(`<< /Title ${utf16(title)} /Producer (slumpline) >>`);
  return joined(objects, catalog, info);
}

function joined(objects: readonly (string | { readonly head: string; readonly body: Uint8Array })[], catalog: number, info: number): Uint8Array {
  const parts: Uint8Array[] = [];
  let at = 0;
  const put = (part: Uint8Array): void => {
    parts.push(part);
    at += part.length;
  };
  put(Uint8Array.from([...bytesOf('%PDF-1.7\n%'), 0xe2, 0xe3, 0xcf, 0xd3, 0x0a]));
  const offsets = objects.map((o, i) => {
    const from = at;
    put(bytesOf(`${i + 1} 0 obj\n`));
    if (typeof o === 'string') put(bytesOf(o));
    else {
      put(bytesOf(`${o.head}\nstream\n`));
      put(o.body);
      put(bytesOf('\nendstream'));
    }
    put(bytesOf('\nendobj\n'));
    return from;
  });
  const table = at;
  put(
    bytesOf(
      `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${offsets.map((o) => `${String(o).padStart(10, '0')} 00000 n \n`).join('')}trailer\n<< /Size ${objects.length + 1} /Root ${catalog} 0 R /Info ${info} 0 R >>\nstartxref\n${table}\n%%EOF\n`,
    ),
  );
  const file = new Uint8Array(at);
  let to = 0;
  for (const part of parts) {
    file.set(part, to);
    to += part.length;
  }
  return file;
}
