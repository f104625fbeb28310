/** Pictures in a file of readings: `"photo": {"warp": [{...}], "weft": [...]}`. */
import { at } from '../../bag/index.ts';
import type { Direction, Reader, StripReading } from '../readings.ts';
import { readPhoto } from './read-photo.ts';
import type { PhotoMarks, PhotoReading, Pixel } from './types.ts';

/** One picture, read. */
export interface PhotoShot {
  readonly direction: Direction;
  /** Which side is up. */ readonly side: 'face' | 'back';
  /** Which end of the strip hangs. */ readonly end: 'first' | 'other';
  readonly marks: PhotoMarks;
  readonly reading: PhotoReading;
}

const KEYS = ['side', 'end', 'picture', 'card', 'ruler', 'table', 'strip', 'corners to', 'whole picture', 'hanging', 'hanging to'] as const;
const SIDES = ['face', 'back'] as const;
const ENDS = ['first', 'other'] as const;
/** How far a length read off a ruler may be off, m (one standard deviation). Common practice, no source. */
export const RULED = 5e-4;
const SUCH = '{"card": [[x, y] four times], "table": [[x, y]], "strip": [[x, y], ...]}';

function places(r: Reader, path: string, written: unknown, what: string): Pixel[] | null {
  if (!Array.isArray(written) || written.length > 100) {
    r.faults.add(path, written, what);
    return null;
  }
  const good = written.map((p: unknown, i) => {
    const fine = Array.isArray(p) && p.length === 2 && p.every((v) => typeof v === 'number' && Number.isFinite(v) && Math.abs(v) < 1e6);
    if (!fine) r.faults.add(at(path, i), p, 'a place in the picture, [x, y] in pixels, x right and y down');
    return fine;
  });
  return good.every(Boolean) ? (written as Pixel[]) : null;
}

function word<T extends string>(r: Reader, path: string, written: unknown, known: readonly T[]): T {
  if (written === undefined) return known[0]!;
  const found = known.find((k) => k === written);
  if (found === undefined) r.faults.add(path, written, `one of ${known.join(', ')}`);
  return found ?? known[0]!;
}

function rulerOf(r: Reader, path: string, written: unknown): PhotoMarks['ruler'] {
  const form = r.entry(path, written, 'an object such as {"marks": [[x, y], [x, y]], "apart": "100 mm"}');
  if (!form) return null;
  r.known(path, form, ['marks', 'apart']);
  const marks = places(r, at(path, 'marks'), form.marks, 'two marks of a ruler, [[x, y], [x, y]]');
  const apart = r.size(at(path, 'apart'), form.apart, 'length');
  return marks && apart !== null ? { marks, apart } : null;
}

function shotOf(r: Reader, direction: Direction, path: string, written: unknown): PhotoShot | null {
  const before = r.faults.faults.length;
  const form = r.entry(path, written, `a picture's marks, such as ${SUCH}`);
  if (!form) return null;
  r.known(path, form, KEYS);
  const side = word(r, at(path, 'side'), form.side, SIDES);
  const end = word(r, at(path, 'end'), form.end, ENDS);
  const card = form.card === undefined ? null : places(r, at(path, 'card'), form.card, 'the four corners of a card, [[x, y], ...]');
  const ruler = form.ruler === undefined ? null : rulerOf(r, at(path, 'ruler'), form.ruler);
  const table = places(r, at(path, 'table'), form.table, "the table's edge, [[x, y]], or it and a second place on the table");
  const strip = places(r, at(path, 'strip'), form.strip, 'places along the strip from the edge to the tip, [[x, y], ...]');
  const scaleNoise = form['corners to'] === undefined ? null : r.size(at(path, 'corners to'), form['corners to'], 'length');
  const whole = form['whole picture'];
  const size = whole === undefined ? null : (places(r, at(path, 'whole picture'), [whole], '')?.[0] ?? null);
  const length = form.hanging === undefined ? null : r.size(at(path, 'hanging'), form.hanging, 'length');
  const off = form['hanging to'] === undefined ? RULED : r.size(at(path, 'hanging to'), form['hanging to'], 'length');
  if (form['hanging to'] !== undefined && form.hanging === undefined)
    r.faults.addText(at(path, 'hanging to'), 'how well a length is known that is not there', '"hanging", the length from the edge to the tip');
  if (!table || !strip || r.faults.faults.length > before) return null;
  const marks: PhotoMarks = { card, ruler, table, strip, scaleNoise, size, measured: length === null || off === null ? null : { length, off } };
  const read = readPhoto(marks);
  if (read.ok) return { direction, side, end, marks, reading: read.reading };
  for (const f of read.faults) r.faults.addText(f.path === '' ? path : `${path}.${f.path}`, f.got, f.expected);
  return null;
}

/** The pictures of one direction, one or a list; those that cannot be read leave their faults with `r`. */
export function photoShots(r: Reader, direction: Direction, path: string, written: unknown): PhotoShot[] {
  const all = Array.isArray(written) ? written : [written];
  if (all.length === 0 || all.length > 40) r.faults.addText(path, `${all.length} pictures`, 'one to forty pictures');
  return all.slice(0, 40).flatMap((w, i) => shotOf(r, direction, Array.isArray(written) ? at(path, i) : path, w) ?? []);
}

/** A picture as a reading beside those of other tests: bending length and half its 90 % interval, as a part of it. */
export function stripReadingOf({ direction, side, end, reading }: PhotoShot): StripReading {
  const [low, c, high] = reading.bendingLength;
  return { direction, method: 'photo', length: c, value: c, side, end, error: (high - low) / 2 / c };
}
