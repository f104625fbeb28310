/** The marks that give the scale, as unknowns of the fit: where they are, how noisy they are, and what a camera allows of them. */
import { libm } from '../../numerics/index.ts';
import { CARD, fromRectangle } from './homography.ts';
import type { PhotoMarks, Pixel } from './types.ts';

/** How far a corner or a ruler's mark may be off under the magnifier, m. An estimate. */
const SCALE_NOISE = 1e-4;
/** Focal length over the picture's diagonal: 26 mm on 36 x 24 mm, and its scatter as a logarithm (24 to 28 mm are usual; cheap and wide ones are in it). From memory. */
const FOCAL = 0.6;
const FOCAL_SCATTER = 0.12;
/** How far a camera is from the pinhole with square pixels and its axis in the picture's middle, as a share. An estimate. */
const CAMERA = 1e-3;
const STEP = 1e-4;
/** Moves of the corners, in their noise, beyond which the other tilt is not looked for: four moved so far are 16 in chi-squared. */
const DOUBT = 2;

const marksOf = (marks: PhotoMarks): readonly Pixel[] => marks.card ?? marks.ruler!.marks;
const hasCamera = (marks: PhotoMarks): boolean => marks.card !== null && !!marks.size;
const apart = (a: Pixel, b: Pixel): number => libm.hypot(a[0] - b[0], a[1] - b[1]);

/** Pixels that one standard deviation of a mark comes to. */
function noiseOf(marks: PhotoMarks): number {
  const noise = Math.max(1e-7, marks.scaleNoise ?? SCALE_NOISE);
  if (!marks.card) return (noise * apart(marks.ruler!.marks[0]!, marks.ruler!.marks[1]!)) / marks.ruler!.apart;
  const around = marks.card.reduce((s, p, i) => s + apart(p, marks.card![(i + 1) % 4]!), 0);
  return (noise * around) / (2 * (CARD[0] + CARD[1]));
}

/** Unknowns: how far each coordinate of the marks is moved, in its standard deviation; then, with a camera, ln of its focal length over a usual one, in its. */
const count = (marks: PhotoMarks): number => 2 * marksOf(marks).length + (hasCamera(marks) ? 1 : 0);
const still = (marks: PhotoMarks): number[] => new Array(count(marks)).fill(0);

/**
 * Where the fit begins: the marks as they are; and where a camera is known and the card's noise leaves in doubt which of its sides is the nearer, the card
 * tilted the other way: its sides' convergence, d = (p1 - p2 + p3 - p4) / 4, with the other sign.
 */
export function scaleStarts(marks: PhotoMarks): number[][] {
  if (!hasCamera(marks)) return [still(marks)];
  const [p, q, r, s] = marks.card as readonly Pixel[];
  const noise = noiseOf(marks);
  const d = [0, 1].map((k) => (p![k]! - q![k]! + r![k]! - s![k]!) / 2 / noise);
  if (libm.hypot(d[0]!, d[1]!) > DOUBT) return [still(marks)];
  return [still(marks), [...[-1, 1, -1, 1].flatMap((sign) => [sign * d[0]!, sign * d[1]!]), 0]];
}
export const scaleSteps = (marks: PhotoMarks): number[] => new Array(count(marks)).fill(STEP);

export function movedMarks(marks: PhotoMarks, parts: readonly number[]): Pixel[] {
  const noise = noiseOf(marks);
  return marksOf(marks).map(([x, y], i) => [x + noise * parts[2 * i]!, y + noise * parts[2 * i + 1]!]);
}

/**
 * Rows of the scale, each in its standard deviation: the moves of the marks, the focal length, and that the card's two directions come out square and of one scale through
 * that lens. With columns h1, h2 of the card's homography from the picture's middle and K = diag(f, f, 1): (K^-1 h1) . (K^-1 h2) = 0 and |K^-1 h1| = |K^-1 h2|.
 * Source: Zhang 2000, A flexible new technique for camera calibration, eq. 3 and 4 (from memory).
 */
export function scaleRows(marks: PhotoMarks, parts: readonly number[]): number[] {
  if (!hasCamera(marks)) return [...parts];
  const [w, hh] = marks.size!;
  const focal = FOCAL * libm.hypot(w, hh) * libm.exp(FOCAL_SCATTER * parts.at(-1)!);
  const h = fromRectangle(
    CARD,
    movedMarks(marks, parts).map(([x, y]): Pixel => [(x - w / 2) / focal, (y - hh / 2) / focal]),
  );
  const [a, b] = [
    [h[0]!, h[3]!, h[6]!],
    [h[1]!, h[4]!, h[7]!],
  ];
  const dot = (u: readonly number[], v: readonly number[]): number => u[0]! * v[0]! + u[1]! * v[1]! + u[2]! * v[2]!;
  const [aa, bb, ab] = [dot(a!, a!), dot(b!, b!), dot(a!, b!)];
  return [...parts, ab / Math.sqrt(aa * bb) / CAMERA, libm.log(aa / bb) / 2 / CAMERA];
}
