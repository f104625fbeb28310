import { LIMITS } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import type { LoadSweep, SweepStep } from '../../report/index.ts';
import { runSeries, type Series } from '../series.ts';
import { hangingTwice } from './hang-once.ts';
import { carrying, plan, type SweepOptions, thingsIn } from './plan.ts';

/** What is hung under several loads. */
export interface LoadSweepOptions extends SweepOptions {
  /** Told of each hanging as it is done: all that is known by then. */ readonly onStep?: (soFar: LoadSweep) => void;
}

/**
 * Hangs the bag as drawn under loads from `from` (default 0) to `to`, kg. Fill and angle of repose are the stance's, else the usual ones; its rigid things stay. Errors as
 * sweepAnchors.
 */
export const sweepLoad = (bag: Bag, o: LoadSweepOptions): LoadSweep => runSeries(loadSeries(bag, o), o.onProgress);

/** The hangings that sweepLoad asks for. Throws as it does. */
export function loadSeries(bag: Bag, o: LoadSweepOptions): Series<LoadSweep> {
  const { same, stance, values } = plan(bag, o, 'load', LIMITS.mass);
  const { option, strap, edgeLength } = same;
  const done: ((SweepStep & { readonly load: number }) | undefined)[] = values.map(() => undefined);
  const soFar = (): LoadSweep => ({
    bag: bag.name,
    option,
    stance: stance.name,
    strap,
    edgeLength,
    things: thingsIn(stance),
    steps: done.filter((s) => s !== undefined),
  });
  const chains = values.map((load, i) =>
    hangingTwice(bag, carrying(stance, load), same, `${Number(load.toFixed(3))} kg, ${i + 1} of ${values.length}`, (step) => {
      done[i] = { load, ...step };
      o.onStep?.(soFar());
    }),
  );
  return { chains, result: soFar };
}
