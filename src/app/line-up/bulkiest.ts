import type { Result } from '../core.ts';
import type { Weight } from './solver-protocol.ts';

/** The thickest seam of an option; null of one without seams. */
export function bulkiest(seams: Result['seams']): Weight['bulk'] {
  const worst = [...seams].sort((a, b) => b.bulk - a.bulk)[0];
  return worst ? { thickness: worst.bulk, layers: worst.layers, seam: worst.name } : null;
}
