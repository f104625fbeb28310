import type { Wanted } from '../bag/types.ts';
import type { BandVerdict } from './band.ts';
import { RIGID_MARGIN, SOFT_MARGIN } from './thresholds.ts';
import { BATCH } from './words.ts';

type Fit = 'meets' | 'too soft' | 'too stiff' | 'falls over';

/**
 * Does every run give what is wanted? All rules are common practice with no source:
 *   slouchy: must give (softens or slumps); one that holds is too stiff;
 *   soft: softens, or holds with less than half of the room to spare; a slump is too soft, a firm hold too stiff;
 *   structured: holds;
 *   rigid: holds with at least half of the room to spare.
 * One that lies flat has fallen over, which no stiffness mends; of a slouchy bag it is no miss.
 * "depends on how it is filled" gives way one way, so it suits slouchy and soft only. null without a verdict in every run.
 */
export function judgeWanted(bands: readonly BandVerdict[], wanted: Wanted): { meetsWanted: boolean | null; wanted: Wanted; wantedReason: string } {
  if (bands.some((b) => b.word === 'no verdict')) return { meetsWanted: null, wanted, wantedReason: '' };
  const fits = bands.map((b) => suits(b, wanted));
  const misses = bands.filter((_, i) => fits[i] !== 'meets');
  if (misses.length === 0) return { meetsWanted: true, wanted, wantedReason: `Meets "${wanted}".` };
  const kinds = [...new Set(fits.filter((f) => f !== 'meets'))];
  const where = misses.length === bands.length ? '' : ` with ${misses.map((b) => BATCH[b.run.band]).join(' and ')}`;
  const text =
    kinds.length > 1
      ? `not what "${wanted}" asks for: ${kinds.join(' with one bolt, ')} with another`
      : kinds[0] === 'falls over'
        ? `falls over${where}, so it is not "${wanted}"`
        : `${kinds[0]} for "${wanted}"${where}`;
  return { meetsWanted: false, wanted, wantedReason: `${text.charAt(0).toUpperCase()}${text.slice(1)}.` };
}

function suits({ word, margin }: BandVerdict, wanted: Wanted): Fit {
  if (word === 'lies flat') return wanted === 'slouchy' ? 'meets' : 'falls over';
  switch (wanted) {
    case 'slouchy':
      return word === 'holds' ? 'too stiff' : 'meets';
    case 'soft':
      if (word === 'holds') return margin < SOFT_MARGIN ? 'meets' : 'too stiff';
      return word === 'slumps' ? 'too soft' : 'meets';
    case 'structured':
      return word === 'holds' ? 'meets' : 'too soft';
    case 'rigid':
      return word === 'holds' && margin >= RIGID_MARGIN ? 'meets' : 'too soft';
  }
}
