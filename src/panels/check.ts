import type { Bag } from '../bag/types.ts';
import { checkBases, checkCorners, checkCurves, checkOutlines } from './check-panels.ts';
import { checkRows } from './check-rows.ts';
import { checkChains, checkLengths, checkTwice, checkTwist } from './check-seams.ts';
import { checkTopology } from './check-topology.ts';
import type { Finding, FindingList, PatternCheck } from './findings.ts';
import type { Draft } from './types.ts';

/**
 * What a pattern cutter looks for before cutting: lengths of both sides of every seam, ease and gathers, twisted and broken pairings, edges
 * left unsewn, tight curves, sharp corners, angle sums, grain, rows of
 * topstitching that miss their allowance. Thresholds are common practice, stated where they are used.
 * Assumes a draft of the same bag. Never throws.
 */
export function checkPattern(bag: Bag, draft: Draft): PatternCheck {
  const faults: Finding[] = [];
  const warnings: Finding[] = [];
  const notes: Finding[] = [];
  const findings: FindingList = { fault: (f) => faults.push(f), warning: (f) => warnings.push(f), note: (f) => notes.push(f) };
  for (const check of [checkOutlines, checkTwice, checkLengths, checkChains, checkTwist, checkCurves, checkCorners, checkBases, checkRows])
    check(bag, draft, findings);
  checkTopology(bag, draft, findings, faults);
  // Where sheets are doubled or the cloth is turned over, the corners of the base cannot but meet wrongly.
  const deeper = faults.some((f) => f.kind === 'sewn over' || f.kind === 'twisted');
  return { faults: deeper ? faults.filter((f) => f.kind !== 'mirrored') : faults, warnings, notes };
}
