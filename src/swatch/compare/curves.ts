/** Theory's curves of a sheet against the length of its strip. */

import { hangingStrip, stripRigidity } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import { bendingLength, GRAVITY } from '../../units/index.ts';
import { loopHeight, loopHeights } from '../elastica.ts';
import type { Sheet } from '../sheet.ts';

/** Load w L^3/B up to which the elastica of a hanging strip and of a loop is followed: beyond, they hang all but straight. */
const MOST = { droop: 200, loop: 1000 } as const;

const loadAt = (sheet: Sheet, cut: number, length: number): number => (sheet.arealMass * GRAVITY * libm.cube(length)) / stripRigidity(sheet.bending, cut);

/** Bending length of a strip, m: every curve below is one curve of length over this. */
const scaleOf = (sheet: Sheet, cut: number): number => bendingLength(stripRigidity(sheet.bending, cut), sheet.arealMass);

/**
 * Droop of a strip clamped level at a table's edge: angle of the line from edge to tip below level, rad, and drop of the tip, m; null beyond
 * w L^3/B = 200, where it hangs all but straight down. Exact elastica. Parameters: sheet; cut rad from the warp; overhang m. Source: Peirce 1930.
 */
export function droopAt(sheet: Sheet, cut: number, length: number): { readonly angle: number; readonly drop: number } | null {
  const K = loadAt(sheet, cut, length);
  if (!(K <= MOST.droop)) return null;
  const { chordAngle, drop } = hangingStrip(K);
  return { angle: chordAngle, drop: drop * length };
}

/** Height, m, of a heart loop of strip length L, m, from its clamp to its lowest point; null where it hangs too straight for theory. Source: Peirce 1930. */
export function loopAt(sheet: Sheet, cut: number, length: number): number | null {
  const K = loadAt(sheet, cut, length);
  if (!(K <= MOST.loop)) return null;
  const height = loopHeight('heart', K);
  return height === null ? null : height * length;
}

type Curve = readonly (readonly [overScale: number, value: number])[];

/** Loads at even steps of length over bending length, so that the curve is smooth where it bends. */
const loadsUpTo = (most: number, n: number): number[] => Array.from({ length: n }, (_, i) => Math.min(most, most * libm.cube((i + 1) / n)));

/** Worked out once: strips of every cloth follow the same curve. */
let droops: Curve | null = null;
let loops: Curve | null = null;

const along = (points: Curve, scale: number, most: number, value: (v: number, length: number) => number): (readonly [number, number])[] =>
  points.map(([u, v]) => [u * scale, value(v, u * scale)] as const).filter(([length]) => length <= most * (1 + 1e-9));

/** Points [length m, angle rad] of a strip's droop, as far as `most` m and theory go. */
export function droopCurve(sheet: Sheet, cut: number, most: number): (readonly [number, number])[] {
  droops ??= loadsUpTo(MOST.droop, 96).map((K) => [libm.cbrt(K), hangingStrip(K).chordAngle] as const);
  return [[0, 0], ...along(droops, scaleOf(sheet, cut), most, (angle) => angle)];
}

/** Points [length m, height m] of heart loops, as far as `most` m of strip and theory go. */
export function loopCurve(sheet: Sheet, cut: number, most: number): (readonly [number, number])[] {
  if (!loops) {
    const loads = loadsUpTo(MOST.loop, 48);
    const heights = loopHeights('heart', loads);
    loops = loads.flatMap((K, i) => (heights[i] === null ? [] : [[libm.cbrt(K), heights[i]!] as const]));
  }
  return along(loops, scaleOf(sheet, cut), most, (height, length) => height * length);
}
