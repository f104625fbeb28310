import { leadRun } from './judge.ts';
import { keepsShape, worstBy } from './severity.ts';
import type { Result } from './types.ts';
import { BATCH } from './words.ts';

/**
 * One sentence over several stances of one option: where it keeps its shape, and where it first does not, with the bolt and the panel that gives way first.
 * A bag without a base is judged by the stances in which it hangs, where it has any. Stances that have nothing to judge are left out; null when none has a verdict.
 */
export function overStances(results: readonly Result[]): string | null {
  const judged = results.filter((r) => r.verdict.word !== 'no verdict');
  const hung = judged.filter((r) => leadRun(r.runs).hung !== null);
  const byHanging = hung.length > 0 && judged.some((r) => !leadRun(r.runs).hasBase);
  const asked = byHanging ? hung : judged;
  if (asked.length === 0) return null;
  const first = byHanging ? 'It has no base, so how it hangs counts. ' : '';
  const worst = worstBy(asked, (r) => r.verdict.word);
  const kept = asked.filter((r) => keepsShape(r.verdict.word)).map((r) => r.stance);
  if (keepsShape(worst.verdict.word))
    return `${first}${asked.length === results.length ? 'It keeps its shape in every stance.' : `It keeps its shape in every stance that could be judged (${kept.join(', ')}).`}`;
  const panel = worst.verdict.givesWayFirst;
  const bolts = worst.runs.filter((r) => !keepsShape(worst.verdict.byBand[r.band] ?? 'no verdict')).map((r) => BATCH[r.band]);
  const where = bolts.length > 0 && bolts.length < worst.runs.length ? ` with ${bolts.join(' and ')}` : '';
  return `${first}${kept.length > 0 ? `It keeps its shape ${kept.join(', ')}; the` : 'The'} weakest stance is "${worst.stance}": ${worst.verdict.word}${where}${panel === null ? '' : `, ${panel} first`}.`;
}
