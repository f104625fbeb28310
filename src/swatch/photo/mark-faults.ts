import type { Fault } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { CARD, fromRectangle, inverse } from './homography.ts';
import { planeOf } from './plane.ts';
import type { PhotoMarks, Pixel } from './types.ts';

/** Fewest and most places along the strip of one picture. */
export const PLACES = [5, 20] as const;
/** A card or the distance of two marks smaller than this, pixels, gives no scale: a pixel is a hundredth of it. */
const SMALLEST = 100;
/** Corners whose triangle is flatter than this part of its longest side lie on one line. */
const FLAT = 0.1;
/** Long over short side of a card as seen. Upright it is 1.59; tilted by 40 degrees about its short side 1.2. */
const LONG_OVER_SHORT = 1.1;
/** Strips shorter or longer than this, m, are a slip of the scale. Source: common practice. */
const STRIP = [0.01, 1.5] as const;

const apart = (a: Pixel, b: Pixel): number => libm.hypot(a[0] - b[0], a[1] - b[1]);
/** Twice the area, positive clockwise as seen (y down). */
const turn = (a: Pixel, b: Pixel, c: Pixel): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const px = (v: number): string => `${Math.round(v)} pixels`;
const mm = (v: number): string => `${Number((v * 1000).toPrecision(3))} mm`;

function cardFaults(card: readonly Pixel[]): Fault[] {
  if (card.length !== 4)
    return [{ path: 'card', got: `${card.length} corners`, expected: 'the four corners of the card, clockwise, from the start of a long side' }];
  const [a, b, c, d] = card as [Pixel, Pixel, Pixel, Pixel];
  const fault = (got: string, expected: string): Fault[] => [{ path: 'card', got, expected }];
  const sides = [apart(a, b), apart(b, c), apart(c, d), apart(d, a)];
  const long = Math.max(...sides);
  if (!(long >= SMALLEST)) return fault(`a card ${px(long)} wide`, `at least ${SMALLEST} pixels: take the picture closer, or a larger one`);
  const turns = [turn(a, b, c), turn(b, c, d), turn(c, d, a), turn(d, a, b)];
  const triples = ['1, 2 and 3', '2, 3 and 4', '3, 4 and 1', '4, 1 and 2'];
  const line = turns.findIndex((t) => Math.abs(t) < FLAT * long * long * (CARD[1] / CARD[0]));
  if (line >= 0) return fault(`corners ${triples[line]} on one line`, 'four corners of the card, no three of them on a line');
  if (turns.every((t) => t < 0))
    return fault('a card turned over: its corners run anticlockwise', 'its corners clockwise as seen in the picture; a mirrored picture is turned back first');
  if (!turns.every((t) => t > 0)) return fault('corners that cross over', 'the four corners in their order round the card');
  if (sides[0]! + sides[2]! < LONG_OVER_SHORT * (sides[1]! + sides[3]!))
    return fault('a short side first', 'the corners from the start of a long side: 85.60 mm from the first to the second, 53.98 mm from there to the third');
  // Behind the camera, or all but on edge.
  const back = inverse(fromRectangle(CARD, card));
  return back.every(Number.isFinite) ? [] : fault('corners that no card has', 'the four corners of a card seen from the side');
}

function rulerFaults({ marks, apart: far }: NonNullable<PhotoMarks['ruler']>): Fault[] {
  if (marks.length !== 2) return [{ path: 'ruler.marks', got: `${marks.length} marks`, expected: 'two marks of the ruler' }];
  const out: Fault[] = [];
  const seen = apart(marks[0]!, marks[1]!);
  if (!(seen >= SMALLEST)) out.push({ path: 'ruler.marks', got: `marks ${px(seen)} apart`, expected: `at least ${SMALLEST} pixels, marks further apart` });
  if (!(far >= 0.01 && far <= 5)) out.push({ path: 'ruler.apart', got: mm(far), expected: '10 mm to 5 m between the two marks' });
  return out;
}

function stripFaults(marks: PhotoMarks): Fault[] {
  const { strip, table } = marks;
  const out: Fault[] = [];
  if (strip.length < PLACES[0])
    out.push({
      path: 'strip',
      got: `${strip.length} ${strip.length === 1 ? 'point' : 'points'}`,
      expected: `at least ${PLACES[0]} along the strip, the last of them its tip`,
    });
  if (strip.length > PLACES[1]) out.push({ path: 'strip', got: `${strip.length} points`, expected: `at most ${PLACES[1]}` });
  if (table.length < 1 || table.length > 2)
    out.push({ path: 'table', got: `${table.length} places`, expected: "the table's edge, and if you like a second place on its top" });
  strip.forEach((p, i) => {
    const before = i === 0 ? table[0] : strip[i - 1];
    if (before && apart(p, before) < 1)
      out.push({ path: `strip[${i}]`, got: `point ${i + 1} on top of the one before it`, expected: 'places apart from one another' });
  });
  return out;
}

/** What the places say once they are measured: in order, below the edge, of a strip's size; and the second place on the table behind the edge. */
function planeFaults(marks: PhotoMarks): Fault[] {
  const out: Fault[] = [];
  const plane = planeOf(marks);
  const { strip } = plane;
  if (!strip.every((p) => p.every(Number.isFinite)))
    return [{ path: 'card', got: 'a card seen so flat that the strip lies beyond its horizon', expected: 'a picture taken more from the side' }];
  const tip = strip.at(-1)!;
  let length = 0;
  strip.forEach((p, i) => {
    length += apart(p, i === 0 ? [0, 0] : strip[i - 1]!);
  });
  if (!(length >= STRIP[0] && length <= STRIP[1]))
    out.push({ path: 'strip', got: `a strip ${mm(length)} long`, expected: `${mm(STRIP[0])} to ${mm(STRIP[1])}; are the corners those of the card?` });
  if (tip[1] <= 0.005 * length) out.push({ path: 'strip', got: 'a tip no lower than the edge', expected: 'a strip that hangs down, its tip marked last' });
  if (length > 1.5 * apart(tip, [0, 0]))
    out.push({ path: 'strip', got: 'points that go back and forth', expected: 'points in their order from the edge to the tip' });
  const second = marks.table[1];
  if (second && plane.level.by === 'table') {
    const at = plane.toPlane(second);
    if (plane.level.reach < 0.02)
      out.push({ path: 'table[1]', got: `a place ${mm(plane.level.reach)} from the edge`, expected: 'at least 20 mm further back on the table' });
    else if (at[0] > 0) out.push({ path: 'table[1]', got: "a place on the strip's side of the edge", expected: "a place on the table's top, behind the edge" });
  }
  return out;
}

/** What is known of the picture as a whole, and of the strip. */
function knownFaults({ size, measured, card, ruler, table, strip }: PhotoMarks): Fault[] {
  const out: Fault[] = [];
  if (size) {
    const [w, h] = size;
    const beyond = [...(card ?? []), ...(ruler?.marks ?? []), ...table, ...strip].filter(([x, y]) => x < 0 || y < 0 || x > w || y > h).length;
    if (!(w >= SMALLEST && h >= SMALLEST))
      out.push({ path: 'whole picture', got: `${w} by ${h}`, expected: 'width and height of the whole picture in pixels, such as [4000, 3000]' });
    else if (beyond > 0)
      out.push({
        path: 'whole picture',
        got: `${beyond} ${beyond === 1 ? 'place' : 'places'} outside ${w} by ${h} pixels`,
        expected: 'width and height of the very picture that was marked',
      });
  }
  if (measured && !(measured.length >= STRIP[0] && measured.length <= STRIP[1]))
    out.push({ path: 'hanging', got: mm(measured.length), expected: `${mm(STRIP[0])} to ${mm(STRIP[1])}, from the edge to the tip along the strip` });
  if (measured && !(measured.off > 0 && measured.off <= STRIP[0]))
    out.push({ path: 'hanging to', got: mm(measured.off), expected: `more than nothing, at most ${mm(STRIP[0])}` });
  return out;
}

/** Everything that is wrong with marks, in words; empty when they can be read. */
export function markFaults(marks: PhotoMarks): Fault[] {
  const finite = [...(marks.card ?? []), ...(marks.ruler?.marks ?? []), ...marks.table, ...marks.strip].every((p) => p.every(Number.isFinite));
  if (!finite) return [{ path: '', got: 'a place that is no number', expected: 'places as pixels, [x, y]' }];
  const out: Fault[] = [];
  if (!marks.card === !marks.ruler)
    out.push({
      path: '',
      got: marks.card ? 'a card and a ruler' : 'nothing that gives the scale',
      expected: 'the four corners of a card, or two marks of a ruler',
    });
  if (marks.card) out.push(...cardFaults(marks.card));
  if (marks.ruler) out.push(...rulerFaults(marks.ruler));
  out.push(...stripFaults(marks), ...knownFaults(marks));
  return out.length > 0 ? out : planeFaults(marks);
}
