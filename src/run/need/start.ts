/** Where a search begins. It steers which rigidities are settled first, and decides nothing. */
import type { Bag, PanelRole, Stance, Wanted } from '../../bag/types.ts';
import { overhangUpright } from '../../material/index.ts';
import type { BagLaminates } from '../../material/types.ts';
import { libm } from '../../numerics/index.ts';
import { draftPanels } from '../../panels/index.ts';
import { rungOf } from './search.ts';

/** Overhang over height from which a boxed bag's walls are likely to hold; harbour tote 0.7, by its search. */
const LIKELY = 0.6;
/** Walls of less than this share are far from it: what is tried about them are heaps, each several times as long to settle as what stands. */
const FAR = 0.35;
const WALLS: ReadonlySet<PanelRole> = new Set(['front', 'back', 'body']);

/**
 * The rung to begin with: 0, the option's own stacks, or, of walls that are far too soft for a bag that is to stand upright, the one at which they may hold. A bag that stands is
 * settled sooner than one that falls, so that the limit is approached from there. Parameters: panels that are changed; laminates of the option.
 */
export function likelyRung(bag: Bag, panels: readonly string[], lays: BagLaminates, stance: Stance, wanted: Wanted): number {
  if (stance.kind !== 'standing' || (wanted !== 'structured' && wanted !== 'rigid')) return 0;
  const { panels: drafted } = draftPanels(bag);
  const shares = bag.panels.flatMap((panel, i) => {
    const [, y0, , y1] = drafted[i]!.bounds;
    return WALLS.has(panel.role) && panels.includes(panel.name) && y1 > y0 ? [overhangUpright(lays[i]![0]!, panel) / (y1 - y0)] : [];
  });
  const share = Math.min(...shares);
  return share < FAR ? rungOf(libm.cube(LIKELY / share)) : 0;
}
