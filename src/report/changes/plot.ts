import { escapeXml, formatMass } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { FONT_ATTRIBUTES, fitLines, line, px, rect, text } from '../picture/svg.ts';
import { BAND, CHOSEN, INK, MUTED, PAPER, RULE } from '../picture/tokens.ts';
import { effectWords, moved } from './text.ts';
import type { ChangeReport } from './types.ts';

const WIDTH = 1120;
const WORDS = 470;
const BARS = 200;
const HEAD = 84;
const ROW = 34;

/** Ranked changes as bars about a common zero, the figures in words beside each: SVG text. Rows that meet what is wanted have the chosen colour and say so. */
export function changesSvg(r: ChangeReport): string {
  const shapes = r.changes.map((c) => moved(c.effect, r.asDrawn));
  const what = shapes.find((s) => s !== null)?.what ?? null;
  const most = Math.max(0.005, ...shapes.map((s) => Math.abs(s?.by ?? 0)));
  const zero = WORDS + BARS / 2;
  const notes = [
    'Middle of the material band, one coarse mesh, no nudge: good for ranking only. Settle the one you choose.',
    ...(r.hung ? HANGING_CAUTIONS : []),
  ].flatMap((words) => fitLines(words, WIDTH - 36, 12.5, 3));
  const height = HEAD + ROW * r.changes.length + 22 + 18 * notes.length;
  const rows = r.changes.flatMap((c, i) => {
    const y = HEAD + ROW * i;
    const by = shapes[i]?.by ?? 0;
    const w = (Math.abs(by) / most) * (BARS / 2 - 4);
    const words = `${effectWords(c.effect, r.asDrawn)}; ${c.effect.word}${c.effect.meetsWanted === true ? ', as wanted' : ''}`;
    return [
      ...(c.effect.meetsWanted === true ? [rect(0, y, WIDTH, ROW, CHOSEN)] : []),
      line(0, y, WIDTH, y, RULE),
      text(18, y + 22, fitLines(`${i + 1}. ${c.change}`, WORDS - 30, 14, 1)[0] ?? '', { size: 14 }),
      ...(w > 0.5 ? [rect(by < 0 ? zero - w : zero, y + 9, w, ROW - 18, BAND)] : []),
      text(WORDS + BARS + 14, y + 22, fitLines(words, WIDTH - WORDS - BARS - 24, 13, 1)[0] ?? '', { size: 13, fill: INK }),
    ];
  });
  const foot = HEAD + ROW * r.changes.length;
  const title = `${r.bag}, ${r.option}, ${r.stance}: what one change does`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${px(height)}" viewBox="0 0 ${WIDTH} ${px(height)}" role="img" aria-label="${escapeXml(title)}" ${FONT_ATTRIBUTES}>`,
    rect(0, 0, WIDTH, height, PAPER),
    text(18, 32, fitLines(title, WIDTH - 36, 17, 1)[0] ?? '', { size: 17, weight: 600 }),
    text(
      18,
      56,
      fitLines(
        `as drawn: ${r.asDrawn.word}, ${formatMass(r.asDrawn.massKg)}; wanted "${r.wanted}"${what === null ? '' : `; bars: ${what}, left less, right more`}`,
        WIDTH - 36,
        13,
        1,
      )[0] ?? '',
      { size: 13, fill: MUTED },
    ),
    ...rows,
    line(zero, HEAD - 6, zero, foot, MUTED),
    line(0, foot, WIDTH, foot, RULE),
    ...notes.map((note, i) => text(18, foot + 24 + 18 * i, note, { size: 12.5, fill: MUTED })),
    '</svg>\n',
  ].join('\n');
}
