import type { Bag } from '../bag/types.ts';
import { findBoxed } from './boxed.ts';
import { panelLines } from './lines.ts';
import { draftPanel } from './outline.ts';
import { resolveSeams } from './seams.ts';
import type { Draft } from './types.ts';

/**
 * Flat panels with exact edge lengths, areas and corner angles, and every seam as two matched sides.
 * Assumes names were checked by the parser. Lengths m, areas m2, angles rad.
 * Throws RangeError on zero-length edges, unknown names and empty stretches.
 */
export function draftPanels(bag: Bag): Draft {
  const panels = bag.panels.map(draftPanel);
  const seams = resolveSeams(bag, panels);
  const boxed = findBoxed(bag, panels, seams);
  return { panels, seams, boxed, lines: panelLines(bag, boxed) };
}
