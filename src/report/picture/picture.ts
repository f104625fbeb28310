import { formatInches, formatMm } from '../../units/index.ts';
import { aroundWords } from '../ground.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { leadRun } from '../judge.ts';
import { smoothBag, type Window } from '../raster/smooth-bag.ts';
import type { Result } from '../types.ts';
import { BAND_WORD, shortStory } from '../words.ts';
import { type Frame, type Posed, paperExtent, poseForView } from './camera.ts';
import { extraRows, paintCell, paintTag, paintVerdict, pictureRows, ROW, verdictHeight } from './column.ts';
import { type MapLegend, paintLegend } from './legend.ts';
import { MAT_TEXT, type MatBox, paintMat, paintPointers, paintTape } from './mat.ts';
import { type Colouring, paintBag, paintDrafted, paintShadow } from './paint.ts';
import { type Solid, solidOf, solidOfThing, solidPieces } from './solids.ts';
import { FONT_ATTRIBUTES, fitLines, line, px, rect, text, textWidth } from './svg.ts';
import { CHALK, CHOSEN, MUTED, PAPER, RULE, TAPE } from './tokens.ts';

const WORDS = 172;
const TAPE_WIDTH = 66;
/** Bay width and room for the bag's height by the number of options, px. */
const BAYS = [
  { width: 620, height: 380 },
  { width: 430, height: 330 },
  { width: 352, height: 290 },
  { width: 312, height: 260 },
] as const;
/** Most options that one picture shows. */
export const MOST_SHOWN = BAYS.length;
/** Room over the bags with the options' names and stacks in it, and without, px. */
const HEAD = 92;
const BARE_HEAD = 20;
const FOOT = 54;
const PAD = 34;

export interface PictureOptions {
  /** A map on each bag, where there is one. */ readonly colourings?: readonly (Colouring | null)[];
  /** Its scale and words; left out where the caller has them elsewhere. */ readonly legend?: MapLegend;
  /** The bags as images lit point by point, in which no facet shows: for print, and larger. Without a map. */ readonly smooth?: boolean;
  /** Only the mat with the bags: no words and figures under it, for those who set these themselves. */ readonly bare?: boolean;
  /** All results that share this picture's scale; default those shown. */ readonly among?: readonly Result[];
  /** false: no names over the bags, for those who have written them already. Default true. */ readonly names?: boolean;
}

/**
 * Still picture as SVG text: up to four options on one mat beside one tape, all at one scale and under one view; dashed as drafted, solid where it
 * came to rest; under each the verdict as a drooping strip, a word and a sentence, and its figures with the low-to-high bars.
 * Shapes are of the middle of the band (else the first that was run). One option gives a picture of 850 px width. Deterministic.
 * results: options of one bag. Throws when there is none; more than four are left to further pictures.
 */
export function picture(results: readonly Result[], o: PictureOptions = {}): string {
  const shown = results.slice(0, MOST_SHOWN);
  if (shown.length === 0) throw new Error('missing results: a picture needs at least one');
  const bay = BAYS[shown.length - 1];
  const solids = shown.map(solidsOf);
  const posedOf = (r: Result, around: readonly Solid[]): Posed => {
    const run = leadRun(r.runs);
    return poseForView(r.mesh, r.drafted, run.positions, [...run.straps.map((s) => s.line), ...around.map((s) => s.x)]);
  };
  const posed = shown.map((r, i) => posedOf(r, solids[i]));
  const others = (o.among ?? []).filter((r) => !shown.includes(r)).map((r) => posedOf(r, solidsOf(r)));
  const room = extentOf([...posed, ...others]);
  const scale = Math.min((bay.width - 2 * PAD) / (room.right - room.left), bay.height / room.top);
  const width = WORDS + TAPE_WIDTH + bay.width * shown.length;
  const groundY = (o.names === false ? BARE_HEAD : HEAD) + room.top * scale;
  const mat: MatBox = { x: 0, y: 0, width, height: groundY + FOOT, groundY, scale, wallY: room.depth + 0.03 };
  const tapeX = WORDS;
  const bayX = (i: number) => WORDS + TAPE_WIDTH + bay.width * i;
  const frame = (i: number): Frame => ({ originX: bayX(i) + bay.width / 2 - (scale * (room.left + room.right)) / 2, originY: groundY, scale });
  const bays = shown.map(
    (r, i) =>
      paintBay(r, posed[i], solids[i], frame(i), o.smooth ? { left: bayX(i), top: 0, width: bay.width, height: mat.height } : null, o.colourings?.[i]) +
      (o.names === false ? '' : paintName(r, bayX(i), bay.width)),
  );
  const legend = o.legend ? paintLegend(o.legend, mat.height, { left: bayX(0), right: width, bayX, bayWidth: bay.width }) : { svg: '', height: 0 };
  const below = o.bare ? { svg: '', height: 0 } : paintTable(shown, mat.height + legend.height, bayX, bay.width, width);
  const height = mat.height + legend.height + below.height;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${px(width)}" height="${px(height)}" viewBox="0 0 ${px(width)} ${px(height)}" role="img" aria-label="${label(shown)}" ${FONT_ATTRIBUTES}>`,
    STYLE,
    rect(0, 0, width, height, PAPER),
    paintMat(mat),
    paintHeading(shown[0]),
    `<g clip-path="url(#mat)">${shown
      .slice(1)
      .map((_, i) => line(bayX(i + 1), 0, bayX(i + 1), mat.height, '#ffffff26'))
      .join('')}${bays.join('')}</g>`,
    paintTape(mat, tapeX, TAPE_WIDTH),
    shown.length === 1 ? pointers(shown[0], mat, tapeX + TAPE_WIDTH) : '',
    legend.svg,
    below.svg,
    '</svg>\n',
  ].join('\n');
}

const solidsOf = (r: Result): readonly Solid[] => [...(r.ground?.forms ?? []).map(solidOf), ...leadRun(r.runs).contents.map(solidOfThing)];

const STYLE = `<style>.drafted{fill:none;stroke:${TAPE};stroke-width:1.3;stroke-dasharray:4.5 3.5;stroke-linejoin:round}.sew{fill:none;stroke:#5e5239;stroke-opacity:.55;stroke-width:1.1;stroke-linecap:round}.strap{fill:none;stroke-linecap:round}.rim{fill:none;stroke:#4d432e;stroke-opacity:.8;stroke-width:1.5;stroke-linecap:round}.cast{fill:#06201f;fill-opacity:.34;filter:url(#soft)}.foot{fill:#041716;fill-opacity:.5;filter:url(#near)}</style><defs><filter id="soft" x="-20%" y="-20%" width="140%" height="140%"><feGaussianBlur stdDeviation="7"/></filter><filter id="near" x="-20%" y="-20%" width="140%" height="140%"><feGaussianBlur stdDeviation="3"/></filter></defs>`;

const label = (results: readonly Result[]): string =>
  results
    .map((r) => `${r.bag}, ${r.option}, ${r.stance}: ${r.verdict.word}`)
    .join('; ')
    .replace(/[&<>"']/g, ' ');

function extentOf(posed: readonly Posed[]): { left: number; right: number; top: number; depth: number } {
  const room = { left: Infinity, right: -Infinity, top: 0.02, depth: 0.02 };
  for (const p of posed) {
    for (const x of [p.drafted, p.settled, ...p.beside]) {
      const e = paperExtent(x);
      room.left = Math.min(room.left, e.left);
      room.right = Math.max(room.right, e.right);
      room.top = Math.max(room.top, e.top);
      for (let i = 1; i < x.length; i += 3) room.depth = Math.max(room.depth, x[i]);
    }
  }
  // A picture needs some width even of a strip seen end on.
  if (room.right - room.left < 0.02) room.right = room.left + 0.02;
  return room;
}

function paintBay(r: Result, posed: Posed, solids: readonly Solid[], frame: Frame, smooth: Window | null, colouring?: Colouring | null): string {
  const strips = leadRun(r.runs).straps.map((s, i) => ({ width: s.width, line: posed.beside[i] }));
  const besides = solids.map((solid, i) => ({ solid, x: posed.beside[strips.length + i] }));
  return [
    paintShadow(posed.settled, frame),
    smooth && !colouring
      ? smoothBag({ mesh: r.mesh, x: posed.settled, straps: strips, solids: besides }, frame, smooth)
      : paintBag(
          r.mesh,
          posed.settled,
          frame,
          strips,
          besides.flatMap(({ solid, x }) => solidPieces(frame, solid, x)),
          colouring ?? undefined,
        ),
    paintDrafted(r.mesh, posed.drafted, frame),
  ].join('');
}

function paintName(r: Result, x: number, width: number): string {
  const story = fitLines(storyOf(r), width - 40, 13, 2);
  return [
    text(x + 20, 32, fitLines(r.option, width - 40, 16, 1)[0] ?? '', MAT_TEXT.strong),
    ...story.map((l, i) => text(x + 20, 53 + 18 * i, l, MAT_TEXT.faint)),
  ].join('');
}

/** How far a fused layer is bonded is told in the report. */
const inShort = (story: string): string => shortStory(story).replace(/ \((fused), bond [^)]*\)/g, ' ($1)');

/** The stacks in words: the commonest one first, others with their panels. */
function storyOf(r: Result): string {
  const groups = new Map<string, string[]>();
  for (const s of r.stacks) groups.set(inShort(s.story), [...(groups.get(inShort(s.story)) ?? []), s.region === null ? s.panel : `${s.panel}/${s.region}`]);
  const sorted = [...groups].sort((a, b) => b[1].length - a[1].length);
  return sorted.map(([story, panels], i) => (i === 0 ? story : `${panels.join(', ')}: ${story}`)).join(' · ');
}

function paintHeading(r: Result): string {
  const bag = fitLines(r.bag, WORDS - 36, 16, 3);
  const ground = aroundWords(r);
  const stance = fitLines(ground === '' ? r.stance : `${r.stance}: ${ground}`, WORDS - 36, 13, ground === '' ? 2 : 7);
  return [
    ...bag.map((l, i) => text(18, 32 + 21 * i, l, MAT_TEXT.strong)),
    ...stance.map((l, i) => text(18, 32 + 21 * bag.length + 17 * i, l, MAT_TEXT.faint)),
  ].join('');
}

function pointers(r: Result, mat: MatBox, right: number): string {
  const { draftedHeight, rimHeight } = leadRun(r.runs).measures;
  if (draftedHeight === null || rimHeight === null) return '';
  const y = (h: number) => mat.groundY - mat.scale * h;
  // Each label is two lines tall; where the two heights are close the settled one moves down.
  const first = y(draftedHeight);
  const second = Math.max(y(rimHeight), first + 42);
  const label = (at: number, word: string, h: number, fill: string) =>
    text(WORDS - 14, at - 2, word, { size: 12.5, fill, anchor: 'end', opacity: 0.85 }) +
    text(WORDS - 14, at + 15, `${formatMm(h, 0)} · ${formatInches(h)}`, { size: 13, fill, anchor: 'end', weight: 600 });
  return paintPointers(mat, right, draftedHeight, rimHeight) + label(first, 'drafted', draftedHeight, CHALK) + label(second, 'rim at rest', rimHeight, TAPE);
}

function paintTable(results: readonly Result[], top: number, bayX: (i: number) => number, width: number, full: number): { svg: string; height: number } {
  const x = (i: number) => bayX(i) + 20;
  const block = Math.max(...results.map((r) => verdictHeight(r, width - 20)));
  const rows = pictureRows(results);
  const extra = extraRows(results);
  const parts: string[] = [];
  const chosen = chosenOf(results);
  const bottom = block + ROW * (rows.length + extra.length) + 12;
  if (chosen >= 0) parts.push(rect(bayX(chosen), top, width, bottom + 46, CHOSEN));
  parts.push(text(18, top + 38, 'verdict', { fill: MUTED }));
  results.forEach((r, i) => {
    parts.push(paintVerdict(r, x(i), top, width - 20));
  });
  let y = top + block;
  const begin = (label: string) => {
    parts.push(line(0, y, full, y, RULE), text(18, y + 22, label, { fill: MUTED }));
  };
  for (const row of rows) {
    begin(row.label);
    results.forEach((r, i) => {
      parts.push(paintCell(row, r, results[0], x(i), y, width));
    });
    y += ROW;
  }
  for (const row of extra) {
    begin(row.label);
    row.cells.forEach((c, i) => {
      let at = x(i);
      parts.push(text(at, y + 22, c.value));
      at += textWidth(c.value, 15) + 8;
      if (c.difference !== '') parts.push(text(at, y + 22, c.difference, { fill: MUTED }));
      if (c.difference !== '') at += textWidth(c.difference, 15) + 8;
      if (c.tag !== '') parts.push(paintTag(at, y + 22, c.tag));
    });
    y += ROW;
  }
  parts.push(line(0, y, full, y, RULE));
  const falls = results.some((r) => leadRun(r.runs).stillFalling);
  const solid = `${falls ? 'at rest, or as far as it had fallen' : 'at rest'}, ${BAND_WORD[leadRun(results[0].runs).band]} of the material band`;
  const note = `Dashed: as drafted. Solid: ${solid}; bars: low to high. Grid 2 and 10 cm.`;
  const hangs = results.some((r) => leadRun(r.runs).hung !== null);
  const notes = [note, ...(hangs ? HANGING_CAUTIONS : [])].flatMap((words) => fitLines(words, full - 36, 12.5, 2));
  notes.forEach((l, i) => {
    parts.push(text(18, y + 26 + 17 * i, l, { size: 12.5, fill: MUTED }));
  });
  return { svg: parts.join('\n'), height: y - top + 26 + 17 * notes.length };
}

/** The lightest option that meets what is wanted, when there is a choice; -1: none. */
function chosenOf(results: readonly Result[]): number {
  if (results.length < 2) return -1;
  let best = -1;
  results.forEach((r, i) => {
    if (r.verdict.meetsWanted === true && (best < 0 || r.massKg < results[best].massKg)) best = i;
  });
  return best;
}
