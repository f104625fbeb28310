/** Every plot of a plan's runs, with the names of their files. */
import { alongPlot } from './along-plot.ts';
import { casesOf, columnsOf, fileWord } from './columns.ts';
import { verdictMap } from './map-plot.ts';
import { firstOrderShares } from './shares.ts';
import type { Axis, Plan, PlannedRun } from './types.ts';

/** A picture and the file it goes into. */
export interface Plot {
  readonly name: string;
  readonly svg: string;
}

/** Options and stances that are drawn; values of an axis that a map has room for. */
const MOST_CASES = 24;
export const MOST_CELLS = 24;

/**
 * For every option in every stance: heights and the share that holds against each parameter ("along-w.svg"), and a map of the verdicts over the two parameters that the height hangs on most
 * ("map-w-h.svg"), with option or stance in front where there are several. Of more than 24 the first are drawn.
 */
export function runsPlots(plan: Plan, runs: readonly PlannedRun[]): Plot[] {
  return casesOf(runs)
    .slice(0, MOST_CASES)
    .flatMap((c) => {
      const axes = plan.axes.filter((a) => a.kind === 'figures' && columnsOf(a, c.runs).length > 1),
        title = `${plan.bag}, ${c.option}, ${c.stance}`,
        lead = c.name === '' ? '' : `${c.name}-`,
        named = unique(axes);
      const [one, two] = leading(axes, c.runs, plan.samples !== null).filter((a) => columnsOf(a, c.runs).length <= MOST_CELLS);
      return [
        ...axes.map((a) => ({ name: `${lead}along-${named.get(a)}.svg`, svg: alongPlot(title, a, c.runs, plan.samples !== null) })),
        ...(one && two ? [{ name: `${lead}map-${named.get(one)}-${named.get(two)}.svg`, svg: verdictMap(title, one, two, c.runs) }] : []),
      ];
    });
}

/** Axes with those first that alone explain most of the height, or where there is none of the margin; equals as they were asked for. */
function leading(axes: readonly Axis[], runs: readonly PlannedRun[], drawn: boolean): Axis[] {
  const own = firstOrderShares(axes, runs, (r) => r.heightKept ?? r.margin, drawn),
    share = (a: Axis): number => own.find((s) => s.axis === a.name)?.share ?? 0;
  return [...axes].sort((a, b) => share(b) - share(a));
}

function unique(axes: readonly Axis[]): Map<Axis, string> {
  const made = new Map<Axis, string>();
  for (const [i, a] of axes.entries()) {
    const word = fileWord(a.name) || `axis-${i + 1}`;
    made.set(a, [...made.values()].includes(word) ? `${word}-${i + 1}` : word);
  }
  return made;
}
