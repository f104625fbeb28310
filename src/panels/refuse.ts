import { at } from '../bag/index.ts';
import { type Bag, BagError, type Fault } from '../bag/types.ts';
import { checkPattern } from './check.ts';
import type { Finding } from './findings.ts';
import type { Draft } from './types.ts';

/** Thrown where a pattern cannot be sewn as drawn: every fault, once as the pattern check tells it and once with its place in the file. */
export class PatternError extends BagError {
  constructor(
    readonly findings: readonly Finding[],
    faults: readonly Fault[],
  ) {
    super(faults);
    this.name = 'PatternError';
  }
}

/** What a fault that does not say it by itself asks for. */
const EXPECTED: Partial<Record<Finding['kind'], string>> = {
  'crosses itself': 'an outline that neither crosses nor touches itself',
  'drawn clockwise': 'corners listed counterclockwise, seen from the face',
  mismatch: 'sides of one length, or a "gather" that says how much is gathered in',
  gather: 'gathers that end before the next one begins',
  'chain broken': 'edges in the order in which they lie along the seam',
  twisted: 'the face of the cloth on one side all round',
  'sewn twice': 'each two edges in one seam',
  mirrored: 'the edges of the base in the order of the walls round it, seen from below',
};

/**
 * Passes a bag that can be sewn and returns what its check warns of. Throws PatternError with every fault of its pattern: the one gate in front of whatever is settled, on the command line, the page and
 * in the API alike. Assumes a draft of the same bag.
 */
export function refuseUnsewable(bag: Bag, draft: Draft): readonly Finding[] {
  const { faults, warnings } = checkPattern(bag, draft);
  if (faults.length > 0)
    throw new PatternError(
      faults,
      faults.map((f) => faultOf(bag, f)),
    );
  return warnings;
}

/** A finding as a fault of the file: under its seam where it has one, else its panel. */
function faultOf(bag: Bag, f: Finding): Fault {
  // Further sides of a seam of three or more are seams "T+2", ... of the draft alone.
  const written = f.seam?.replace(/\+\d+$/, '') ?? null;
  const seam = bag.seams.some((s) => s.name === written) ? written : f.seam;
  const path = f.kind === 'no seams' ? 'seams' : seam !== null ? at('seams', seam) : at('panels', f.panel);
  return { path, got: f.found ?? f.text, expected: f.expected ?? EXPECTED[f.kind] ?? 'a pattern that can be sewn as drawn' };
}
