import { textWidth } from './font.ts';
import { n } from './ink.ts';
import { wordBox } from './labels.ts';
import { scaleSquares } from './make-sheet.ts';
import { operators, type PdfDrawing, type PdfPage, pdfFile } from './pdf-file.ts';
import { EDGE, OVERLAP, PAPERS, type Tile, type TilePaper, type Tiling, tilesOf } from './tiles.ts';
import type { Sheet, SheetLine, SheetText, Spot } from './types.ts';

const drawingOf = (sheet: Sheet): PdfDrawing => ({ name: 'Sheet', width: sheet.width, height: sheet.height, content: operators(sheet.lines, sheet.texts) });

/** The whole sheet as a PDF of one page, to scale. Same sheet, same bytes. */
export function sheetPdf(sheet: Sheet): Uint8Array {
  const page: PdfPage = { width: sheet.width, height: sheet.height, content: '/Sheet Do' };
  return pdfFile(
    sheet.title,
    [page],
    [drawingOf(sheet)],
    sheet.texts.map((t) => t.text),
  );
}

const frame = (what: string, points: readonly Spot[], closed = false): SheetLine => ({ ink: 'frame', what, points, closed, piece: -1 });

/** Marks in the border: corners of the page's part, and ticks where the neighbour's edge comes to lie. */
function cropMarks({ width, height, columns, rows }: Tiling, tile: Tile): SheetLine[] {
  const [l, t, r, b] = [EDGE, EDGE, EDGE + width, EDGE + height];
  const far = 5;
  const gap = 0.6;
  const corner = (x: number, y: number, sx: number, sy: number): SheetLine[] => [
    frame('crop mark', [
      [x + sx * gap, y],
      [x + sx * far, y],
    ]),
    frame('crop mark', [
      [x, y + sy * gap],
      [x, y + sy * Math.min(far, 3.4)],
    ]),
  ];
  const ticks: SheetLine[] = [];
  const upright = (x: number): void => {
    ticks.push(
      frame('edge of the next page', [
        [x, t - gap],
        [x, t - 3],
      ]),
      frame('edge of the next page', [
        [x, b + gap],
        [x, b + 2],
      ]),
    );
  };
  const level = (y: number): void => {
    ticks.push(
      frame('edge of the next page', [
        [l - gap, y],
        [l - 3, y],
      ]),
      frame('edge of the next page', [
        [r + gap, y],
        [r + 3, y],
      ]),
    );
  };
  if (tile.column + 1 < columns) upright(r - OVERLAP);
  if (tile.column > 0) upright(l + OVERLAP);
  if (tile.row + 1 < rows) level(b - OVERLAP);
  if (tile.row > 0) level(t + OVERLAP);
  return [...corner(l, t, -1, -1), ...corner(r, t, 1, -1), ...corner(r, b, 1, 1), ...corner(l, b, -1, 1), ...ticks];
}

/** Scale at which all pages of a tiling fit in a box. */
const mapScale = ({ columns, rows, width, height }: Tiling, w: number, h: number): number =>
  Math.min(w / (columns * (width - OVERLAP) + OVERLAP), h / (rows * (height - OVERLAP) + OVERLAP));

/** The pages as they lie, small, with their names where they have room; `here` is crossed. */
function map(tiling: Tiling, x: number, y: number, scale: number, most: number, here: Tile | null): { lines: SheetLine[]; texts: SheetText[] } {
  const lines: SheetLine[] = [];
  const texts: SheetText[] = [];
  const [w, h] = [tiling.width * scale, tiling.height * scale];
  for (const tile of tiling.tiles) {
    const [l, t] = [x + tile.x * scale, y + tile.y * scale];
    lines.push(
      frame(
        `page ${tile.name}`,
        [
          [l, t],
          [l + w, t],
          [l + w, t + h],
          [l, t + h],
        ],
        true,
      ),
    );
    if (here === tile)
      lines.push(
        frame('this page', [
          [l, t],
          [l + w, t + h],
        ]),
        frame('this page', [
          [l + w, t],
          [l, t + h],
        ]),
      );
    const size = Math.min(most, w / 3.2, h / 2);
    if (here !== tile && size >= 1.4) texts.push({ text: tile.name, x: l + (w - textWidth(tile.name, size)) / 2, y: t + h / 2 + size * 0.35, size, piece: -1 });
  }
  return { lines, texts };
}

function tilePage(sheet: Sheet, tiling: Tiling, tile: Tile): { page: PdfPage; words: string[] } {
  const [wide, tall] = PAPERS[tiling.paper];
  const foot = EDGE + tiling.height + 4;
  const squares = scaleSquares(EDGE, foot);
  const left = EDGE + squares.width + 6;
  const small = map(tiling, left, foot + 18, mapScale(tiling, EDGE + tiling.width - left, 32), 3, tile);
  const title = shortened(sheet.title, 3, EDGE + tiling.width - left);
  const texts: SheetText[] = [
    ...squares.texts,
    ...small.texts,
    { text: tile.name, x: left, y: foot + 10, size: 12, piece: -1 },
    { text: title, x: left, y: foot + 15, size: 3, piece: -1 },
  ];
  const content = `q ${n(EDGE)} ${n(EDGE)} ${n(tiling.width)} ${n(tiling.height)} re W n 1 0 0 1 ${n(EDGE - tile.x)} ${n(EDGE - tile.y)} cm /Sheet Do Q\n${operators([...cropMarks(tiling, tile), ...squares.lines, ...small.lines], texts)}`;
  return { page: { width: wide, height: tall, content }, words: texts.map((t) => t.text) };
}

function shortened(text: string, size: number, room: number): string {
  if (textWidth(text, size) <= room) return text;
  let kept = text;
  while (kept.length > 1 && textWidth(`${kept}…`, size) > room) kept = kept.slice(0, -1);
  return `${kept}…`;
}

/** First page: how the pages lie, over a small picture of the sheet. */
function mapPage(sheet: Sheet, tiling: Tiling): { page: PdfPage; words: string[] } {
  const [wide, tall] = PAPERS[tiling.paper];
  const squares = scaleSquares(EDGE, tall - EDGE - 52);
  const top = EDGE + 40;
  const [w, h] = [wide - 2 * EDGE, tall - top - EDGE - 60];
  const scale = mapScale(tiling, w, h);
  const grid = map(tiling, EDGE, top, scale, 8, null);
  const told = [
    `${tiling.tiles.length} pages of the pattern, this map aside; pages with nothing on them are left out.`,
    'Print at 100 %, not fitted to the page, and measure both squares.',
    'Trim each page at its crop marks on the right and below, or leave it and look through.',
    `Neighbours overlap by ${OVERLAP} mm: lay the edge of a page on the ticks of the one before, and glue.`,
  ];
  const texts: SheetText[] = [
    { text: shortened(sheet.title, 6, w), x: EDGE, y: EDGE + 8, size: 6, piece: -1 },
    ...told.map((text, i): SheetText => ({ text, x: EDGE, y: EDGE + 15 + 5.5 * i, size: 3.5, piece: -1 })),
    ...grid.texts,
    ...squares.texts,
  ];
  // Names stand on white, so that the lines of the pieces under them do not run through their letters.
  const behind = grid.texts.map((t) => wordBox(t)).map(([l, t, r, b]) => `${n(l)} ${n(t)} ${n(r - l)} ${n(b - t)} re`);
  const picture = `q ${scale.toFixed(6)} 0 0 ${scale.toFixed(6)} ${n(EDGE)} ${n(top)} cm /Sheet Do Q`;
  return {
    page: {
      width: wide,
      height: tall,
      content: `${picture}\n${operators([...grid.lines, ...squares.lines], [])}\nq 1 g ${behind.join(' ')} f Q\n${operators([], texts)}`,
    },
    words: texts.map((t) => t.text),
  };
}

/** The sheet on pages of office paper: a map of the pages, then each page with its crop marks, its name, and both squares. Same sheet, same bytes. */
export function tiledPdf(sheet: Sheet, paper: TilePaper): Uint8Array {
  const tiling = tilesOf(sheet, paper);
  const pages = [mapPage(sheet, tiling), ...tiling.tiles.map((t) => tilePage(sheet, tiling, t))];
  return pdfFile(
    sheet.title,
    pages.map((p) => p.page),
    [drawingOf(sheet)],
    [...sheet.texts.map((t) => t.text), ...pages.flatMap((p) => p.words)],
  );
}
