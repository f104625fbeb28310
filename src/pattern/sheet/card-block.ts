/** Cards: blocks of lines and words under one another, on as many sheets of office paper as they take. Millimetres, y down. */
import { textWidth, unknownLetters } from './font.ts';
import { meetsBox, wordBox } from './labels.ts';
import type { SheetLine, SheetText, Spot } from './types.ts';

/** Room of a card inside the borders that A4 and letter share, the foot with its squares left out, mm. */
export const CARD_WIDTH = 194;
export const CARD_HEIGHT = 204;
const TITLE = 6;
const GAP = 6;
/** Of a line of words, in letter heights. */
const LEADING = 1.45;

/** Something drawn from its upper left corner. */
export interface CardBlock {
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
  /** mm */ readonly height: number;
}

/** One sheet of a card. */
export interface Card {
  readonly title: string;
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
}

export const cardText = (text: string, x: number, y: number, size: number): SheetText => ({ text, x, y, size, piece: -1 });
export const cardLine = (ink: SheetLine['ink'], what: string, points: readonly Spot[], closed = false): SheetLine => ({ ink, what, points, closed, piece: -1 });

/** A text in lines no wider than the room, broken between words; a word wider than that stands alone. */
export function broken(text: string, size: number, room: number): string[] {
  const out: string[] = [];
  for (const word of text.split(' ')) {
    const longer = out.length === 0 ? word : `${out[out.length - 1]} ${word}`;
    if (out.length > 0 && textWidth(longer, size) <= room) out[out.length - 1] = longer;
    else out.push(word);
  }
  return out;
}

/** Lines of words under one another. */
export function paragraph(texts: readonly { readonly text: string; readonly size: number }[], x: number, y: number, room: number): CardBlock {
  let down = y;
  const made = texts.flatMap(({ text, size }) =>
    broken(text, size, room).map((line) => {
      const t = cardText(line, x, down + size, size);
      down += LEADING * size;
      return t;
    }),
  );
  return { lines: [], texts: made, height: down };
}

/** Several drawings as one block, each where it stands. */
export const together = (blocks: readonly CardBlock[]): CardBlock => ({
  lines: blocks.flatMap((b) => b.lines),
  texts: blocks.flatMap((b) => b.texts),
  height: Math.max(0, ...blocks.map((b) => b.height)),
});

/** A word that is wanted: what to say, shorter where that has no room, and the places of its middle. */
export interface CardWish {
  readonly texts: readonly string[];
  readonly size: number;
  readonly at: readonly Spot[];
}

/** Words of which each stands at the first of its places that is clear of lines and of the words before it, the longer text first; one without a clear place is left out. */
export function clearWords(wishes: readonly CardWish[], lines: readonly SheetLine[]): SheetText[] {
  const out: SheetText[] = [];
  const clear = (made: SheetText): boolean => {
    const box = wordBox(made, 0.4);
    if (box[0] < 0 || box[2] > CARD_WIDTH) return false;
    const words = out.map((t) => wordBox(t, 0.4));
    if (words.some((w) => w[0] < box[2] && box[0] < w[2] && w[1] < box[3] && box[1] < w[3])) return false;
    return !lines.some((l) =>
      l.points.some((p, i) => {
        if (i === l.points.length - 1 && !l.closed) return false;
        const q = l.points[(i + 1) % l.points.length]!;
        return meetsBox([p[0], p[1], q[0], q[1]], box);
      }),
    );
  };
  for (const { texts, size, at } of wishes) {
    const made = texts.flatMap((text) => at.map(([x, y]) => cardText(text, x - textWidth(text, size) / 2, y, size))).find(clear);
    if (made) out.push(made);
  }
  return out;
}

/** What of the words on cards the printed font has no letters for, a sentence; empty where it has all. */
export function cardNotes(cards: readonly Card[]): string[] {
  const strange = unknownLetters(cards.flatMap((c) => c.texts.map((t) => t.text)));
  return strange.length > 0 ? [`letters that the printed font has not, shown as empty boxes on the cards: ${strange.join(' ')}`] : [];
}

/** Blocks on cards, in order; none is cut in two. */
export function onCards(title: string, blocks: readonly CardBlock[]): Card[] {
  const cards: { lines: SheetLine[]; texts: SheetText[] }[] = [];
  // A long name stands in two lines of smaller letters.
  const size = textWidth(title, TITLE) <= CARD_WIDTH ? TITLE : 0.75 * TITLE;
  const head = paragraph([{ text: title, size }], 0, 1, CARD_WIDTH);
  let down = CARD_HEIGHT;
  for (const b of blocks) {
    if (cards.length === 0 || down + b.height > CARD_HEIGHT) {
      cards.push({ lines: [], texts: [...head.texts] });
      down = head.height + GAP - 1;
    }
    const { lines, texts } = cards[cards.length - 1]!;
    lines.push(...b.lines.map((l): SheetLine => ({ ...l, points: l.points.map(([x, y]): Spot => [x, y + down]) })));
    texts.push(...b.texts.map((t) => ({ ...t, y: t.y + down })));
    down += b.height + GAP;
  }
  return cards.map((c) => ({ title, ...c }));
}
