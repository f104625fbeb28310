/** Is there room for the allowances? */
import type { Fault, Point2 } from '../../bag/types.ts';
import { distanceToPolygon, insidePolygon } from '../../numerics/index.ts';
import { formatMm } from '../../units/index.ts';
import { cutShape } from './cut-line.ts';
import type { Stretch } from './types.ts';

/** A cut line may run this far inside another allowance before the stretch counts as swallowed, m. */
const SLACK = 5e-5;

/** Where seam or finish of a stretch is written. */
const pathOf = ({ run, use }: Stretch): string => (use.kind === 'seam' ? `seams.${use.seam}.allowance` : `panels.${run.panel}.finishes.${run.edge}.width`);

/** Where along a stretch its cut line is looked for. */
const LOOKED_AT = [0.02, 0.25, 0.5, 0.75, 0.98] as const;

/** Places on the cut line off a stretch. */
function offPlaces({ points, tangents, out, allowance }: Stretch): Point2[] {
  return LOOKED_AT.map((w): Point2 => {
    const i = Math.min(points.length - 2, Math.floor(w * (points.length - 1)));
    const u = w * (points.length - 1) - i;
    const [a, b, t] = [points[i]!, points[i + 1]!, tangents[i]!];
    return [a[0] + (b[0] - a[0]) * u + out * t[1] * allowance, a[1] + (b[1] - a[1]) * u - out * t[0] * allowance];
  });
}

/** Is the whole allowance of a stretch covered by others'? Cut lines on opposite sides of a narrow cut-out meet there. A corner may take up to all but a part of it. */
function swallowed(loops: readonly (readonly Stretch[])[], share: number): Stretch[] {
  const scaled = loops.map((loop) => loop.map((s) => ({ ...s, allowance: s.allowance * share })));
  const shape = cutShape(scaled);
  const buried = (q: Point2): boolean =>
    shape.filter((polygon) => insidePolygon(q, polygon)).length % 2 === 1 && Math.min(...shape.map((polygon) => distanceToPolygon(q, polygon))) > SLACK;
  return scaled.flatMap((loop, l) => loop.flatMap((s, i) => (s.allowance > 0 && offPlaces(s).every(buried) ? [loops[l]![i]!] : [])));
}

/**
 * Faults of allowances that a hollow curve or a narrow cut-out has no room for, each with the largest that fits. An offset of a hollow arc by more than its
 * radius has no inside. Empty when everything fits.
 */
export function allowanceFaults(loops: readonly (readonly Stretch[])[]): Fault[] {
  const faults: Fault[] = [];
  for (const s of loops.flat())
    if (s.allowance > s.hollow + SLACK)
      faults.push({
        path: pathOf(s),
        got: formatMm(s.allowance),
        expected: `at most ${formatMm(Math.floor((s.hollow + SLACK) * 1e4) / 1e4)}, the radius of the hollow curve ${s.run.panel}.${s.run.edge}`,
      });
  if (faults.length > 0) return faults;
  for (const s of swallowed(loops, 1)) {
    // By halves to a hundredth: the share of all allowances at which this one is still its own.
    let [fits, over] = [0, 1];
    for (let k = 0; k < 7; k++) {
      const middle = (fits + over) / 2;
      if (swallowed(loops, middle).some((o) => o.run === s.run)) over = middle;
      else fits = middle;
    }
    faults.push({
      path: pathOf(s),
      got: formatMm(s.allowance),
      expected: `at most ${formatMm(Math.floor(fits * s.allowance * 1e4) / 1e4)}: beside ${s.run.panel}.${s.run.edge} another allowance takes the same cloth`,
    });
  }
  return faults;
}
