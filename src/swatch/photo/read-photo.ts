import type { Fault } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { CLAMP, fitStrip, type StripFit } from './fit.ts';
import { markFaults } from './mark-faults.ts';
import type { PhotoMarks, PhotoRead, PhotoReading, Pixel } from './types.ts';

/** Half of the interval over the bending length beyond which it is no use: 50 % in stiffness. */
const WIDEST = 0.15;
/** A place so far from the strip, m and part of its length, is looked at by itself. */
const STRAY = [1.5e-3, 0.025] as const;
/** Slopes at the edge that are told. */
const NEAR_LIMIT = 0.98;
const LEAST_TOLD = 0.05;
/** A measured length is contradicted from so many of its standard deviations on. */
const CONTRADICTED = 3;
/** What a camera adds to the squares left over, beyond which the picture is none of a main camera whole: chi-squared of 2 at one in a thousand. From memory. */
const ODD = 13.8;

const mm = (v: number): string => `${Number((v * 1000).toPrecision(3))} mm`;
const percent = (v: number): string => `${Number((100 * v).toPrecision(2))} %`;

/** A place that the others do not bear out: without it what is left over falls to under a third. Returns its number from 0, or -1. */
function strayPlace(marks: PhotoMarks, fit: StripFit): number {
  const limit = Math.max(STRAY[0], STRAY[1] * fit.length);
  const far = fit.residuals.map((r, i) => [Math.abs(r), i] as const).sort((a, b) => b[0] - a[0]);
  if (far[0]![0] < limit || marks.strip.length < 6) return -1;
  // The fit leans towards a stray place, so that it need not be the one furthest off.
  for (const [, i] of far.slice(0, 3)) {
    if (i === marks.strip.length - 1) continue;
    const rest = fitStrip({ ...marks, strip: marks.strip.filter((_, k) => k !== i) });
    if (rest.noise < fit.noise / 3) return i;
  }
  return -1;
}

function fitFaults(marks: PhotoMarks, fit: StripFit): Fault[] {
  const stray = strayPlace(marks, fit);
  if (stray >= 0) {
    const off = Math.abs(fitDistance(marks, stray));
    return [
      { path: `strip[${stray}]`, got: `point ${stray + 1}, ${mm(off)} off the line of the others`, expected: 'a place on the strip: move it or take it out' },
    ];
  }
  if (fit.noise > Math.max(STRAY[0], STRAY[1] * fit.length))
    return [
      {
        path: 'strip',
        got: `points that lie ${mm(fit.noise)} off a hanging strip's line on average`,
        expected: 'one strip from the edge to its tip, in that order; a strip that curls, twists or touches something cannot be read',
      },
    ];
  const [low, c, high] = fit.bendingLength;
  const half = Math.max(high / c - 1, 1 - low / c);
  if (half <= WIDEST) return [];
  const expected =
    fit.load < 2
      ? 'at most 15 % off: the strip hardly bends; let more of it hang out, or read its tip drop or a pear loop'
      : fit.load > 100
        ? 'at most 15 % off: the strip hangs straight down; let less of it hang out, or hang it as a heart loop'
        : 'at most 15 % off: mark more points, hold the card close beside the strip, and mark its corners under the magnifier';
  return [{ path: 'strip', got: `a bending length of ${mm(c)} that may be ${percent(half)} off`, expected }];
}

/** How far a place lies from the strip through all the others. */
function fitDistance(marks: PhotoMarks, i: number): number {
  const others = fitStrip({ ...marks, strip: marks.strip.filter((_, k) => k !== i) });
  const at = others.plane.toPlane(marks.strip[i]!);
  return others.curve.reduce((best, p) => Math.min(best, libm.hypot(p[0] - at[0], p[1] - at[1])), Number.POSITIVE_INFINITY);
}

function warningsOf(marks: PhotoMarks, fit: StripFit): string[] {
  const out: string[] = [];
  if (fit.held && Math.abs(fit.clampAngle) > CLAMP * NEAR_LIMIT)
    out.push(
      `the strip leaves the edge ${fit.clampAngle > 0 ? 'downward' : 'upward'} by 3 degrees or more: hold it flat to the edge, and mark the table's edge where it begins to bend`,
    );
  if (marks.measured && Math.abs(fit.length - marks.measured.length) > CONTRADICTED * marks.measured.off)
    out.push(`the picture has the strip ${mm(fit.length)} long where ${mm(marks.measured.length)} was measured: measure again, or mark the card again`);
  if (fit.load < 4) out.push('the strip bends little: let it hang out further, to about 45 degrees from edge to tip, and the reading gets better');
  const [low, c, high] = fit.bendingLength;
  const half = (high - low) / 2 / c;
  if (half > LEAST_TOLD) out.push(`this picture alone leaves ${percent(half)} in bending length, ${percent(3 * half)} in stiffness: read more pictures`);
  if (!marks.card) out.push('a ruler gives the scale of a picture taken square on; a card also puts right a camera held askew');
  if (marks.table.length < 2)
    out.push(
      `level is taken from ${marks.card ? "the card's side: stand it on the table" : "the picture's own side"}, or mark a second place on the table's top`,
    );
  return out;
}

/**
 * A strip read off one picture: its bending length with a 90 % interval, where its places lie beside the exact strip, and what limits it; or every fault of
 * the marks. Assumes that card or ruler stand in the plane of the strip's near side and that the lens bends no lines. Deterministic.
 * Source: Peirce 1930 (the strip); ISO/IEC 7810 (the card).
 */
export function readPhoto(asked: PhotoMarks): PhotoRead {
  const faults = markFaults(asked);
  if (faults.length > 0) return { ok: false, faults };
  const first = fitStrip(asked);
  // No main camera sees a card so: the picture was cropped or zoomed after all, and nothing is known of its lens.
  const odd = asked.size != null && first.misfit > ODD;
  const marks = odd ? { ...asked, size: null } : asked;
  const fit = odd ? fitStrip(marks) : first;
  const notWhole = odd ? ['the card is not as a whole picture of a main camera has it: read as a cropped or zoomed one, which is less sure'] : [];
  if (!fit.bendingLength.every(Number.isFinite))
    return {
      ok: false,
      faults: [{ path: 'strip', got: 'points that no hanging strip passes through', expected: 'a strip from the edge to its tip, in that order' }],
    };
  const wrong = fitFaults(marks, fit);
  if (wrong.length > 0) return { ok: false, faults: wrong };
  const { plane } = fit;
  const tip = fit.curve.at(-1)!;
  const edge = fit.curve[0]!;
  const [a, b] = [plane.toPicture(edge), plane.toPicture(tip)];
  const chord: Pixel = [tip[0] - edge[0], tip[1] - edge[1]];
  const reading: PhotoReading = {
    bendingLength: fit.bendingLength,
    rigidityOverWeight: libm.cube(fit.bendingLength[1]),
    length: fit.length,
    load: fit.load,
    clampAngle: fit.clampAngle,
    chordAngle: libm.atan2(chord[1], chord[0]),
    residuals: fit.residuals,
    noise: fit.noise,
    curve: fit.curve.map(plane.toPicture),
    scale: libm.hypot(b[0] - a[0], b[1] - a[1]) / libm.hypot(...chord),
    asWhole: asked === marks && !!marks.size,
    warnings: [...notWhole, ...warningsOf(marks, fit)],
  };
  return { ok: true, reading };
}
