import type { Pattern } from '../pieces/types.ts';
import { type DrawnPiece, drawPiece } from './draw-piece.ts';
import { textWidth, unknownLetters } from './font.ts';
import type { Laid, Sheet, SheetLine, SheetText, Spot } from './types.ts';

/** Border of the sheet, room between pieces, height of the head, mm. */
const BORDER = 10;
const GAP = 8;
const HEAD = 76;
/** Widest row, mm, where no piece is wider: 36 in plotter paper less its borders. */
const ROW = 890;
/** The squares that a printed sheet is measured by, mm. */
const SQUARES = [50, 50.8] as const;

/** Lines and words of both squares, the first's upper left corner given. */
export function scaleSquares(x: number, y: number): { lines: SheetLine[]; texts: SheetText[]; width: number } {
  const box = (at: number, side: number, what: string): SheetLine => ({
    ink: 'frame',
    closed: true,
    what,
    piece: -1,
    points: [
      [at, y],
      [at + side, y],
      [at + side, y + side],
      [at, y + side],
    ],
  });
  const second = x + SQUARES[0] + 6;
  return {
    lines: [box(x, SQUARES[0], '50 mm square'), box(second, SQUARES[1], '2 in square')],
    texts: [
      { text: '50 mm', x: x + 3, y: y + 6, size: 3.5, piece: -1 },
      { text: '2 in', x: second + 3, y: y + 6, size: 3.5, piece: -1 },
      { text: 'Print at 100 %,', x: x + 3, y: y + 14, size: 3, piece: -1 },
      { text: 'then measure', x: x + 3, y: y + 18.5, size: 3, piece: -1 },
      { text: 'both squares.', x: x + 3, y: y + 23, size: 3, piece: -1 },
    ],
    width: SQUARES[0] + 6 + SQUARES[1],
  };
}

/** Samples of the lines, with their names. */
function legend(x: number, y: number): { lines: SheetLine[]; texts: SheetText[] } {
  const rows: [SheetLine['ink'], string][] = [
    ['cut', 'cut here'],
    ['stitch', 'stitch line'],
    ['fold', 'fold, or a corner of the bag'],
    ['mark', 'mark, notch, topstitch'],
    ['grain', 'grain (warp)'],
  ];
  return {
    lines: rows.map(
      ([ink, what], i): SheetLine => ({
        ink,
        what: `sample: ${what}`,
        closed: false,
        piece: -1,
        points: [
          [x, y + 8 * i],
          [x + 22, y + 8 * i],
        ],
      }),
    ),
    texts: rows.map(([, text], i): SheetText => ({ text, x: x + 26, y: y + 8 * i + 1.2, size: 3.2, piece: -1 })),
  };
}

/** Places of boxes in rows, in order, low ones under one another beside a tall one; each [x, y] of the upper left corner, and how far down they go. */
function rows(boxes: readonly { w: number; h: number }[], width: number): { at: Spot[]; down: number } {
  const at: Spot[] = [];
  let row = { y: BORDER + HEAD, h: 0, end: BORDER, columns: [] as { x: number; w: number; used: number }[] };
  for (const { w, h } of boxes) {
    const room = row.columns.find((c) => c.w >= w && c.used + GAP + h <= row.h);
    if (room) {
      at.push([room.x, row.y + room.used + GAP]);
      room.used += GAP + h;
      continue;
    }
    if (row.columns.length > 0 && row.end + w > width - BORDER) row = { y: row.y + row.h + GAP, h: 0, end: BORDER, columns: [] };
    at.push([row.end, row.y]);
    row.columns.push({ x: row.end, w, used: h });
    row.h = Math.max(row.h, h);
    row.end += w + GAP;
  }
  return { at, down: row.y + row.h };
}

/**
 * All pieces of a pattern on one sheet, to scale, in rows by layer, tallest first. The sheet is as wide as its widest row, or its widest piece. Same pattern,
 * same sheet. Letters that the font has not are named in the notes.
 */
export function makeSheet(pattern: Pattern): Sheet {
  const kinds = [...new Set(pattern.pieces.map((p) => p.kind))];
  const drawn: DrawnPiece[] = pattern.pieces.map((p, i) => drawPiece(p, i + 1, pattern));
  const order = kinds.flatMap((kind) =>
    pattern.pieces
      .map((p, i) => ({ p, i, h: drawn[i]!.box[3] - drawn[i]!.box[1] }))
      .filter(({ p }) => p.kind === kind)
      .sort((a, b) => b.h - a.h || a.i - b.i)
      .map(({ i }) => i),
  );
  const sizes = order.map((i) => ({ w: drawn[i]!.box[2] - drawn[i]!.box[0], h: drawn[i]!.box[3] - drawn[i]!.box[1] }));
  const widest = Math.max(ROW, ...sizes.map((s) => s.w)) + 2 * BORDER;
  const { at, down } = rows(sizes, widest);
  const squares = scaleSquares(BORDER, BORDER);
  const title = `${pattern.bag}: ${pattern.option}`;
  const key = legend(BORDER + squares.width + 10, BORDER + 5);
  const head: SheetText[] = [
    { text: title, x: BORDER + squares.width + 90, y: BORDER + 8, size: 7, piece: -1 },
    {
      text: `${pattern.pieces.length} pieces, face up, full size, seam allowances included.`,
      x: BORDER + squares.width + 90,
      y: BORDER + 16,
      size: 3.5,
      piece: -1,
    },
    ...pattern.notes.slice(0, 8).map((text, i): SheetText => ({ text, x: BORDER + squares.width + 90, y: BORDER + 22 + 5 * i, size: 3, piece: -1 })),
  ];
  const lines: SheetLine[] = [...squares.lines, ...key.lines];
  const texts: SheetText[] = [...squares.texts, ...key.texts, ...head];
  const laid: Laid[] = [];
  order.forEach((i, k) => {
    const { box } = drawn[i]!;
    const [dx, dy] = [at[k]![0] - box[0], at[k]![1] - box[1]];
    laid.push({ piece: pattern.pieces[i]!, number: i + 1, x: dx, y: dy });
    lines.push(...drawn[i]!.lines.map((l): SheetLine => ({ ...l, points: l.points.map(([x, y]): Spot => [x + dx, y + dy]) })));
    texts.push(...drawn[i]!.texts.map((t) => ({ ...t, x: t.x + dx, y: t.y + dy })));
  });
  const right = Math.max(...texts.map((t) => t.x + textWidth(t.text, t.size)), ...lines.map((l) => Math.max(...l.points.map((p) => p[0]))));
  const wide = pattern.pieces.filter((_, i) => drawn[i]!.box[2] - drawn[i]!.box[0] > ROW).map((p) => p.name);
  const strange = unknownLetters([...texts.map((t) => t.text)]);
  return {
    title,
    width: Math.ceil(right + BORDER),
    height: Math.ceil(down + BORDER),
    laid,
    lines,
    texts,
    notes: [
      ...(wide.length > 0 ? [`wider than paper of 36 in (914 mm) less its borders: ${wide.join(', ')}; print the pages, or on wider paper`] : []),
      ...(strange.length > 0 ? [`letters that the printed font has not, shown as empty boxes: ${strange.join(' ')}`] : []),
    ],
  };
}
