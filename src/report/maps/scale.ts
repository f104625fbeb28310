import { formatInches, roundUp } from '../../units/index.ts';
import { cssColour, mapColours } from './colours.ts';
import type { MapKind, SettledMaps } from './types.ts';
import { words } from './words.ts';

/** Steps of a map: the same number of lines is drawn on the bag (cloth.frag, seam.frag). */
const STEPS = 8;

/** A map's scale, the same for every option on the mat. */
export interface Scale {
  /** Value at its dark end: a fraction (strain), m (gap: its pale end), N/m (seams). */ readonly top: number;
  /** Place of a value on it, 0 pale to 1 dark; beyond its ends it stays there. */ readonly at: (value: number) => number;
  /** Written under the steps, pale end first, evenly spaced. */ readonly marks: readonly string[];
  readonly write: (value: number) => string;
  /** Smaller values are not told from nothing. */ readonly floor: number;
}

/** Two figures, or whole numbers where there are more. */
const figures = (value: number): string => (Math.abs(value) >= 10 ? String(Math.round(value)) : String(Number(value.toPrecision(2))));

/** Least end of the scale: below it a map would show the mesh's own noise in full colour. Our own choice. */
const LEAST = { strain: 1e-3, seams: 1 } as const;
/** Positions that came with the page are float32: some 2e-6 of strain on a quick mesh, and as much of the stiffest cloth's 5e4 N/m. */
const FLOOR = { strain: 1e-4, seams: 0.1 } as const;

/** The scale of a map over all states shown. Strain and force end at a round figure over the largest; the gap's end is fixed. */
export function scaleOf(kind: MapKind, all: readonly SettledMaps[], units: 'inch' | 'metric'): Scale {
  const clip = (t: number): number => Math.min(1, Math.max(0, t));
  if (kind === 'gap') {
    const top = all[0]?.gap.reach ?? 0.02;
    const write = (v: number): string => {
      const mm = `${figures(1e3 * v)} mm`;
      return units === 'inch' && v >= top ? `${mm} (${formatInches(v, 16)})` : mm;
    };
    const marks = [words.beyond(write(top)), ...[0.75, 0.5, 0.25].map((k) => write(k * top)), words.touches];
    return { top, at: (v) => clip(1 - v / top), marks, write, floor: 0 };
  }
  const largest = Math.max(LEAST[kind], ...all.map((m) => (kind === 'strain' ? m.strain.largest.value : (m.seams.largest?.value ?? 0))));
  const top = roundUp(largest);
  const floor = FLOOR[kind];
  const plain = kind === 'strain' ? (v: number): string => words.percent(figures(100 * v)) : (v: number): string => words.force(figures(v));
  const write = (v: number): string => (Math.abs(v) < floor ? words.under(plain(floor)) : plain(v));
  const least = kind === 'strain' ? words.less(plain(0)) : words.pressed(plain(0));
  return { top, at: (v) => clip(v / top), marks: [least, ...[0.25, 0.5, 0.75, 1].map((k) => plain(k * top))], write, floor };
}

/** CSS colours of the steps, pale first: each is the colour in the middle of its step. */
export function stepColours(): string[] {
  const colours = mapColours();
  return Array.from({ length: STEPS }, (_, i) => cssColour(colours[Math.round(((i + 0.5) / STEPS) * (colours.length - 1))]));
}
