/** What a maker reads off a sewn corner, and the seam's hinge that follows. */

import { at } from '../bag/index.ts';
import { libm } from '../numerics/index.ts';
import { GRAVITY, quantityExample, readQuantity } from '../units/index.ts';
import { type CornerDrops, type ReadHinge, readHinge } from './corner-theory.ts';
import { mm } from './ranges.ts';
import type { DirectionResult } from './reading.ts';
import type { Reader } from './readings.ts';

/** Drops of the tip below the seam, m, negative above it. */
export interface CornerReading {
  /** m, of the piece that hangs from the seam. */ readonly length: number;
  /** It hangs across the seam: along the cloth's warp or weft. */ readonly direction: 'warp' | 'weft';
  readonly up: readonly number[];
  readonly down: readonly number[];
}

const WAYS = ['seam up', 'seam down'] as const;

/** The entry "corner" of a file of readings, or null after its faults: lengths without units, drops that the piece is too short for, a way up that was left out. */
export function readCorner(r: Reader, written: unknown): CornerReading | null {
  const form = r.entry('corner', written, 'an object such as {"length": "40 mm", "seam up": ["6 mm", "7 mm"], "seam down": ["9 mm", "8 mm"]}');
  if (!form) return null;
  r.known('corner', form, ['length', 'direction', ...WAYS]);
  const length = r.size(at('corner', 'length'), form.length, 'length');
  const direction = form.direction ?? 'weft';
  if (direction !== 'warp' && direction !== 'weft') r.faults.add(at('corner', 'direction'), form.direction, '"warp" or "weft": how the hanging piece is cut');
  const [up, down] = WAYS.map((way) => {
    const path = at('corner', way);
    const all = Array.isArray(form[way]) ? form[way] : form[way] === undefined ? [] : [form[way]];
    if (all.length === 0 || all.length > 100)
      r.faults.addText(path, `${all.length} readings`, 'one to a hundred drops of the tip below the seam, "-3 mm" above it');
    return all.slice(0, 100).flatMap((text, i): number[] => {
      const where = Array.isArray(form[way]) ? at(path, i) : path;
      const read = typeof text === 'string' ? readQuantity(text, 'length') : ({ ok: false, expected: quantityExample('length') } as const);
      if (!read.ok) r.faults.add(where, text, read.expected);
      else if (length !== null && Math.abs(read.value) >= length) r.faults.add(where, text, `less than the length of the piece, ${mm(length)}, either way`);
      else return [read.value];
      return [];
    });
  });
  if (length === null || (direction !== 'warp' && direction !== 'weft') || up!.length === 0 || down!.length === 0) return null;
  return { length, direction, up: up!, down: down! };
}

export interface CornerResult {
  readonly reading: CornerReading;
  /** null: the seam gives less than can be read. */ readonly hinge: ReadHinge | null;
  readonly warnings: readonly string[];
}

/**
 * The hinge of a sewn corner from its readings: means of both ways up; each drop off by the ruler's half division and by half of its readings' range; the rigidity's own
 * low and high. Assumes what cornerStrip does. Parameters: readings; ruler's division, m; the cloth's weight, kg/m2; what its strips gave.
 */
export function cornerResult(reading: CornerReading, ruler: number, arealMass: number, strips: readonly DirectionResult[]): CornerResult {
  const mean = (list: readonly number[]): number => list.reduce((s, v) => s + v, 0) / list.length;
  const range = (list: readonly number[]): number => Math.max(...list) - Math.min(...list);
  const drops: CornerDrops = {
    length: reading.length,
    up: mean(reading.up),
    down: mean(reading.down),
    error: libm.hypot(ruler / 2, Math.max(range(reading.up), range(reading.down)) / 2),
  };
  const strip = strips.find((s) => s.direction === reading.direction)!;
  const hinge = readHinge(drops, arealMass * GRAVITY, strip.rigidity);
  const warnings: string[] = [];
  if (hinge === null)
    warnings.push('corner: the two drops are those of a seam that does not give; its cloth bends first. Take a shorter piece, or say "creased"');
  else if (hinge.stiffness[2] > 3 * hinge.stiffness[1])
    warnings.push('corner: the readings hardly tell how stiff the seam is, only how far it is set: take a shorter piece, or glue a board to the hanging one');
  return { reading, hinge, warnings };
}

/** Lines of text: the hinge with its error bars, and how it goes into a bag file. */
export function cornerText({ hinge }: CornerResult): string[] {
  if (hinge === null) return [];
  const [soft, k, stiff] = hinge.stiffness.map((v) => (Number.isFinite(v) ? `${Number(v.toPrecision(2))}` : 'more than can be read'));
  const [low, rest, high] = hinge.rest.map((v) => Math.round((v * 180) / Math.PI));
  return [
    `  corner seam ${k} N (${soft} to ${stiff}), at rest at ${rest} deg (${low} to ${high}); in a seam of the bag file: "hinge": {"stiffness": "${k} N", "rest": "${rest} deg"}`,
  ];
}
