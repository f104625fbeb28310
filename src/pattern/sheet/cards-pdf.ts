import { broken, CARD_HEIGHT, CARD_WIDTH, type Card, cardText } from './card-block.ts';
import { n } from './ink.ts';
import { scaleSquares } from './make-sheet.ts';
import { operators, type PdfPage, pdfFile } from './pdf-file.ts';
import { EDGE, PAPERS, type TilePaper } from './tiles.ts';

/** Between a card and its foot, mm; as on the pages of the pattern. */
const ABOVE_FOOT = 4;

/** Cards as a PDF, a page each, with both squares at its foot. Same cards, same bytes. */
export function cardsPdf(cards: readonly Card[], paper: TilePaper): Uint8Array {
  const [width, height] = PAPERS[paper];
  const foot = EDGE + CARD_HEIGHT + ABOVE_FOOT;
  const squares = scaleSquares(EDGE, foot);
  const left = EDGE + squares.width + 6;
  const pages = cards.map((card, i) => {
    const texts = [
      ...squares.texts,
      cardText(`Card ${i + 1} of ${cards.length}`, left, foot + 8, 6),
      ...broken(card.title, 3, EDGE + CARD_WIDTH - left).map((line, k) => cardText(line, left, foot + 15 + 4.4 * k, 3)),
    ];
    const content = `q 1 0 0 1 ${n(EDGE)} ${n(EDGE)} cm\n${operators(card.lines, card.texts)}\nQ\n${operators(squares.lines, texts)}`;
    return { page: { width, height, content } satisfies PdfPage, words: [...card.texts, ...texts].map((t) => t.text) };
  });
  return pdfFile(
    cards[0]?.title ?? '',
    pages.map((p) => p.page),
    [],
    pages.flatMap((p) => p.words),
  );
}
