import { BagError, PatternError, type PreviewProgress, previewSync } from '../public/slumpline.ts';
import type { Ask, Say } from './protocol.ts';

/** Least time between two messages of one stage, ms: a bar that moves ten times a second moves enough, and positions are 50 kB. */
const BETWEEN = 100;

/** A thread's work: runs what it is asked at one go. It does not look up in between: who wants it to stop ends the thread. */
export function serve({ id, job }: Ask, say: (say: Say) => void): void {
  let told = Number.NEGATIVE_INFINITY,
    stage = '';
  const onProgress = (at: PreviewProgress): void => {
    const now = performance.now();
    if (at.stage === stage && now - told < BETWEEN) return;
    stage = at.stage;
    told = now;
    say({ id, kind: 'progress', at });
  };
  try {
    say({
      id,
      kind: 'done',
      result: previewSync(job.bag, { ...job.options, onProgress, onWord: (news) => say({ id, kind: 'word', news }), now: () => performance.now() }),
    });
  } catch (error) {
    if (error instanceof BagError) say({ id, kind: 'faults', faults: error.faults, findings: error instanceof PatternError ? error.findings : null });
    else say({ id, kind: 'failed', message: (error as Error).message ?? String(error), stack: (error as Error).stack ?? '' });
  }
}
