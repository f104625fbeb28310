/** What a maker writes down at the table, as a file: read with every fault at once, SI afterwards. */
import { at, FaultList, goodLabel, LABEL_RULE, oneOf, PRESET_IDS, readJson } from '../bag/index.ts';
import { type QuantityKind, quantityExample, readQuantity } from '../units/index.ts';
import { type CornerReading, readCorner } from './corner-reading.ts';
import { photoShots, stripReadingOf } from './photo/shots.ts';
import { mm, unfit } from './ranges.ts';

export const DIRECTIONS = ['warp', 'weft', 'bias'] as const;
/** Lengthwise, crosswise, and at 45 degrees between them. */
export type Direction = (typeof DIRECTIONS)[number];

/** The ways of testing a strip: hung out to 41.5 deg; hung out a fixed way with its drop read; both ends held together, hanging as a heart or as a pear; a laboratory's pure-bending slope; hung over an edge and photographed from the side. */
const METHODS = ['overhang', 'tip drop', 'heart loop', 'pear loop', 'pure bending', 'photo'] as const;
export type Method = (typeof METHODS)[number];

export interface StripReading {
  readonly direction: Direction;
  readonly method: Method;
  /** m: overhang; tip drop: fixed overhang; loops: free length of the strip; photo: bending length. */ readonly length: number;
  /** m; tip drop: the drop; heart loop: height from clamp to lowest point; pear loop: greatest width; overhang, photo: not used; pure bending: the slope, N*m (and no length). */ readonly value: number;
  readonly side: 'face' | 'back';
  /** Pure bending: hysteresis 2HB, N, or null where it is not known. */ readonly hysteresis?: number | null;
  /** Photo: which end of the strip hangs, and half of the picture's 90 % interval over its bending length. */
  readonly end?: 'first' | 'other';
  readonly error?: number;
}

/** Readings of a strip, a ruler and a scale, SI. */
export interface Readings {
  readonly id: string;
  readonly name: string;
  /** Preset that stands in for what a strip does not tell: stiffness in the plane, Poisson's ratio. */ readonly like: string;
  /** kg */ readonly mass: number;
  /** m2 and the piece's sides, m */ readonly sides: readonly [number, number];
  /** Smallest division of the scale, kg, and of the ruler, m. */ readonly scale: number;
  readonly ruler: number;
  /** m or null */ readonly thickness: number | null;
  /** m, or null: longest overhang that the strip allows. */ readonly stripLength: number | null;
  /** The strip was cut from the finished, fused or glued stack. */ readonly fused: boolean;
  readonly strips: readonly StripReading[];
  /** A sewn corner of this cloth, where one was read. */ readonly corner?: CornerReading;
}

/** The key of the pure-bending test in files of older versions, still read. */
const OLDER = 'kes';
const TOP = ['id', 'name', 'like', 'piece', 'thickness', 'ruler', 'strip length', 'fused', 'corner', ...METHODS] as const;
/** A ruler, where nothing is said. */
const DEFAULT_RULER = 1e-3;
/** Beyond these an areal mass is a slip of the unit, not a cloth: the lightest voile to a thick sole leather, kg/m2. */
const CLOTH_MASS = [0.015, 8] as const;

/** Slopes that a pure-bending tester can measure at all, N*m: the limpest silk to a stiff coated canvas. Source: common practice. */
const SLOPES = [1e-8, 1e-2] as const;
/** Most that 2HB/B can be, 1/m: twice the curvature that the yarns' friction then keeps in a strip let go. Published cloths reach 108. */
const RESIDUAL = 500;

type Entry = Readonly<Record<string, unknown>>;
const isEntry = (v: unknown): v is Entry => v !== null && typeof v === 'object' && !Array.isArray(v);

/** Reads quantities of one file and keeps the faults. */
export class Reader {
  readonly faults = new FaultList();

  size(path: string, written: unknown, kind: QuantityKind, zero = false): number | null {
    const reading = typeof written === 'string' ? readQuantity(written, kind) : ({ ok: false, expected: quantityExample(kind) } as const);
    if (!reading.ok) {
      this.faults.add(path, written, typeof written === 'number' ? `${reading.expected}; the unit is missing` : reading.expected);
      return null;
    }
    if (reading.value > 0 || (zero && reading.value === 0)) return reading.value;
    this.faults.add(path, written, zero ? 'zero or more' : 'more than zero');
    return null;
  }

  known(path: string, entry: Entry, names: readonly string[]): void {
    for (const key of Object.keys(entry)) if (!names.includes(key)) this.faults.addText(at(path, key), 'an unknown entry', oneOf('a known entry', key, names));
  }

  entry(path: string, written: unknown, what: string): Entry | null {
    if (isEntry(written)) return written;
    this.faults.add(path, written, what);
    return null;
  }

  /** Readings of one direction: a list for both faces alike, or {"face": [...], "back": [...]}. */
  sides(path: string, written: unknown, kind: QuantityKind = 'length'): { side: 'face' | 'back'; value: number }[] {
    if (isEntry(written)) {
      this.known(path, written, ['face', 'back']);
      return (['face', 'back'] as const).flatMap((side) => (written[side] === undefined ? [] : this.list(at(path, side), written[side], side, kind)));
    }
    return this.list(path, written, 'face', kind);
  }

  private list(path: string, written: unknown, side: 'face' | 'back', kind: QuantityKind): { side: 'face' | 'back'; value: number }[] {
    const all = Array.isArray(written) ? written : [written];
    if (all.length === 0 || all.length > 100) this.faults.addText(path, `${all.length} readings`, 'one to a hundred readings');
    return all.slice(0, 100).flatMap((w, i) => {
      const value = this.size(Array.isArray(written) ? at(path, i) : path, w, kind);
      return value === null ? [] : [{ side, value }];
    });
  }
}

/** A kitchen scale that shows whole grams. */
const WHOLE_GRAM = 1e-3;

/**
 * Smallest division of the scale, kg, as the decimals of a written mass tell it: "2.9 g" was read on one that shows tenths. Of a fraction, or of what is no mass, a
 * whole gram. Assumes that every decimal that was read was written down.
 */
export function scaleStep(written: unknown): number {
  const parts = typeof written === 'string' ? /^\s*\d+(?:[.,](\d+))?\s*([a-zA-Z]+)\s*$/.exec(written) : null;
  const one = parts ? readQuantity(`1 ${parts[2]}`, 'mass') : null;
  return one?.ok ? one.value / Number(`1e${parts?.[1]?.length ?? 0}`) : WHOLE_GRAM;
}

/** A file's outermost object; a file that is no JSON ends here. */
export function readObject(r: Reader, text: string, what: string): Entry {
  const json = readJson(text);
  if (json.ok) return r.entry('', json.value, what) ?? {};
  r.faults.addText(`line ${json.fault.line}, column ${json.fault.column}`, json.fault.got, json.fault.expected);
  r.faults.stop();
  return {};
}

/**
 * A file of readings. Returns it in SI. Throws BagError with every fault: missing units, zero or negative readings, an areal mass that no cloth has,
 * overhangs longer than the strip, drops deeper than the overhang, strips too limp or too stiff for their test (naming the one to use), unknown words.
 */
export function parseReadings(text: string): Readings {
  const r = new Reader();
  const entered = readObject(r, text, 'an object with piece, like and overhang');
  r.known('', Object.fromEntries(Object.entries(entered).filter(([key]) => key !== OLDER)), TOP);
  if (entered[OLDER] !== undefined && entered['pure bending'] !== undefined)
    r.faults.addText(OLDER, 'both "kes" and "pure bending"', 'one of them: "kes" is the older name of the same test');
  const top: Entry = entered[OLDER] === undefined ? entered : { ...entered, 'pure bending': entered[OLDER] };
  const piece = r.entry('piece', top.piece, 'an object such as {"mass": "31 g", "length": "30 cm", "width": "30 cm", "scale": "1 g"}') ?? {};
  r.known('piece', piece, ['mass', 'length', 'width', 'scale']);
  const has = top.piece !== undefined && isEntry(top.piece);
  const size = (key: string, kind: QuantityKind) => (has ? r.size(at('piece', key), piece[key], kind) : null);
  const [mass, length, width] = [size('mass', 'mass'), size('length', 'length'), size('width', 'length')];
  if (mass !== null && length !== null && width !== null) plausible(r, mass / (length * width));
  const optional = (path: string, written: unknown, kind: QuantityKind, missing: number | null) =>
    written === undefined ? missing : r.size(path, written, kind);
  const scale = optional('piece.scale', piece.scale, 'mass', scaleStep(piece.mass));
  const ruler = optional('ruler', top.ruler, 'length', DEFAULT_RULER);
  const thickness = optional('thickness', top.thickness, 'thickness', null);
  const stripLength = optional('strip length', top['strip length'], 'length', null);
  if (top.fused !== undefined && typeof top.fused !== 'boolean') r.faults.add('fused', top.fused, 'true or false');
  const name = typeof top.name === 'string' && goodLabel(top.name) ? top.name : null;
  if (name === null) r.faults.add('name', top.name, LABEL_RULE);
  const id = top.id === undefined ? 'my-material' : top.id;
  if (typeof id !== 'string' || !goodLabel(id)) r.faults.add('id', id, LABEL_RULE);
  const like = top.like;
  if (typeof like !== 'string' || !(PRESET_IDS as readonly string[]).includes(like))
    r.faults.add('like', like, oneOf('a built-in material', String(like ?? ''), PRESET_IDS));
  const strips = METHODS.flatMap((method) => readMethod(r, method, top[method], stripLength));
  const corner = top.corner === undefined ? null : readCorner(r, top.corner);
  if (ruler !== null) for (const s of strips) for (const f of unfit(s, ruler)) r.faults.addText(f.path, f.got, f.expected);
  for (const d of ['warp', 'weft'] as const) {
    if (!METHODS.some((m) => isEntry(top[m]) && (top[m] as Entry)[d] !== undefined))
      r.faults.addText('', `no strip along the ${d}`, `a reading of a strip along the ${d}, such as "overhang": {"${d}": ["62 mm", "64 mm"]}`);
  }
  r.faults.stop();
  return {
    id: id as string,
    name: name as string,
    like: like as string,
    mass: mass as number,
    sides: [length as number, width as number],
    scale: scale as number,
    ruler: ruler as number,
    thickness,
    stripLength,
    fused: top.fused === true,
    strips,
    ...(corner ? { corner } : {}),
  };
}

function plausible(r: Reader, arealMass: number): void {
  const [low, high] = CLOTH_MASS;
  if (arealMass >= low && arealMass <= high) return;
  const gsm = Number((arealMass * 1000).toPrecision(3));
  r.faults.addText('piece', `${gsm} g/m2`, `a piece of ${low * 1000} to ${high * 1000} g/m2; is a unit wrong (mm for cm, oz for g)?`);
}

function readMethod(r: Reader, method: Method, written: unknown, stripLength: number | null): StripReading[] {
  if (written === undefined) return [];
  const all = r.entry(method, written, 'an object with warp, weft and, if tested, bias');
  if (!all) return [];
  r.known(method, all, DIRECTIONS);
  return DIRECTIONS.flatMap((direction) => (all[direction] === undefined ? [] : readDirection(r, method, direction, all[direction], stripLength)));
}

/** A slope or several, or {"B": ..., "2HB": ...} with the hysteresis, by which its friction is known. */
function readPureBending(r: Reader, direction: Direction, path: string, written: unknown): StripReading[] {
  const method = 'pure bending';
  const both = isEntry(written) && (written.B !== undefined || written['2HB'] !== undefined) ? written : null;
  if (both) r.known(path, both, ['B', '2HB']);
  const hysteresis = both?.['2HB'] === undefined ? null : r.size(at(path, '2HB'), both['2HB'], 'bendingMoment', true);
  const slopes = both ? r.sides(at(path, 'B'), both.B, 'bending') : r.sides(path, written, 'bending');
  return slopes.map(({ side, value }) => {
    if (!(value >= SLOPES[0] && value <= SLOPES[1]))
      r.faults.addText(
        path,
        `a slope of ${Number((value * 1e6).toPrecision(3))} uN.m`,
        `${SLOPES[0] * 1e6} to ${SLOPES[1] * 1e6} uN.m; is the unit meant to be gf.cm2/cm (98 uN.m)?`,
      );
    else if (hysteresis !== null && hysteresis > value * RESIDUAL)
      r.faults.addText(
        at(path, '2HB'),
        `${Number((1e3 * hysteresis).toPrecision(3))} mN.m/m`,
        `at most ${Number((1e3 * value * RESIDUAL).toPrecision(3))} mN.m/m, ${RESIDUAL} times the slope; is the unit meant to be gf.cm/cm (9.8 mN.m/m)?`,
      );
    return { direction, method, length: 0, value, side, hysteresis };
  });
}

/** What is set and what is read. */
const KEYS_OF = { 'tip drop': ['overhang', 'drop'], 'heart loop': ['length', 'height'], 'pear loop': ['length', 'width'] } as const;

function readDirection(r: Reader, method: Method, direction: Direction, written: unknown, stripLength: number | null): StripReading[] {
  const path = at(method, direction);
  if (method === 'pure bending') return readPureBending(r, direction, path, written);
  if (method === 'photo') return photoShots(r, direction, path, written).map(stripReadingOf);
  if (method === 'overhang') {
    return r.sides(path, written).map(({ side, value }) => {
      if (stripLength !== null && value > stripLength)
        r.faults.addText(
          path,
          `an overhang of ${mm(value)}`,
          `less than the strip's own length, ${mm(stripLength)}: a stiffer board is tested by its tip drop`,
        );
      return { direction, method, length: value, value, side };
    });
  }
  const [lengthKey, valueKey] = KEYS_OF[method];
  const form = r.entry(path, written, `an object such as {"${lengthKey}": "200 mm", "${valueKey}": ["9 mm", "10 mm"]}`);
  if (!form) return [];
  r.known(path, form, [lengthKey, valueKey]);
  const length = r.size(at(path, lengthKey), form[lengthKey], 'length');
  const values = r.sides(at(path, valueKey), form[valueKey]);
  if (length === null) return [];
  if (method === 'tip drop' && stripLength !== null && length > stripLength)
    r.faults.addText(at(path, lengthKey), mm(length), `less than the strip's own length, ${mm(stripLength)}`);
  return values.map(({ side, value }) => {
    if (value >= length) r.faults.addText(at(path, valueKey), mm(value), `less than the ${lengthKey}, ${mm(length)}`);
    return { direction, method, length, value, side };
  });
}
