import type { UnitChoice } from '../page/format.ts';
import type { Fault, PhotoMarks, Three } from './core.ts';
import { words } from './words.ts';

export const DIRECTIONS = ['warp', 'weft', 'bias'] as const;
export type Direction = (typeof DIRECTIONS)[number];
export const METHODS = ['overhang', 'photo', 'tip drop', 'heart loop', 'pear loop', 'pure bending'] as const;
export type Method = (typeof METHODS)[number];
export const COLUMNS = ['fixed', 'face', 'back', 'width'] as const;
/** fixed: the set overhang or the strip's length; width: the loop's width 2HB of a laboratory. */
export type Column = (typeof COLUMNS)[number];

const PLAIN = ['name', 'like', 'weight', 'pieceLength', 'pieceWidth', 'thickness', 'scale', 'ruler', 'stripLength'] as const;
type PlainKey = (typeof PLAIN)[number];
type StripKey = `${Direction} ${Column}`;
/** A field of the form. */
export type Key = PlainKey | StripKey;

/** A strip read off a picture: its marks are kept, the picture is not. */
export interface PhotoKept {
  readonly direction: Direction;
  readonly side: 'face' | 'back';
  readonly end: 'first' | 'other';
  readonly marks: PhotoMarks;
  /** m, 90 % interval */ readonly bendingLength: Three;
}

/** What stands in the form, as typed: nothing is converted before it is worked out. */
export interface OwnEntry {
  readonly method: Method;
  readonly fused: boolean;
  /** Of lengths typed without one. */ readonly unit: 'mm' | 'in';
  readonly typed: Readonly<Partial<Record<Key, string>>>;
  readonly photos: readonly PhotoKept[];
}

const EMPTY: OwnEntry = { method: 'overhang', fused: false, unit: 'mm', photos: [], typed: { like: 'canvas10', ruler: '1 mm' } };

/** An empty form for a reader of this unit; of both, testers read millimetres. */
export const emptyIn = (units: UnitChoice): OwnEntry => (units !== 'inch' ? EMPTY : { ...EMPTY, unit: 'in', typed: { ...EMPTY.typed, ruler: '1/16 in' } });

/** Has nobody typed anything yet? */
export const isEmpty = (e: OwnEntry): boolean =>
  e.photos.length === 0 &&
  Object.entries(e.typed).every(([key, value]) => key === 'like' || value === '' || (key === 'ruler' && /^1( mm|\/16 in)$/.test(value)));

export function restoredOwn(kept: unknown): OwnEntry {
  const old = (kept ?? {}) as Partial<Record<keyof OwnEntry, unknown>>;
  const typed: Record<string, string> = { ...EMPTY.typed };
  if (old.typed && typeof old.typed === 'object')
    for (const [key, value] of Object.entries(old.typed)) if (typeof value === 'string' && isKey(key)) typed[key] = value.slice(0, 200);
  return {
    method: METHODS.find((m) => m === old.method) ?? 'overhang',
    fused: old.fused === true,
    unit: old.unit === 'in' ? 'in' : 'mm',
    typed,
    photos: restoredPhotos(old.photos),
  };
}

/** Kept pictures as far as they still can be read; the core judges their marks again. */
function restoredPhotos(kept: unknown): PhotoKept[] {
  if (!Array.isArray(kept)) return [];
  return kept.slice(0, MOST_PHOTOS).filter((p: Partial<PhotoKept> | null): p is PhotoKept => {
    const places = (list: unknown): boolean => Array.isArray(list) && list.every((at) => Array.isArray(at) && at.length === 2 && at.every(Number.isFinite));
    return (
      p !== null &&
      typeof p === 'object' &&
      DIRECTIONS.some((d) => d === p.direction) &&
      (p.side === 'face' || p.side === 'back') &&
      (p.end === 'first' || p.end === 'other') &&
      places(p.marks?.strip) &&
      places(p.marks?.table) &&
      Array.isArray(p.bendingLength) &&
      p.bendingLength.length === 3 &&
      p.bendingLength.every(Number.isFinite)
    );
  });
}

/** As many pictures as a file of readings takes. */
const MOST_PHOTOS = 40;

/** A kept picture as a file of readings has it. */
const shotOf = ({ side, end, marks: { card, ruler, table, strip, scaleNoise, size, measured } }: PhotoKept): object => ({
  side,
  end,
  ...(card ? { card } : {}),
  ...(ruler ? { ruler: { marks: ruler.marks, apart: `${ruler.apart * 1000} mm` } } : {}),
  table,
  strip,
  ...(scaleNoise ? { 'corners to': `${Number((scaleNoise * 1000).toPrecision(3))} mm` } : {}),
  ...(card && size ? { 'whole picture': size } : {}),
  ...(measured ? { hanging: `${Number((1000 * measured.length).toPrecision(6))} mm` } : {}),
});

const isKey = (key: string): key is Key => (PLAIN as readonly string[]).includes(key) || DIRECTIONS.some((d) => COLUMNS.some((c) => key === `${d} ${c}`));

/** Columns that a method's table has, in order. */
export function columnsOf(method: Method): readonly Column[] {
  if (method === 'photo') return [];
  if (method === 'overhang') return ['face', 'back'];
  return method === 'pure bending' ? ['face', 'back', 'width'] : ['fixed', 'face', 'back'];
}

/** A bare number takes the form's own unit; anything else stays as typed, for the core to judge. */
const withUnit = (typed: string, unit: string): string =>
  /^[-+]?\d+([.,]\d+)?$/.test(typed.trim()) ? `${typed.trim().replace(',', '.')} ${unit}` : typed.trim();

/** Readings between commas or semicolons. */
const list = (typed: string, unit: string): string[] =>
  typed
    .split(/[,;]/)
    .map((t) => t.trim())
    .filter((t) => t !== '')
    .map((t) => withUnit(t, unit));

/** The form as the file of readings that the command line takes. */
export function readingsText(entry: OwnEntry): string {
  const typed = (key: Key): string => entry.typed[key]?.trim() ?? '';
  const size = (key: Key, unit: string): string | undefined => (typed(key) === '' ? undefined : withUnit(typed(key), unit));
  const must = (key: Key, unit: string): string => withUnit(typed(key), unit);
  const lab = entry.method === 'pure bending';
  const length = entry.unit;
  const unit = lab ? 'uN.m' : length;
  const strips: Record<string, unknown> = {};
  for (const d of DIRECTIONS) {
    if (entry.method === 'photo') {
      const shots = entry.photos.filter((p) => p.direction === d).map(shotOf);
      if (shots.length > 0) strips[d] = shots;
      continue;
    }
    const [face, back] = [list(typed(`${d} face`), unit), list(typed(`${d} back`), unit)];
    if (columnsOf(entry.method).every((c) => typed(`${d} ${c}`) === '')) continue;
    const sides = { ...(face.length > 0 ? { face } : {}), ...(back.length > 0 ? { back } : {}) };
    const read = face.length + back.length === 0 ? [] : sides;
    const fixed = must(`${d} fixed`, length);
    const width = size(`${d} width`, 'mN.m/m');
    if (entry.method === 'overhang') strips[d] = read;
    else if (entry.method === 'tip drop') strips[d] = { overhang: fixed, drop: read };
    else if (entry.method === 'heart loop') strips[d] = { length: fixed, height: read };
    else if (entry.method === 'pear loop') strips[d] = { length: fixed, width: read };
    else strips[d] = width === undefined ? read : { B: read, '2HB': width };
  }
  const name = typed('name');
  return JSON.stringify({
    id: name,
    name,
    like: typed('like'),
    piece: {
      mass: must('weight', 'g'),
      length: must('pieceLength', length),
      width: must('pieceWidth', length),
      ...(size('scale', 'g') === undefined ? {} : { scale: size('scale', 'g') }),
    },
    ruler: size('ruler', length),
    thickness: size('thickness', 'mm'),
    'strip length': size('stripLength', length),
    fused: entry.fused,
    [entry.method]: strips,
  });
}

const PATHS: readonly (readonly [string, PlainKey])[] = [
  ['piece.mass', 'weight'],
  ['piece.length', 'pieceLength'],
  ['piece.width', 'pieceWidth'],
  ['piece.scale', 'scale'],
  ['piece', 'weight'],
  ['strip length', 'stripLength'],
  ['thickness', 'thickness'],
  ['ruler', 'ruler'],
  ['name', 'name'],
  ['id', 'name'],
  ['like', 'like'],
];

/** The field that a fault of the readings belongs to. */
function keyOf(fault: Fault, method: Method): Key {
  const missing = /along the (warp|weft)/.exec(fault.got);
  if (fault.path === '' && missing) return `${missing[1] as Direction} face`;
  for (const d of DIRECTIONS) {
    const start = `${method}.${d}`;
    if (!fault.path.startsWith(start)) continue;
    const rest = fault.path.slice(start.length);
    if (rest.includes('2HB')) return `${d} width`;
    if (/\.(overhang|length)$/.test(rest) && method !== 'overhang') return `${d} fixed`;
    return rest.includes('back') ? `${d} back` : `${d} face`;
  }
  return PATHS.find(([path]) => fault.path === path)?.[1] ?? 'name';
}

/** Faults by field, in words; the same fault of two paths (a name is also a key) is told once. */
export function faultsByField(faults: readonly Fault[], { method, typed }: OwnEntry): ReadonlyMap<Key, string> {
  const out = new Map<Key, string>();
  for (const fault of faults) {
    const place = keyOf(fault, method);
    // Some faults name the direction only; they belong to the face that was read.
    const back = place.replace(' face', ' back') as Key;
    const key = (typed[place] ?? '').trim() === '' && (typed[back] ?? '').trim() !== '' ? back : place;
    // A file of readings is told what to write in it; a form what to fill in.
    const said =
      fault.path === '' && fault.got.startsWith('no strip')
        ? words.swatch.noReading
        : fault.got === '""' || fault.got === ''
          ? words.expected(fault.expected)
          : words.swatch.faultOf(fault.got, fault.expected);
    const before = out.get(key);
    if (before === undefined) out.set(key, said);
    else if (!before.includes(said)) out.set(key, `${before} ${said}`);
  }
  return out;
}
