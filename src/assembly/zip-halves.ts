import { isZip, runsOverlap } from '../bag/index.ts';
import type { Bag, Member, Stance } from '../bag/types.ts';

/**
 * The two halves of every zip closure of a stance, open or closed, as line members: tape and teeth along each edge, half of the closed chain's rigidity each, so that a closed
 * mouth has all of it. An edge that has a member of its own keeps that alone. The closure weighs them, not this.
 */
export function zipHalves(bag: Bag, stance: Stance): readonly Member[] {
  if (stance.closed === 'left out') return [];
  const taken = (bag.members ?? []).flatMap((m) => m.runs);
  return (bag.closures ?? [])
    .filter(isZip)
    .flatMap(({ name, kind, size, sides }) =>
      sides
        .filter((runs) => !runs.some((r) => taken.some((t) => runsOverlap(r, t))))
        .map((runs): Member => ({ name, kind, runs, size, rodRigidity: null, lineMass: null, stopsShort: 0 })),
    );
}
