import { createCanvas } from '@napi-rs/canvas';
import DxfParser from 'dxf-parser';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, test } from 'vitest';
import { parseBag, templates } from '../../src/bag/index.ts';
import { cutPattern, makeSheet, sheetDxf, sheetPdf, sheetSvg, tiledPdf, tilesOf } from '../../src/pattern/cutting.ts';

/** Reads the files with parsers that are not ours: pdfjs-dist draws the PDFs, dxf-parser reads the DXF. */
const satchel = cutPattern(parseBag(templates().find((t) => t.name === 'satchel')!.text));
const sheet = makeSheet(satchel);

/** Pixels of a millimetre: whole, so that a page's part of the sheet falls on whole pixels. */
const PIXELS = 5;

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly dark: (x: number, y: number) => boolean;
  readonly at: (x: number, y: number) => number;
}

async function picture(bytes: Uint8Array, pages: readonly number[]): Promise<Picture[]> {
  const doc = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const out: Picture[] = [];
  for (const number of pages) {
    const page = await doc.getPage(number);
    const viewport = page.getViewport({ scale: (PIXELS * 25.4) / 72 });
    const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)];
    const canvas = createCanvas(width, height);
    const context = canvas.getContext('2d');
    await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
    const { data } = context.getImageData(0, 0, width, height);
    const at = (x: number, y: number): number => data[4 * (y * width + x)]!;
    out.push({ width, height, at, dark: (x, y) => at(x, y) < 128 });
  }
  await doc.loadingTask.destroy();
  return out;
}

/** Length of the side of the square whose upper left corner lies near a place of the page, mm: between the darkest columns of its two upright sides. */
function sideAt(p: Picture, x: number, y: number, side: number): { across: number; down: number } {
  const centre = (values: number[]): number => values.reduce((s, v, i) => s + v * i, 0) / values.reduce((s, v) => s + v, 0);
  const dark = (from: number, along: (k: number) => number): number => from + centre(Array.from({ length: 13 }, (_, k) => along(from + k)));
  const [px, py, ps] = [Math.round(x * PIXELS), Math.round(y * PIXELS), Math.round(side * PIXELS)];
  const column = (cx: number): number => Array.from({ length: 40 }, (_, k) => 255 - p.at(cx, py + Math.round(ps * 0.6) + k)).reduce((s, v) => s + v, 0);
  const row = (cy: number): number => Array.from({ length: 40 }, (_, k) => 255 - p.at(px + Math.round(ps * 0.6) + k, cy)).reduce((s, v) => s + v, 0);
  return { across: (dark(px + ps - 6, column) - dark(px - 6, column)) / PIXELS, down: (dark(py + ps - 6, row) - dark(py - 6, row)) / PIXELS };
}

describe('files of the satchel, read by others', () => {
  test('drawn by pdfjs, the squares of every page are 50.0 and 50.8 mm to 0.2 mm, on A4 and on letter', async () => {
    for (const paper of ['a4', 'letter'] as const) {
      const tiling = tilesOf(sheet, paper);
      const pictures = await picture(
        tiledPdf(sheet, paper),
        tiling.tiles.map((_, i) => i + 2),
      );
      for (const [i, p] of pictures.entries())
        for (const [x, side] of [
          [8, 50],
          [64, 50.8],
        ] as const) {
          const { across, down } = sideAt(p, x, 8 + tiling.height + 4, side);
          expect(Math.abs(across - side), `page ${tiling.tiles[i]!.name} of ${paper}: ${across} mm across for ${side}`).toBeLessThan(0.2);
          expect(Math.abs(down - side), `page ${tiling.tiles[i]!.name} of ${paper}: ${down} mm down for ${side}`).toBeLessThan(0.2);
        }
    }
  });

  test('the pages laid together are the large sheet, pixel for pixel, and the pages left out are blank on it', async () => {
    const [whole] = await picture(sheetPdf(sheet), [1]);
    const tiling = tilesOf(sheet, 'a4');
    const pictures = await picture(
      tiledPdf(sheet, 'a4'),
      tiling.tiles.map((_, i) => i + 2),
    );
    const covered = new Uint8Array(whole!.width * whole!.height);
    let unlike = 0;
    tiling.tiles.forEach((tile, i) => {
      const p = pictures[i]!;
      // A pixel in from the edge of the part: pens of 0.5 mm are cut there, and the page's border begins.
      for (let y = 1; y < tiling.height * PIXELS - 1; y++)
        for (let x = 1; x < tiling.width * PIXELS - 1; x++) {
          const [sx, sy] = [tile.x * PIXELS + x, tile.y * PIXELS + y];
          if (sx >= whole!.width || sy >= whole!.height) continue;
          covered[sy * whole!.width + sx] = 1;
          // The same line at another origin is shaded a little otherwise at its rim; a line out of place by a pixel (0.2 mm) differs by 255.
          if (Math.abs(p.at(8 * PIXELS + x, 8 * PIXELS + y) - whole!.at(sx, sy)) > 80) unlike++;
        }
    });
    expect(unlike, 'pixels of any page that differ from the sheet').toBe(0);
    let lost = 0;
    for (let y = 2; y < whole!.height - 2; y++) for (let x = 2; x < whole!.width - 2; x++) if (whole!.dark(x, y) && covered[y * whole!.width + x] === 0) lost++;
    expect(lost, 'dark pixels of the sheet on no page').toBe(0);
  });

  test('the words of the PDF can be read and searched', async () => {
    const doc = await getDocument({ data: sheetPdf(sheet), verbosity: 0 }).promise;
    const { items } = await (await doc.getPage(1)).getTextContent();
    const text = items.map((i) => ('str' in i ? i.str : '')).join('\n');
    for (const t of sheet.texts) expect(text).toContain(t.text);
    await doc.loadingTask.destroy();
  });

  test('dxf-parser finds millimetres, a block for each piece, layers cut, stitch, mark and text, and cut lines of the pattern to 0.01 mm', () => {
    const dxf = new DxfParser().parseSync(sheetDxf(sheet))!;
    expect(dxf.header['$INSUNITS'], 'millimetres').toBe(4);
    expect(Object.keys(dxf.tables['layer']!.layers)).toEqual(expect.arrayContaining(['cut', 'stitch', 'mark', 'text']));
    const inserts = dxf.entities.filter((e) => e.type === 'INSERT') as unknown as { name: string; position: { x: number; y: number } }[];
    expect(inserts.map((i) => i.name).sort()).toEqual(satchel.pieces.map((_, i) => `PIECE-${i + 1}`));
    satchel.pieces.forEach((piece, i) => {
      const block = dxf.blocks[`PIECE-${i + 1}`]!;
      const cuts = block.entities.filter((e) => e.type === 'LWPOLYLINE' && e.layer === 'cut') as unknown as {
        shape: boolean;
        vertices: { x: number; y: number }[];
      }[];
      const long = (v: readonly { x: number; y: number }[]): number =>
        v.reduce((s, p, k) => s + Math.hypot(v[(k + 1) % v.length]!.x - p.x, v[(k + 1) % v.length]!.y - p.y), 0);
      const own = piece.cut.map((loop) => long(loop.map(([x, y]) => ({ x: 1000 * x, y: 1000 * y }))));
      expect(cuts.length, piece.name).toBe(piece.cut.length);
      cuts.forEach((c, k) => {
        expect(c.shape, `${piece.name} is closed`).toBe(true);
        expect(Math.abs(long(c.vertices) - own[k]!), `${piece.name}: ${long(c.vertices)} for ${own[k]} mm`).toBeLessThan(0.01);
      });
      const words = block.entities.filter((e) => e.type === 'TEXT' && e.layer === 'text') as unknown as { text: string }[];
      expect(words.map((w) => w.text)).toContain(piece.name);
    });
  });

  test('read as XML paths, the SVG is in millimetres and its cut lines are the pattern to 0.01 mm', () => {
    const svg = sheetSvg(sheet);
    const [, width, height] = /<svg [^>]*width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 \1 \2"/.exec(svg)!;
    expect([Number(width), Number(height)]).toEqual([sheet.width, sheet.height]);
    satchel.pieces.forEach((piece, i) => {
      const group = svg.slice(svg.indexOf(`id="piece-${i + 1}"`));
      const cut = /<g class="cut"[^>]*>(.*?)<\/g>/s.exec(group)![1]!;
      const paths = [...cut.matchAll(/ d="M([^"]*)Z"/g)].map((m) => m[1]!.split('L').map((p) => p.split(' ').map(Number) as [number, number]));
      const area = paths.reduce(
        (s, loop) => s + loop.reduce((t, [x, y], k) => t + x * loop[(k + 1) % loop.length]![1] - loop[(k + 1) % loop.length]![0] * y, 0) / 2,
        0,
      );
      expect(Math.abs(Math.abs(area) / (piece.area * 1e6) - 1), `${piece.name}: ${Math.abs(area)} for ${piece.area * 1e6} mm2`).toBeLessThan(1e-4);
    });
    expect(svg).toContain('50 mm square');
  });
});
