import { fitLines, rect, text } from './svg.ts';
import { MUTED } from './tokens.ts';

/** A map's name, scale and words, to be set under the bags that it is drawn on. */
export interface MapLegend {
  readonly title: string;
  /** What it shows and what it does not. */ readonly how: string;
  /** CSS colours, pale end first, each over the same share of the scale. */ readonly colours: readonly string[];
  /** Figures under the scale, evenly spaced from end to end. */ readonly marks: readonly string[];
  /** What was found, one per option. */ readonly found: readonly string[];
}

const BAR = { width: 560, height: 14 } as const;
const LINE = 17;

/** SVG of a legend from `top` down, px: its label column at the left, the scale and its words from `left` on, what was found under each bay. */
export function paintLegend(
  l: MapLegend,
  top: number,
  at: { readonly left: number; readonly right: number; readonly bayX: (i: number) => number; readonly bayWidth: number },
): { svg: string; height: number } {
  const x = at.left + 20;
  const room = at.right - x - 20;
  const wide = Math.min(BAR.width, room);
  const parts = [text(18, top + 31, 'map', { fill: MUTED }), text(x, top + 31, l.title, { weight: 600 })];
  l.colours.forEach((colour, i) => {
    // A hair wider than its share, so that no paper shows between two steps.
    parts.push(rect(x + (i * wide) / l.colours.length, top + 44, wide / l.colours.length + (i + 1 < l.colours.length ? 0.6 : 0), BAR.height, colour));
  });
  l.marks.forEach((mark, i) => {
    const last = l.marks.length - 1;
    parts.push(text(x + (i * wide) / last, top + 76, mark, { size: 12.5, anchor: i === 0 ? 'start' : i === last ? 'end' : 'middle' }));
  });
  let y = top + 98;
  for (const words of fitLines(l.how, room, 12.5)) {
    parts.push(text(x, y, words, { size: 12.5, fill: MUTED }));
    y += LINE;
  }
  y += 8;
  parts.push(text(18, y, 'found', { fill: MUTED }));
  const found = l.found.map((words) => fitLines(words, at.bayWidth - 36, 13.5));
  found.forEach((lines, i) => {
    parts.push(...lines.map((words, k) => text(at.bayX(i) + 20, y + LINE * k, words, { size: 13.5 })));
  });
  return { svg: parts.join('\n'), height: y - top + LINE * Math.max(1, ...found.map((f) => f.length)) };
}
