/** Written values of an axis to figures: units, ends, order, steps. */
import type { Fault } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import type { Axis } from '../../report/index.ts';
import { type QuantityKind, quantityExample, readQuantity, unitSize } from '../../units/index.ts';
import type { Written } from './vary.ts';

/** What figures an axis takes. */
export interface Figures {
  readonly kind: QuantityKind;
  /** Unit of figures written without one; null: they must have one, '' : they have none. */ readonly usual: string | null;
  /** Least and most, SI. */ readonly min: number;
  readonly max: number;
  readonly byRatio: boolean;
  /** What "low", "mid" and "high" stand for, SI; null where there is no band. */ readonly band: readonly [number, number, number] | null;
}

const WORDS = ['low', 'mid', 'high'] as const;

/** Figures as they are written down: 12 digits are more than any tool has, and hide what binary fractions leave behind. */
export const tidy = (v: number): number => Number(v.toPrecision(12));

/** The unit that a written figure ends in, as written; '' where there is none. */
const unitOf = (text: string, kind: QuantityKind): string => {
  for (let i = 1; i <= text.length; i++) {
    const rest = text.slice(i).trim();
    if (rest !== '' && /\d\.?\s*$/.test(text.slice(0, i)) && unitSize(kind, rest) !== null) return rest;
  }
  return '';
};

/** Values of an axis, or null after its faults. `sampled`: ranges are drawn. */
export function readAxis(name: string, written: Written, f: Figures, sampled: boolean, faults: Fault[]): Axis | null {
  const path = `vary.${name}`,
    refuse = (got: string, expected: string): null => {
      faults.push({ path, got, expected });
      return null;
    };
  if (written.kind === 'all') return refuse('"*"', 'a range or a list of figures; "*" is for options and stances');
  const texts = written.kind === 'list' ? written.words : [written.from, written.to],
    words = texts.map((t) => WORDS.indexOf(t as 'low')),
    // "40..120mm": the last unit written stands for all that have none.
    unit =
      [...texts]
        .reverse()
        .map((t) => unitOf(t, f.kind))
        .find((u) => u !== '') ??
      f.usual ??
      '',
    size = unit === '' ? 1 : unitSize(f.kind, unit)!;
  const read = (text: string, i: number): number | null => {
    if (words[i]! >= 0)
      return f.band === null ? refuse(JSON.stringify(text), `a figure: ${quantityExample(f.kind)}; it has no band`) : tidy(f.band[words[i]!]! / size);
    const own = unitOf(text, f.kind),
      whole = own !== '' ? text : `${text} ${unit}`.trim(),
      got = readQuantity(whole, f.kind);
    if (!got.ok) return refuse(JSON.stringify(text.slice(0, 60)), f.band === null ? got.expected : `${got.expected}; or low, mid, high of its band`);
    if (!(got.value >= f.min && got.value <= f.max)) {
      // A bag in inches asked in millimetres: the figures look right to who wrote them.
      const why = texts.every((t) => unitOf(t, f.kind) === '') && unit !== '' ? `; without a unit it is read as the file has it, in ${unit}` : '';
      return refuse(JSON.stringify(text), `a figure from ${shown(f.min, f, unit)} to ${shown(f.max, f, unit)}${why}`);
    }
    // What is written in the axis' own unit stays as it is written.
    return tidy(got.value / size);
  };
  const figures = texts.map(read);
  if (figures.includes(null)) return null;
  const list = figures as number[],
    base = { name, kind: 'figures', unit, byRatio: f.byRatio } as const;
  if (written.kind === 'list') return { ...base, values: list, from: null, to: null, middle: null, drawn: false };
  const [from, to] = list as [number, number];
  if (from === to) return refuse(`${written.from}..${written.to}`, 'a range of more than one figure');
  if (from > to) return refuse(`${written.from}..${written.to}`, `the smaller end first: ${written.to}..${written.from}`);
  const middle = f.band !== null && words[0] === 0 && words[1] === 2 ? tidy(f.band[1] / size) : null;
  const range: Axis = { ...base, values: null, from, to, middle: middle !== null && middle > from && middle < to ? middle : null, drawn: sampled };
  if (written.steps === null) {
    if (!sampled) return refuse(`${written.from}..${written.to}`, `a number of steps, ${written.from}..${written.to}/5; or --samples, to draw from it`);
    return range;
  }
  const n = written.steps;
  return { ...range, values: Array.from({ length: n }, (_, i) => valueAt(range, i / (n - 1))) };
}

function shown(si: number, f: Figures, unit: string): string {
  return `${Number((si / (unit === '' ? 1 : unitSize(f.kind, unit)!)).toPrecision(4))}${unit === '' ? '' : ` ${unit}`}`;
}

const between = (a: number, b: number, t: number, byRatio: boolean): number => {
  if (t <= 0) return a;
  if (t >= 1) return b;
  return byRatio && a > 0 ? a * libm.exp(t * libm.log(b / a)) : a + t * (b - a);
};

/** The figure at a share 0..1 of the way from `from` to `to`; half of it lies before `middle` where there is one. */
export function valueAt({ from, to, middle, byRatio }: Pick<Axis, 'from' | 'to' | 'middle' | 'byRatio'>, share: number): number {
  const [a, b] = [from!, to!];
  if (middle === null) return tidy(between(a, b, share, byRatio));
  return tidy(share < 0.5 ? between(a, middle, 2 * share, byRatio) : between(middle, b, 2 * share - 1, byRatio));
}

/** A figure of an axis in SI. */
export const siOf = (value: number, unit: string, kind: QuantityKind): number => {
  const got = readQuantity(unit === '' ? String(value) : `${value} ${unit}`, kind);
  return got.ok ? got.value : value * (unit === '' ? 1 : (unitSize(kind, unit) ?? 1));
};
