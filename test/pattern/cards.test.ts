import { createCanvas } from '@napi-rs/canvas';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, test } from 'vitest';
import { BagError, newBag, parseBag } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { CUT_DEFAULTS, cardNotes, cardsPdf, cutPattern, makeSheet, notchCards, strapCards } from '../../src/pattern/cutting.ts';
import { notchesOf } from '../../src/pattern/pieces/notches.ts';
import { strapFold } from '../../src/pattern/pieces/straps.ts';
import { CARD_HEIGHT, CARD_WIDTH } from '../../src/pattern/sheet/card-block.ts';
import { clashes, rect } from './clashes.ts';
import { templateBags } from './cut-bags.ts';

const bags = templateBags();
/** The flat tote with handles of canvas, so many layers thick. */
const clothTote = (layers: number, anchor = 'box with cross'): Bag => {
  const source = JSON.parse(newBag('flat-tote'));
  const straps = Object.fromEntries(
    Object.entries(source.straps as Record<string, { from: object }>).map(([name, s]) => [
      name,
      { ...s, from: { ...s.from, kind: anchor }, layers, stack: 'handle cloth' },
    ]),
  );
  return parseBag({ ...source, straps, stacks: { ...source.stacks, 'handle cloth': ['canvas10'] } });
};
const cardsOf = (bag: Bag, option?: string) => [...notchCards(bag, option), ...strapCards(bag, cutPattern(bag, option), CUT_DEFAULTS)];

describe('cloth straps', () => {
  test('25 mm of cloth: one layer is cut 45 mm wide, two 70, three 85, four 100, five 135, six 150 mm; folds add up to the width; leather 25 mm a layer', () => {
    expect([1, 2, 3, 4, 5, 6].map((l) => Math.round(1000 * strapFold(0.025, l, true, 0.01).cut))).toEqual([45, 70, 85, 100, 135, 150]);
    expect([1, 2, 3, 4].map((l) => Math.round(1000 * strapFold(0.025, l, false, 0.01).cut))).toEqual([25, 50, 75, 100]);
    for (const layers of [1, 2, 3, 4, 5, 6, 8]) {
      const { cut, folds } = strapFold(0.025, layers, true, 0.01);
      const strips = [0, ...folds, cut].slice(1).map((x, i) => x - [0, ...folds][i]!);
      // Every strip between two folds is the finished strap; what is turned in stands outside of them.
      expect(strips.filter((w) => Math.abs(w - 0.025) < 1e-12).length, `${layers} layers: ${strips}`).toBe(layers);
      expect(strips.reduce((a, b) => a + b, 0)).toBeCloseTo(cut, 12);
    }
    // A strap of 10 mm has room for 5 mm in each edge.
    expect(strapFold(0.01, 1, true, 0.01).cut).toBeCloseTo(0.02, 12);
  });

  test('the piece of a doubled canvas handle has its turned edges, folds, turned-under ends and patches; its word says how it is folded; --strap-turn changes it', () => {
    const bag = clothTote(2),
      s = bag.straps[0]!;
    const piece = cutPattern(bag).pieces.find((p) => p.kind === 'strap')!;
    const xs = piece.cut.flat().map((p) => p[0]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(2 * s.width + 0.02, 9);
    expect(piece.lines.filter((l) => l.what === 'fold line').map((l) => l.points[0]![0])).toEqual(
      [0.01, 0.01 + s.width, 0.01 + 2 * s.width].map((x) => expect.closeTo(x, 9)),
    );
    expect(piece.lines.filter((l) => l.what === 'end turned under').length).toBe(2);
    expect(piece.lines.filter((l) => l.what === 'end of the patch').length).toBe(2);
    expect(piece.notes.join('; ')).toContain('folded in half');
    const wider = cutPattern(bag, undefined, { strapTurn: 0.012 }).pieces.find((p) => p.kind === 'strap')!;
    expect(wider.area - piece.area).toBeCloseTo(0.004 * (Math.max(...piece.cut.flat().map((p) => p[1])) - Math.min(...piece.cut.flat().map((p) => p[1]))), 9);
    expect(clashes(makeSheet(cutPattern(bag)))).toEqual([]);
  });
});

describe('hardware, closures and members on the pattern', () => {
  const fitted = parseBag({
    ...JSON.parse(newBag('boxed-tote')),
    members: { piping: { along: ['front.top', 'back.top'], kind: 'paper cord', size: '5 mm', 'stops short': '8 mm' } },
    hardware: { feet: { kind: 'foot', panel: 'front', at: [['100 mm', '60 mm']] } },
    closures: { snap: { kind: 'snap', from: { panel: 'front', at: ['180 mm', '280 mm'] }, to: { panel: 'back', at: ['180 mm', '280 mm'] } } },
  });

  test('each is drawn true to size where the file has it, is named, and no word lies on a line', () => {
    const sheet = makeSheet(cutPattern(fitted));
    const front = sheet.laid.find((l) => l.piece.kind === 'shell' && l.piece.panels.includes('front'))!;
    const circle = sheet.lines.find((l) => l.piece === front.number && l.what.startsWith('snap') && l.closed)!;
    const [xs, ys] = [circle.points.map((p) => p[0]), circle.points.map((p) => p[1])];
    expect(Math.max(...xs) - Math.min(...xs), 'mm across').toBeCloseTo(1000 * 0.015, 2);
    // As the sheet has it: x + 1000 u, y - 1000 v.
    const snap = fitted.closures![0]!;
    if (!('ends' in snap)) throw new Error('no snap');
    const [a] = snap.ends;
    expect([(Math.max(...xs) + Math.min(...xs)) / 2, (Math.max(...ys) + Math.min(...ys)) / 2]).toEqual([
      expect.closeTo(front.x + 1000 * a.at[0], 2),
      expect.closeTo(front.y - 1000 * a.at[1], 2),
    ]);
    const words = sheet.texts.filter((t) => t.piece === front.number).map((t) => t.text);
    expect(words).toEqual(expect.arrayContaining(['snap, 15 mm', 'feet: foot, 12 mm', 'piping: paper cord of 5 mm']));
    expect(clashes(sheet)).toEqual([]);
  });

  test('the satchel’s magnet is on flap and front, the pouch’s channel and the duffel’s zip on their panels', () => {
    for (const [name, what] of [
      ['satchel', 'magnet'],
      ['drawstring-pouch', 'channel'],
      ['barrel-duffel', 'zip'],
    ] as const) {
      const sheet = makeSheet(cutPattern(bags.find((b) => b.name === name)!.bag));
      expect(
        sheet.lines.some((l) => l.ink === 'mark' && l.what.includes(what)),
        `${name}: ${what}`,
      ).toBe(true);
      expect(
        sheet.texts.some((t) => t.text.includes(what)),
        `${name}: word of ${what}`,
      ).toBe(true);
    }
  });
});

describe('cards of notches and straps', () => {
  const made = [
    ...bags,
    ...[1, 2, 4, 5].map((l) => ({ name: `tote with ${l} layers of canvas`, bag: clothTote(l) })),
    { name: 'riveted', bag: clothTote(2, 'rivet') },
  ];

  test('of the ten templates and five totes with cloth handles: no word lies on a line or another word, nothing leaves the card', () => {
    for (const { name, bag } of made)
      for (const [i, card] of cardsOf(bag).entries()) {
        expect(clashes(card), `${name}, card ${i + 1}`).toEqual([]);
        const spots = [...card.lines.flatMap((l) => l.points), ...card.texts.flatMap(rect)];
        const outside = spots.filter(([x, y]) => x < -0.01 || x > CARD_WIDTH + 0.01 || y < -0.01 || y > CARD_HEIGHT + 0.01);
        expect(outside, `${name}, card ${i + 1}`).toEqual([]);
      }
  });

  test('every notch of every seam stands on the card with its distance, both sides of a seam with the same clips, and every seam is named', () => {
    for (const { name, bag } of bags) {
      const draft = draftPanels(bag);
      const folds = new Set(bag.seams.filter((s) => s.type === 'fold').map((s) => s.name));
      const notches = notchesOf(draft, (i) => folds.has(bag.seams[i]!.name));
      const cards = notchCards(bag);
      const ticks = cards.flatMap((c) => c.lines).filter((l) => l.what.startsWith('notch, '));
      expect(ticks.length, `${name}: clips`).toBe(notches.reduce((sum, n) => sum + n.clips, 0));
      const labels = cards.flatMap((c) => c.texts).filter((t) => /^[\d.]+ mm( \(.* in\))?$/.test(t.text));
      expect(labels.length, `${name}: distances`).toBe(notches.length);
      const words = cards.flatMap((c) => c.texts.map((t) => t.text)).join(' ');
      for (const seam of new Set(notches.map((n) => n.seam))) expect(words, name).toContain(seam);
    }
  });

  test('drawn by pdfjs, the squares of every card are 50.0 and 50.8 mm to 0.2 mm on A4 and on letter, and a patch of 25 mm is 25.0 mm across', async () => {
    const cards = cardsOf(clothTote(2));
    for (const paper of ['a4', 'letter'] as const) {
      const doc = await getDocument({ data: cardsPdf(cards, paper).slice(), verbosity: 0 }).promise;
      expect(doc.numPages).toBe(cards.length);
      for (let number = 1; number <= doc.numPages; number++) {
        const dark = await pixels(doc, number);
        for (const [x, side] of [
          [8, 50],
          [64, 50.8],
        ] as const) {
          const found = across(dark, x, 8 + CARD_HEIGHT + 4 + 30, side);
          expect(Math.abs(found - side), `card ${number} on ${paper}: ${found} mm for ${side}`).toBeLessThan(0.2);
        }
      }
      await doc.loadingTask.destroy();
    }
    const straps = strapCards(clothTote(2), cutPattern(clothTote(2)), CUT_DEFAULTS)[0]!;
    const side = straps.lines.find((l) => l.what === 'side of the strap')!;
    const xs = side.points.map((p) => p[0]);
    expect(Math.max(...xs) - Math.min(...xs), 'mm').toBeCloseTo(1000 * clothTote(2).straps[0]!.width, 9);
  });

  test('a strap card says how many, how long, how wide and where, and that it says nothing of loads; without straps there is none; same bag, same bytes', () => {
    const bag = clothTote(2);
    const text = strapCards(bag, cutPattern(bag), CUT_DEFAULTS)
      .flatMap((c) => c.texts.map((t) => t.text))
      .join(' ');
    for (const words of [
      'Cut 2: ',
      'Folded in half to',
      'turned under',
      'from the left to the middle of the strap',
      'says nothing of what a strap bears',
      'Piece ',
    ])
      expect(text).toContain(words);
    const clutch = bags.find((b) => b.name === 'envelope-clutch')!.bag;
    expect(strapCards(clutch, cutPattern(clutch), CUT_DEFAULTS)).toEqual([]);
    expect(cardsPdf(cardsOf(bag), 'a4')).toEqual(cardsPdf(cardsOf(bag), 'a4'));
    expect(() => notchCards(bag, 'none')).toThrow(BagError);
    expect(cardNotes(cardsOf(bag))).toEqual([]);
    expect(cardNotes(cardsOf(parseBag({ ...JSON.parse(newBag('flat-tote')), name: 'カバン' }))).join()).toContain('カ バ ン');
  });
});

const PIXELS = 5;
type Doc = Awaited<ReturnType<typeof getDocument>['promise']>;

/** Darkness of a page, 0 to 255, by pixel. */
async function pixels(doc: Doc, number: number): Promise<(x: number, y: number) => number> {
  const page = await doc.getPage(number);
  const viewport = page.getViewport({ scale: (PIXELS * 25.4) / 72 });
  const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)];
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
  const { data } = context.getImageData(0, 0, width, height);
  return (x, y) => 255 - data[4 * (y * width + x)]!;
}

/** Distance of two upright lines near x and x + side at height y, mm: between their centres of darkness. */
function across(dark: (x: number, y: number) => number, x: number, y: number, side: number): number {
  const centre = (at: number): number => {
    const from = Math.round(at * PIXELS) - 6;
    const each = Array.from({ length: 13 }, (_, k) =>
      Array.from({ length: 40 }, (_, r) => dark(from + k, Math.round(y * PIXELS) + r)).reduce((a, b) => a + b, 0),
    );
    return from + each.reduce((s, v, i) => s + v * i, 0) / each.reduce((s, v) => s + v, 0);
  };
  return (centre(x + side) - centre(x)) / PIXELS;
}
