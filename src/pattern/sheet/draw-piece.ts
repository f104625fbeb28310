/** One piece in millimetres, with its grain arrow and its words. */
import type { Point2 } from '../../bag/types.ts';
import { insidePolygon, libm } from '../../numerics/index.ts';
import type { Pattern, Piece } from '../pieces/types.ts';
import { type Box, blockAt, placeBlock, placeWord, Taken, wordBox } from './labels.ts';
import type { SheetLine, SheetText, Spot } from './types.ts';
import { titleBlocks } from './words.ts';

/** A piece drawn about its own origin: lines, words, and the box that both take, mm. */
export interface DrawnPiece {
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
  readonly box: Box;
  /** Words that found no room inside and stand below. */ readonly below: number;
}

const mm = ([x, y]: Point2): Spot => [1000 * x, -1000 * y];
const WORD_SIZES = [3, 2.5, 2.1] as const;
const BELOW = 3;

/** An arrow along the warp, both ways, where it crosses nothing; the longest of a few lengths that has room near the middle. */
function grainArrow(warp: number, box: Box, taken: Taken, inside: (p: Spot) => boolean): Spot[][] | null {
  const [dx, dy] = [libm.cos(warp), -libm.sin(warp)];
  const reach = Math.min((box[2] - box[0]) / Math.max(Math.abs(dx), 1e-9), (box[3] - box[1]) / Math.max(Math.abs(dy), 1e-9));
  const steps = 10;
  const tries = Array.from({ length: libm.square(steps + 1) }, (_, k) => [(k % (steps + 1)) / steps, Math.floor(k / (steps + 1)) / steps] as const).sort(
    (a, b) => libm.hypot(a[0] - 0.3, a[1] - 0.5) - libm.hypot(b[0] - 0.3, b[1] - 0.5),
  );
  for (const share of [0.55, 0.4, 0.28, 0.18, 0.1]) {
    const half = Math.min(90, (share * reach) / 2);
    if (half < 4) break;
    for (const [u, v] of tries) {
      const [cx, cy] = [box[0] + u * (box[2] - box[0]), box[1] + v * (box[3] - box[1])];
      const [a, b]: [Spot, Spot] = [
        [cx - dx * half, cy - dy * half],
        [cx + dx * half, cy + dy * half],
      ];
      const head = Math.min(4, half / 2);
      const tip = (p: Spot, s: number): Spot[] => [
        [p[0] - s * head * (dx - dy * 0.5), p[1] - s * head * (dy + dx * 0.5)],
        p,
        [p[0] - s * head * (dx + dy * 0.5), p[1] - s * head * (dy - dx * 0.5)],
      ];
      const strokes = [[a, b], tip(b, 1), tip(a, -1)];
      // Pieces of the shaft, each with room round it.
      const clear = Array.from({ length: 9 }, (_, i): Spot => [a[0] + ((b[0] - a[0]) * i) / 8, a[1] + ((b[1] - a[1]) * i) / 8]).every((p, i, all) => {
        const q = all[Math.min(i + 1, 8)]!;
        const room: Box = [Math.min(p[0], q[0]) - 2.5, Math.min(p[1], q[1]) - 2.5, Math.max(p[0], q[0]) + 2.5, Math.max(p[1], q[1]) + 2.5];
        return inside(p) && taken.free(room);
      });
      if (clear) return strokes;
    }
  }
  return null;
}

/** A piece as it is printed. number: which of all pieces. */
export function drawPiece(piece: Piece, number: number, pattern: Pattern): DrawnPiece {
  const loops = piece.cut.map((loop) => loop.map(mm));
  const lines: SheetLine[] = [
    ...loops.map((points): SheetLine => ({ ink: 'cut', points, closed: true, what: 'cut line', piece: number })),
    ...piece.lines.map((l): SheetLine => ({ ink: l.ink, points: l.points.map(mm), closed: l.closed, what: l.what, piece: number })),
  ];
  const xs = loops.flat().map((p) => p[0]);
  const ys = loops.flat().map((p) => p[1]);
  const box: Box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const inside = (p: Spot): boolean => loops.filter((loop) => insidePolygon(p, loop)).length % 2 === 1;
  const taken = new Taken();
  for (const l of lines) taken.line(l.points, l.closed);
  const texts: SheetText[] = [];
  const put = (made: readonly SheetText[]): void => {
    for (const t of made) {
      texts.push(t);
      taken.word(wordBox(t));
    }
  };
  const arrow = grainArrow(piece.warp, box, taken, inside);
  for (const points of arrow ?? []) {
    lines.push({ ink: 'grain', points, closed: false, what: 'grain', piece: number });
    taken.line(points, false);
  }
  const blocks = titleBlocks(piece, number, pattern);
  const title = placeBlock(blocks, box, taken, inside, number);
  if (title) put(title);
  const left: { text: string; size: number }[] = title ? [] : [...blocks[2]!.lines];
  if (title && title.length < blocks[0]!.lines.length) left.push(...piece.notes.map((text) => ({ text, size: BELOW })));
  if (!arrow)
    left.push({
      text: `grain ${Math.abs(libm.sin(piece.warp)) > 0.99 ? 'runs up the piece' : Math.abs(libm.cos(piece.warp)) > 0.99 ? 'runs across the piece' : 'leans as marked in the list'}`,
      size: BELOW,
    });
  for (const wish of piece.wishes) {
    const made = placeWord(wish.text, wish.at.map(mm), WORD_SIZES, taken, inside, number);
    if (made) put([made]);
    else left.push({ text: wish.text, size: BELOW });
  }
  if (left.length === 0) return { lines, texts, box, below: 0 };
  const unlike = left.filter((l, i) => left.findIndex((o) => o.text === l.text) === i);
  const under = blockAt({ lines: unlike }, box[0], box[3] + 2.5, number);
  return { lines, texts: [...texts, ...under.texts], box: [box[0], box[1], Math.max(box[2], under.box[2]), under.box[3]], below: unlike.length };
}
