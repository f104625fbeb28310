import type { Bag } from '../bag/types.ts';
import { checkGaps } from './check-topology-gaps.ts';
import { checkLayers } from './check-topology-layers.ts';
import { checkOpenings } from './check-topology-openings.ts';
import { checkPieces } from './check-topology-pieces.ts';
import { checkTurned } from './check-topology-turned.ts';
import { advised, type Finding, type FindingList } from './findings.ts';
import { RingOpen } from './seam-stretches.ts';
import { type Surface, surfaceOf } from './surface.ts';
import type { Draft } from './types.ts';

/** Findings that say by themselves why the walls do not close round the bag. */
const SAID: readonly Finding['kind'][] = ['mismatch', 'mirrored', 'chain broken', 'twisted', 'sewn twice', 'sewn over', 'mouth sewn', 'crosses itself'];

/**
 * Whether the seams make one bag: every panel sewn on, no edge of the body left open unnamed, two sheets of the body at each seam, no panel turned
 * round. Pockets, flaps, straps, trim, and panels that the bag is closed without (a divider) are layers beside it.
 * before: faults found already, so that one slip is told once. Never throws.
 */
export function checkTopology(bag: Bag, draft: Draft, findings: FindingList, before: readonly Finding[] = []): void {
  const said = [...before];
  const list: FindingList = {
    ...findings,
    fault: (f) => {
      said.push(f);
      findings.fault(f);
    },
  };
  if (!checkPieces(bag, draft, list)) return;
  let surface: Surface;
  try {
    surface = surfaceOf(bag, draft);
  } catch (error) {
    if (!(error instanceof RingOpen)) throw error;
    const seam = draft.seams[error.seam];
    const [run] = seam.sides[0].runs;
    const panel = draft.panels[run.panel];
    list.fault(
      advised(
        {
          kind: 'ring open',
          panel: panel.name,
          edge: panel.edges[run.edge].name,
          seam: seam.name,
          value: seam.ratio,
          figure: `ratio ${seam.ratio.toFixed(2)}`,
        },
        `The lengths of the seams round ${seam.name} disagree: followed from seam to seam, no place comes back to itself.`,
        'seams that close a ring to have sides of one length',
      ),
    );
    return;
  }
  const skipped = checkGaps(bag, draft, list);
  checkLayers(draft, surface, list);
  checkOpenings(bag, draft, surface, skipped, list);
  if (!said.some((f) => SAID.includes(f.kind))) checkTurned(bag, draft, list);
}

/** Warnings that bear on the shape that is settled, not on cutting or stitching alone. */
const REPEATED: readonly Finding['kind'][] = ['unsewn', 'sewn over', 'opening sewn', 'ring', 'rolled', 'folded corner', 'mouth in parts', 'angle sum'];

/** Of a pattern check's warnings, those that a verdict must repeat: how the bag is sewn, and corners that cannot lie flat. */
export const toRepeat = (warnings: readonly Finding[]): Finding[] => warnings.filter((f) => REPEATED.includes(f.kind));

/**
 * What a report must repeat of a bag that was settled all the same: edges left open that the file does not name, sewn openings, whatever else of
 * the above was found, faults first.
 */
export function topologyFindings(bag: Bag, draft: Draft): Finding[] {
  const faults: Finding[] = [];
  const warnings: Finding[] = [];
  checkTopology(bag, draft, { fault: (f) => faults.push(f), warning: (f) => warnings.push(f), note: () => undefined });
  return [...faults, ...warnings];
}
