import type { Wanted } from '../bag/types.ts';
import { formatAngle, formatMm } from '../units/index.ts';
import { type BandVerdict, givesWay, unaidedHeight } from './band.ts';
import { keepsShape, worstBy } from './severity.ts';
import { PUDDLE, RIGID_MARGIN, SOFT_MARGIN, THRESHOLDS } from './thresholds.ts';
import type { BandRun, Fit, Verdict } from './types.ts';
import { BATCH, percent } from './words.ts';

const DEG = Math.PI / 180;
const limit = (gate: string): number => THRESHOLDS.find((t) => t.gate === gate)!.softens;

/** Bounds between which the mouth of a slouchy bag droops as it hangs, over the height, and its tilt from level, rad. */
export const DROOP = { least: 0.02, most: 0.25, tilt: 8 * DEG } as const;

/**
 * What makers mean by a wanted look, per stance: common practice, no source.
 * | wanted     | standing                                                                            | hung                                                         |
 * |------------|-------------------------------------------------------------------------------------|--------------------------------------------------------------|
 * | slouchy    | softens, or gives way and keeps its feet (85 % of its footprint), a mouth that opens (0.4 of its depth) and 60 % of its height | the mouth droops by 2 to 25 % of the height, level to 8 deg |
 * | soft       | softens, or holds with less than half of the room to spare                          | softens or hangs true                                        |
 * | structured | holds                                                                               | hangs true                                                   |
 * | rigid      | holds with at least half of the room to spare                                       | hangs true with at least half of the room to spare           |
 * What only stands until it is touched suits none of them; of a slouchy one, which may well move when touched, nothing is said. A bag that lies flat has no base: it is judged as it hangs.
 */
function suits(b: BandVerdict, wanted: Wanted): Fit {
  const { word, margin, run } = b;
  if (word === 'lies flat') return 'falls over';
  if (word === 'stands until touched' || word === 'hangs true until touched') return 'goes when touched';
  if (wanted === 'slouchy') return run.hung === null ? slouches(b) : drapes(run);
  if (wanted === 'soft') return word === 'slumps' ? 'too soft' : run.hung === null && word === 'holds' && margin >= SOFT_MARGIN ? 'too stiff' : 'meets';
  return keepsShape(word) && (wanted === 'structured' || margin >= RIGID_MARGIN) ? 'meets' : 'too soft';
}

function slouches({ word, run: { measures, status } }: BandVerdict): Fit {
  if (word === 'holds') return 'too stiff';
  if (word === 'softens') return 'meets';
  const { footprintKept, mouthGap, heightKept } = measures;
  // A heap that was still falling has not shown what it keeps.
  if (status !== 'settled') return 'too soft';
  const onItsFeet = footprintKept === null || footprintKept >= limit('footprintKept');
  const opens = mouthGap === null || mouthGap >= limit('mouthGap');
  return onItsFeet && opens && (heightKept === null || heightKept >= PUDDLE) ? 'meets' : 'too soft';
}

function drapes({ measures: { hangTilt, mouthSag } }: BandRun): Fit {
  if (hangTilt !== null && hangTilt > DROOP.tilt) return 'hangs askew';
  if (mouthSag === null) return 'meets';
  return mouthSag < DROOP.least ? 'too stiff' : mouthSag > DROOP.most ? 'too soft' : 'meets';
}

/** Does every run give what is wanted (`suits`), and if not, which way it misses and by how much. null without a verdict in every run. */
export function judgeWanted(bands: readonly BandVerdict[], wanted: Wanted): Pick<Verdict, 'meetsWanted' | 'fit' | 'wanted' | 'wantedReason'> {
  if (bands.some((b) => b.word === 'no verdict')) return { meetsWanted: null, fit: null, wanted, wantedReason: '' };
  if (bands.every((b) => b.word === 'lies flat'))
    return {
      meetsWanted: null,
      fit: 'falls over',
      wanted,
      wantedReason: `A bag without a base is judged as it hangs: settle a hung stance to see whether it is "${wanted}".`,
    };
  if (wanted === 'slouchy' && bands.every((b) => b.word.endsWith('until touched')))
    return {
      meetsWanted: null,
      fit: 'goes when touched',
      wanted,
      wantedReason: 'It goes over when touched. What it becomes then is not measured, so nothing is said about "slouchy".',
    };
  if (wanted === 'slouchy' && bands.some((b) => b.run.early === 'slumps'))
    return { meetsWanted: null, fit: null, wanted, wantedReason: 'Whether it is "slouchy" its finished heap tells: settle it to rest.' };
  const fits = new Map(bands.map((b) => [b, suits(b, wanted)] as const));
  const misses = bands.filter((b) => fits.get(b) !== 'meets');
  if (misses.length === 0) return { meetsWanted: true, fit: 'meets', wanted, wantedReason: `Meets "${wanted}".` };
  const kinds = [...new Set(misses.map((b) => fits.get(b)!))];
  const worst = worstBy(misses, (b) => b.word);
  const met = bands.find((b) => fits.get(b) === 'meets') ?? null;
  const where = misses.length === bands.length ? '' : ` with ${misses.map((b) => BATCH[b.run.band]).join(' and ')}`;
  const text =
    kinds.length > 1
      ? `Not what "${wanted}" asks for: ${misses.map((b) => `${fits.get(b)} with ${BATCH[b.run.band]}`).join(', ')}`
      : `${SAID[kinds[0]](wanted)}${where}${byHowMuch(misses.find((b) => b.run.band === 'mid') ?? worst, kinds[0], met)}`;
  return { meetsWanted: false, fit: fits.get(worst)!, wanted, wantedReason: `${text}.` };
}

const SAID: Readonly<Record<Fit, (wanted: string) => string>> = {
  meets: (w) => `Meets "${w}"`,
  'too soft': (w) => `Too soft for "${w}"`,
  'too stiff': (w) => `Too stiff for "${w}"`,
  'falls over': (w) => `Falls over, so it is not "${w}"`,
  'goes when touched': (w) => `Does not stay as it is when touched, so it is not "${w}"`,
  'hangs askew': (w) => `Hangs askew, so it is not "${w}"`,
};

/**
 * How far off the wanted look is, told in the 41.5-degree overhang of the wall's stack: against the bolt that meets it, else against the overhang from which
 * the wall would stand by itself; of a hung bag by the droop of its mouth. '' where neither says anything.
 */
function byHowMuch(miss: BandVerdict, kind: Fit, met: BandVerdict | null): string {
  if (kind !== 'too soft' && kind !== 'too stiff') return kind === 'hangs askew' ? `: it tilts ${formatAngle(miss.run.measures.hangTilt ?? 0)}` : '';
  if (miss.run.hung !== null) {
    const sag = miss.run.measures.mouthSag;
    return sag === null || miss.run.measures.hangTilt === null || kind === 'too soft'
      ? ''
      : `: the mouth droops ${percent(sag)} of the height, wanted ${percent(DROOP.least)} to ${percent(DROOP.most)}`;
  }
  const wall = givesWay(miss.run);
  if (wall === null) return '';
  const mm = (m: number): string => formatMm(m, 0);
  const same = met?.run.panels.find((p) => p.name === wall.name);
  if (same && Math.abs(same.overhang - wall.overhang) > 0.5e-3)
    return `: its overhang is ${mm(wall.overhang)}, ${BATCH[met!.run.band]} of ${mm(same.overhang)} meets it`;
  const needed = (wall.overhang * wall.height) / unaidedHeight(wall);
  const apart = kind === 'too soft' ? needed - wall.overhang : wall.overhang - needed;
  if (!(apart > 0.5e-3)) return '';
  const soft = kind === 'too soft';
  return `: its overhang is ${mm(wall.overhang)}, ${mm(apart)} ${soft ? 'less' : 'more'} than a wall of ${mm(wall.height)} needs to stand by itself${soft ? ' (side seams that hold it let it do with less)' : ''}`;
}
