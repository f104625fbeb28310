/** The strap card: how each strap is cut, folded and sewn on, its end full size, and where its ends lie. */
import { anchorPlace, finishedAs, optionNamed, strapCut, TURN_UNDER } from '../../bag/index.ts';
import type { Anchor, Bag, Strap } from '../../bag/types.ts';
import { formatInches, formatMm } from '../../units/index.ts';
import { WEBBING } from '../pieces/layer-kind.ts';
import { strapFold, strapFrays } from '../pieces/straps.ts';
import type { CutOptions, Pattern } from '../pieces/types.ts';
import { CARD_WIDTH, type Card, type CardBlock, cardLine, cardText, clearWords, onCards, paragraph, together } from './card-block.ts';
import { textWidth } from './font.ts';
import type { SheetLine, Spot } from './types.ts';

/** Straps that one block tells of: more would not go on a card. */
const MOST = 8;
/** What the card leaves open. */
const CAUTIONS = [
  'This card says nothing of what a strap bears. Webbing and leather stretch under load and in wear: cut one, hang the loaded bag from it, then cut the others.',
  'An adjuster needs more: the part that is folded back at its longest setting, and 25 mm (1 in) folded and sewn round each bar or ring.',
];
/** Height of the drawn end beyond its patch, and of a strap seen across, mm. */
const BEYOND = 12;
const ACROSS = 14;
/** Stitches stand this far inside the edges of the strap, mm. Common practice, no source. */
const INSIDE = 2;

const both = (m: number): string => `${formatMm(m)} (${formatInches(m)})`;
const box = (ink: SheetLine['ink'], what: string, x: number, y: number, w: number, h: number): SheetLine =>
  cardLine(
    ink,
    what,
    [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ],
    true,
  );

/** Straps that are made alike: one block for all of them. */
const alike = (a: Strap, b: Strap): boolean =>
  a.width === b.width &&
  a.length === b.length &&
  a.layers === b.layers &&
  a.stack === b.stack &&
  a.anchors.every((x, i) => x.kind === b.anchors[i]!.kind && x.width === b.anchors[i]!.width && x.height === b.anchors[i]!.height);

/** The stitching of a patch, full size, a little inside it: box, cross, row, rivet hole or loop. */
function stitching({ kind, width, height }: Anchor, left: number, top: number): SheetLine[] {
  const inside = Math.min(INSIDE, 150 * width, 150 * height);
  const [x, y, w, h] = [left + inside, top + inside, 1000 * width - 2 * inside, 1000 * height - 2 * inside];
  const level = (at: number): SheetLine =>
    cardLine('stitch', kind, [
      [x, at],
      [x + w, at],
    ]);
  switch (kind) {
    case 'rivet': {
      const [cx, cy] = [x + w / 2, y + h / 2];
      return [
        cardLine('mark', kind, [
          [cx - 3, cy],
          [cx + 3, cy],
        ]),
        cardLine('mark', kind, [
          [cx, cy - 3],
          [cx, cy + 3],
        ]),
      ];
    }
    case 'row':
    case 'ring loop':
      return [box('stitch', 'patch', x, y, w, h), level(y + h / 2)];
    case 'box':
      return [box('stitch', 'patch', x, y, w, h)];
    case 'box with cross':
      return [
        box('stitch', 'patch', x, y, w, h),
        cardLine('stitch', kind, [
          [x, y],
          [x + w, y + h],
        ]),
        cardLine('stitch', kind, [
          [x + w, y],
          [x, y + h],
        ]),
      ];
  }
}

/** One end as it lies on the panel, full size: turned-under fold below, the patch, and a little of the strap; words to its right. */
function endBlock(anchor: Anchor, strap: Strap, x: number, y: number): CardBlock {
  const [w, h] = [1000 * strap.width, 1000 * anchor.height],
    patch = 1000 * anchor.width;
  const left = x + (w - patch) / 2;
  const top = y + BEYOND;
  const lines = [
    // The strap runs on upward: its side lines only.
    cardLine('cut', 'side of the strap', [
      [x, y],
      [x, top + h],
      [x + w, top + h],
      [x + w, y],
    ]),
    ...stitching(anchor, left, top),
  ];
  const right = Math.max(x + w, left + patch) + 3;
  const words = paragraph(
    [
      { text: `${anchor.kind}, ${formatMm(anchor.width)}${anchor.kind === 'rivet' ? '' : ` x ${formatMm(anchor.height)}`}`, size: 3 },
      { text: `lower edge: ${formatMm(TURN_UNDER)} turned under${anchor.kind === 'rivet' ? '' : `; stitches ${INSIDE} mm inside the edges`}`, size: 2.6 },
    ],
    right,
    top,
    60,
  );
  return together([{ lines, texts: [], height: top + h + 2 }, words]);
}

/** The strap across, full size: its cut width and where it is folded. */
function acrossBlock(fold: ReturnType<typeof strapFold>, y: number): CardBlock {
  const lines = [
    box('cut', 'strap across', 0, y, 1000 * fold.cut, ACROSS),
    ...fold.folds.map((f) =>
      cardLine('fold', 'fold line', [
        [1000 * f, y],
        [1000 * f, y + ACROSS],
      ]),
    ),
  ];
  const marks = [0, ...fold.folds, fold.cut];
  const labels = marks.slice(1).map((m, i) => {
    const middle = 500 * (m + marks[i]!);
    return {
      texts: [formatMm(m - marks[i]!)],
      size: 2.6,
      at: [0, 3.4, 6.8].map((down): Spot => [Math.max(middle, textWidth('00 mm', 2.6)), y + ACROSS + 3.4 + down]),
    };
  });
  return { lines, texts: clearWords(labels, lines), height: y + ACROSS + 11 };
}

function strapBlock(bag: Bag, straps: readonly Strap[], pattern: Pattern, o: Pick<CutOptions, 'strapTurn'>): CardBlock {
  const s = straps[0]!,
    fold = strapFold(s.width, s.layers, strapFrays(bag, s), o.strapTurn);
  const stack = bag.stacks.find((k) => k.name === s.stack)!;
  const webbing = stack.kind === 'layers' && WEBBING.test(stack.layers[0]!.material);
  const pieces = pattern.pieces.flatMap((p, i) => (p.kind === 'strap' && straps.some((k) => p.name.split(', ').includes(`strap ${k.name}`)) ? [i + 1] : []));
  const wide = webbing ? s.width : fold.cut;
  const of = pieces.length > 0 ? ` Piece ${pieces.join(', ')} of ${pattern.pieces.length} on the pattern.` : '';
  const count = straps.length * (webbing ? s.layers : 1);
  const places = straps.flatMap((k) =>
    ([0, 1] as const).map((e) => {
      const p = anchorPlace(bag, k, e);
      return `${k.name}, panel ${k.anchors[e].panel}: ${both(p.fromSide)} from the ${p.side} to the middle of the strap, ${both(p.fromTop)} from the top to its patch`;
    }),
  );
  const head = paragraph(
    [
      { text: `Strap ${straps.map((k) => k.name).join(', ')}: ${s.stack}`, size: 4.5 },
      {
        text: `Cut ${count}: ${both(strapCut(s))} long, ${both(wide)} wide.${webbing || fold.words === '' ? '' : ` ${fold.words[0]!.toUpperCase()}${fold.words.slice(1)}.`}${of}`,
        size: 3.2,
      },
      { text: `${both(s.length)} between the tops of its patches${s.drop === null ? '' : `; drop wanted ${both(s.drop)}`}.`, size: 3.2 },
      ...places.map((text) => ({ text, size: 2.8 })),
    ],
    0,
    0,
    CARD_WIDTH,
  );
  const across = webbing || fold.folds.length === 0 || 1000 * fold.cut > CARD_WIDTH ? null : acrossBlock(fold, head.height + 7);
  const say = (text: string, y: number): CardBlock => ({ lines: [], texts: [cardText(text, 0, y, 2.8)], height: y });
  const from = (across?.height ?? head.height) + 2;
  const [a, b] = s.anchors;
  const same = a.kind === b.kind && a.width === b.width && a.height === b.height;
  const ends = (same ? [a] : [a, b]).map((anchor, i) => endBlock(anchor, s, i * 97, from + 5));
  return together([
    head,
    ...(across ? [say('Across, full size:', head.height + 5), across] : []),
    say(same ? 'Both ends as they are sewn on, full size:' : 'Its two ends as they are sewn on, full size:', from + 3),
    ...ends,
  ]);
}

/** Cards with every strap, those made alike together; empty where there is none. Parameters: bag; the pattern that it is cut by; how far raw edges are turned in. */
export function strapCards(asWritten: Bag, pattern: Pattern, o: Pick<CutOptions, 'strapTurn'>): Card[] {
  const bag = finishedAs(asWritten, optionNamed(asWritten, pattern.option));
  const families: Strap[][] = [];
  for (const s of bag.straps) {
    const known = families.find((f) => f.length < MOST && alike(f[0]!, s));
    if (known) known.push(s);
    else families.push([s]);
  }
  if (families.length === 0) return [];
  const blocks = families.map((f) => strapBlock(bag, f, pattern, o));
  const cautions = paragraph(
    CAUTIONS.map((text) => ({ text, size: 3 })),
    0,
    0,
    CARD_WIDTH,
  );
  return onCards(`Straps: ${bag.name}: ${pattern.option}`, [...blocks, cautions]);
}
