import type { Wanted } from '../../bag/types.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { DROOP } from '../wanted.ts';

const [TILT, MOUTH] = (['hangTilt', 'mouthSag'] as const).map((gate) => THRESHOLDS.find((t) => t.gate === gate)!) as [
  (typeof THRESHOLDS)[number],
  (typeof THRESHOLDS)[number],
];

/** Up to where a bag hangs level for its look: tilt as for any bag, rad; sag of the mouth over the height as far as the look wants or bears it (wanted.ts). */
export const levelLimits = (wanted: Wanted): { readonly tilt: number; readonly mouthSag: number } => ({
  tilt: TILT.holds,
  mouthSag: wanted === 'slouchy' ? DROOP.most : wanted === 'soft' ? MOUTH.softens : MOUTH.holds,
});
