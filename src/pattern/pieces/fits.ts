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

/** The place on the cut line off the middle of a stretch. */
function offMiddle({ points, tangents, out, allowance }: Stretch): Point2 {
  const i = points.length >> 1;
  const [p, t] = points.length === 2 ? [[(points[0]![0] + points[1]![0]) / 2, (points[0]![1] + points[1]![1]) / 2], tangents[0]!] : [points[i]!, tangents[i]!];
  return [p[0]! + out * t[1] * allowance, p[1]! - out * t[0] * allowance];
}

/** Is the whole allowance of a stretch covered by others'? Cut lines on opposite sides of a narrow cut-out meet there. */
function swallowed(loops: readonly (readonly Stretch[])[], share: number): Stretch[] {
  const scaled = loops.map((loop) => loop.map((s) => ({ ...s, allowance: s.allowance * share })));
  const shape = cutShape(scaled);
  return scaled.flatMap((loop, l) =>
    loop.flatMap((s, i) => {
      const q = offMiddle(s);
      const inside = shape.filter((polygon) => insidePolygon(q, polygon)).length % 2 === 1;
      return s.allowance > 0 && inside && Math.min(...shape.map((polygon) => distanceToPolygon(q, polygon))) > SLACK ? [loops[l]![i]!] : [];
    }),
  );
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
