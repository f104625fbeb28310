/** The notch card: every seam stretched out as two lines with the notches of both sides, to lay beside the pieces. */
import { finishedAs, optionNamed } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import { draftPanels } from '../../panels/index.ts';
import type { Draft, DraftSeam, SeamSide } from '../../panels/types.ts';
import { formatInches, formatMm } from '../../units/index.ts';
import { joinedPanels } from '../pieces/joined.ts';
import { type Notch, notchesOf } from '../pieces/notches.ts';
import { CARD_WIDTH, type Card, type CardBlock, cardLine, clearWords, onCards, paragraph, together } from './card-block.ts';
import type { SheetLine, Spot } from './types.ts';

/** Scales that a seam may be drawn at, 1:n. */
const SCALES = [1, 2, 3, 4, 5, 10, 20, 50];
/** Room for the longest side, mm. */
const ROOM = 180;
/** Between the clips of one notch, and how long one is drawn, mm. */
const CLIPS = 1.6;
const CLIP = 4;
const CLIP_WORDS = ['', 'one clip', 'two clips', 'three clips'];

/** Where along a side its notches are, m from its start. */
const along = (side: SeamSide, notches: readonly Notch[]): number[] =>
  notches
    .flatMap((n) => {
      const run = side.runs.find((r) => r.panel === n.panel && r.edge === n.edge && n.fraction > r.from - 1e-9 && n.fraction < r.to + 1e-9);
      if (!run) return [];
      const share = (n.fraction - run.from) / (run.to - run.from);
      return [side.length * (run.u0 + (run.u1 - run.u0) * (run.forward ? share : 1 - share))];
    })
    .sort((a, b) => a - b);

/** "front: left, bottom", and from where it is measured. */
function sideWords(draft: Draft, side: SeamSide): string {
  const first = side.runs[0]!,
    panel = draft.panels[first.panel]!,
    edge = panel.edges[first.edge]!;
  const names = [...new Set(side.runs.map((r) => r.panel))].map((p) => {
    const edges = [...new Set(side.runs.filter((r) => r.panel === p).map((r) => draft.panels[p]!.edges[r.edge]!.name))];
    return `${draft.panels[p]!.name}: ${edges.join(', ')}`;
  });
  const fraction = first.forward ? first.from : first.to;
  const from =
    fraction > 1e-9 && fraction < 1 - 1e-9
      ? `from ${formatMm(fraction * edge.length)} along ${edge.name}`
      : `from its corner with ${panel.edges[first.forward ? edge.previous : edge.next]!.name}`;
  return `${names.join('; ')}; ${formatMm(side.length)} (${formatInches(side.length)}), ${from}`;
}

function seamBlock(draft: Draft, seam: DraftSeam, made: Bag['seams'][number], notches: readonly Notch[]): CardBlock {
  const long = 1000 * Math.max(seam.sides[0].length, seam.sides[1].length);
  const scale = SCALES.find((s) => long / s <= ROOM) ?? Math.ceil(long / ROOM);
  const clips = notches[0]!.clips;
  const head = paragraph(
    [
      {
        text: `${seam.name}: ${made.type}, ${formatMm(made.allowance)}; ${CLIP_WORDS[clips]}; ${scale === 1 ? 'full size' : `drawn 1:${scale}, distances full size`}`,
        size: 4,
      },
    ],
    0,
    0,
    CARD_WIDTH,
  );
  let down = head.height + 2;
  const sides = seam.sides.map((side) => {
    const at = along(side, notches);
    const told = `${sideWords(draft, side)}${at.length === 0 ? '; no notch: it falls at a corner' : ''}`;
    const words = paragraph([{ text: told, size: 2.8 }], 2, down, CARD_WIDTH - 2);
    const y = words.height + 2.5,
      end = 2 + (1000 * side.length) / scale;
    const ticks = at.flatMap((m): SheetLine[] => {
      const x = 2 + (1000 * m) / scale;
      return Array.from({ length: clips }, (_, i) => {
        const px = x + (i - (clips - 1) / 2) * CLIPS;
        return cardLine('mark', `notch, ${seam.name}`, [
          [px, y],
          [px, y + CLIP],
        ]);
      });
    });
    const lines = [
      cardLine('cut', 'edge of the seam', [
        [2, y],
        [end, y],
      ]),
      ...ticks,
    ];
    const labels = clearWords(
      at.map((m) => {
        const x = 2 + (1000 * m) / scale;
        return {
          texts: [`${formatMm(m)} (${formatInches(m)})`, formatMm(m)],
          size: 2.8,
          at: [0, 3.6, 7.2].flatMap((down): Spot[] => [
            [x, y + CLIP + 3.4 + down],
            [x + 9, y + CLIP + 3.4 + down],
            [x - 9, y + CLIP + 3.4 + down],
          ]),
        };
      }),
      lines,
    );
    const whole = together([words, { lines, texts: labels, height: y + CLIP + Math.max(7.5, ...labels.map((t) => t.y - y - CLIP + 1)) }]);
    down = whole.height + 1;
    return whole;
  });
  return together([head, ...sides]);
}

/** Cards with every seam that has notches, in the order of the file; empty where none has. Parameters and errors: as cutPattern. */
export function notchCards(asWritten: Bag, optionName?: string): Card[] {
  const option = optionNamed(asWritten, optionName);
  const bag = finishedAs(asWritten, option);
  const draft = draftPanels(bag);
  const joined = new Set(joinedPanels(bag, draft, option).flatMap((g) => g.seams));
  const all = notchesOf(draft, (i) => joined.has(bag.seams[i]!.name));
  const marked = draft.seams.flatMap((seam, i) => {
    const own = all.filter((n) => n.seam === seam.name);
    return own.length > 0 ? [seamBlock(draft, seam, bag.seams[i]!, own)] : [];
  });
  const bare = draft.seams.map((s) => s.name).filter((name) => !joined.has(name) && !all.some((n) => n.seam === name));
  const rest =
    bare.length > 0 && marked.length > 0 ? [paragraph([{ text: `Without notches, match the corners: ${bare.join(', ')}.`, size: 3 }], 0, 0, CARD_WIDTH)] : [];
  return onCards(`Notches: ${bag.name}: ${option.name}`, [...marked, ...rest]);
}
