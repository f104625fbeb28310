import { worstBy } from './severity.ts';
import type { Result } from './types.ts';
import { BATCH } from './words.ts';

/**
 * One sentence over several stances of one option: where it holds, and where it first does not, with the batch and the panel that gives way first.
 * Stances that have nothing to judge are left out of it; null when none has a verdict.
 */
export function overStances(results: readonly Result[]): string | null {
  const judged = results.filter((r) => r.verdict.word !== 'no verdict');
  if (judged.length === 0) return null;
  const worst = worstBy(judged, (r) => r.verdict.word);
  if (worst.verdict.word === 'holds')
    return judged.length === results.length
      ? 'It keeps its shape in every stance.'
      : `It keeps its shape in every stance that could be judged (${judged.map((r) => r.stance).join(', ')}).`;
  const holding = judged.filter((r) => r.verdict.word === 'holds').map((r) => r.stance);
  const panel = worst.verdict.givesWayFirst;
  const batches = Object.entries(worst.verdict.byBand)
    .filter(([, word]) => word !== 'holds')
    .map(([band]) => BATCH[band as keyof typeof BATCH]);
  const where = batches.length > 0 && batches.length < worst.runs.length ? ` with ${batches.join(' and ')}` : '';
  return `${holding.length > 0 ? `It keeps its shape ${holding.join(', ')}; ` : ''}${holding.length > 0 ? 'the' : 'The'} weakest stance is "${worst.stance}": ${worst.verdict.word}${where}${panel === null ? '' : `, ${panel} first`}.`;
}
