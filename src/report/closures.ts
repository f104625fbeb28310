import { formatForce, formatMm, trimmed } from '../units/index.ts';
import type { BandRun } from './types.ts';
import { length } from './words.ts';

type Closure = NonNullable<BandRun['closures']>[number];

/** Openings smaller than this go without a figure, m. */
const SHUT = 5e-4;
/** Pulls smaller than this are those of rounding and of the cloth's own weight, N and N/m. */
const HARDLY = 0.05;

/** The first closure that did not close, or null. */
export const stuckClosure = (run: Pick<BandRun, 'closures'>): Closure | null => run.closures?.find((c) => c.left > 0) ?? null;

/** Why a bag that does not close has no verdict, as a sentence. */
export const doesNotClose = (c: Closure): string => `Its ${c.kind} "${c.name}" does not close: ${formatMm(c.left, 0)} are left. In its way: ${c.inTheWay}.`;

const gapeWords = (c: Closure): string => (c.gape < SHUT ? 'closed' : `gapes ${length(c.gape)} at most`);

function pullWords({ pull, leastPull, pullPerLength, pullOff }: Closure): string {
  if (pullPerLength !== null) return pullPerLength < HARDLY ? '; hardly any pull across it' : `; pull across it up to ${trimmed(pullPerLength, 1)} N/m`;
  if (pull === null) return '';
  const stated =
    pullOff === null
      ? ''
      : pull > pullOff
        ? `, over the ${formatForce(pullOff)} at which it comes open`
        : ` of the ${formatForce(pullOff)} at which it comes open`;
  if (pull < HARDLY) return '; hardly any pull on it';
  return leastPull === null ? `; pull ${formatForce(pull)}${stated}` : `; pull ${formatForce(pull)} at its ends, ${formatForce(leastPull)} at its far side`;
}

/** The closures of a bag, a line each: closed or open, how far it gapes, what pulls on it. Empty for a bag without any. */
export function closureLines(run: Pick<BandRun, 'closures' | 'closedOver'>): readonly string[] {
  const lines = (run.closures ?? []).map((c) => {
    const title = `${c.kind} ${c.name === c.kind ? '' : `${c.name}`}`.trim();
    if (!c.closed) return `${title}: open, ${length(c.gape)} across`;
    if (c.left > 0) return `${title}: does not close, ${length(c.left)} left; in its way: ${c.inTheWay}`;
    if (c.length !== null) return `${title}: drawn to ${length(c.length)}; its loop is ${length(c.gape)} across${pullWords(c)}`;
    const lift = c.lift === null ? '' : `; the flap's edge stands off ${length(c.lift)} at most`;
    return `${title}: ${gapeWords(c)}${pullWords(c)}${lift}`;
  });
  const rests = restsOn(run);
  return rests === '' ? lines : [...lines, rests];
}

/** Which closure what is in the bag rests on most; empty where nothing is. */
function restsOn(run: Pick<BandRun, 'closures' | 'closedOver'>): string {
  const closed = (run.closures ?? []).filter((c) => c.closed && c.left === 0);
  if (!run.closedOver || closed.length === 0) return '';
  const pulls = closed.map((c) => ({ c, pull: c.pull ?? c.pullPerLength ?? 0 }));
  const most = pulls.reduce((a, b) => (b.pull > a.pull ? b : a));
  if (most.pull < HARDLY) return 'what is in it rests on the bag, hardly on its closures';
  return `of its closures, ${most.c.kind} ${most.c.name} holds most of what is in it`;
}
