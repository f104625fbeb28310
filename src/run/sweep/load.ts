import { LIMITS } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import type { LoadSweep, SweepStep } from '../../report/index.ts';
import { partOf } from '../progress.ts';
import { hangOnce } from './hang-once.ts';
import { carrying, plan, type SweepOptions, thingsIn } from './plan.ts';

/** What is hung under several loads. */
export interface LoadSweepOptions extends SweepOptions {
  /** Told of each hanging as it is done: all that is known by then. */ readonly onStep?: (soFar: LoadSweep) => void;
}

/**
 * Hangs the bag as drawn under loads from `from` (default 0) to `to`, kg. Fill and angle of repose are the stance's, else the usual ones; its rigid things stay. Errors as
 * sweepAnchors.
 */
export function sweepLoad(bag: Bag, o: LoadSweepOptions): LoadSweep {
  const { same, stance, values } = plan(bag, o, 'load', LIMITS.mass);
  const { option, strap, edgeLength } = same;
  const steps: (SweepStep & { readonly load: number })[] = [];
  const soFar = (): LoadSweep => ({ bag: bag.name, option, stance: stance.name, strap, edgeLength, things: thingsIn(stance), steps: [...steps] });
  values.forEach((load, i) => {
    const name = `${Number(load.toFixed(3))} kg, ${i + 1} of ${values.length}`;
    steps.push({ load, ...hangOnce(bag, carrying(stance, load), same, partOf(o.onProgress, name, i, values.length)) });
    o.onStep?.(soFar());
  });
  return soFar();
}
