/** What a stack weighs more once an interfacing has made it stiffer. */
import { libm } from '../numerics/index.ts';
import { materialBands } from './presets.ts';
import type { Laminate } from './types.ts';

/** Nonwovens that are fused or laid behind a shell, lightest first: the ladder of a shop's shelf. */
const LADDER = ['fus_light', 'fus_medium', 'fus_heavy', 'nwboard'] as const;

/**
 * Areal mass of a nonwoven interlining whose own rigidity is B, kg/m2: between the middles of the built-in ones by powers (log m over log B), beyond the last by its power, under the
 * first in proportion. Estimates, as those are; real ones scatter by half. Parameter: rigidity to be added, N*m; 0 gives 0.
 */
function interfacingMass(rigidity: number): number {
  if (!(rigidity > 0)) return 0;
  const steps = LADDER.map((id) => {
    const { bending, arealMass } = materialBands(id);
    return { b: libm.log(bending[1]), m: libm.log(arealMass[1]) };
  });
  const at = libm.log(rigidity),
    first = steps[0]!;
  if (at <= first.b) return (rigidity * libm.exp(first.m)) / libm.exp(first.b);
  const above = steps.findIndex((s) => s.b >= at),
    k = above < 0 ? steps.length - 1 : above;
  const [p, q] = [steps[k - 1]!, steps[k]!];
  return libm.exp(p.m + ((at - p.b) * (q.m - p.m)) / (q.b - p.b));
}

/** Areal mass of a laminate whose bending is `factor` times as large, the difference being an interfacing laid in loose: fused it adds more for its weight. A factor under 1 takes nothing away. */
export const massWhenStiffer = ({ arealMass, bending }: Pick<Laminate, 'arealMass' | 'bending'>, factor: number): number =>
  arealMass + interfacingMass((factor - 1) * Math.sqrt(bending[0] * bending[1]));
