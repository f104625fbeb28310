import { leadsOf } from '../assembly/index.ts';
import { closing, createSystem, inHands, leaveLong, type System, type Work } from '../solver/index.ts';
import type { BandOptions } from './band-run.ts';
import { Cancelled } from './progress.ts';
import type { Scene } from './scene.ts';

/** Where a bag starts to settle from, closed as its stance says. */
export interface Shut {
  /** 3n, m */ readonly start: Float64Array;
  /** Per tie, m: how much longer it stayed than it was to be; nought where it closed. */ readonly left: Float64Array;
}

/** Closes what the stance closes, from the open, stuffed start; sys is left with the ties as long as they came. Throws Cancelled. */
export function* shutting(scene: Scene, sys: System, o: Pick<BandOptions, 'told'>): Work<Shut> {
  const { bag, mesh, tied, start, model, band } = scene;
  if (tied.length === 0) return { start, left: new Float64Array(0) };
  const hands = createSystem(inHands(model, start), { selfContact: true });
  const { x, left, cancelled } = yield* closing(
    hands,
    start,
    leadsOf(bag, mesh, tied, start),
    (fraction, positions) => o.told({ band, stage: 'closing', fraction, positions }) !== false,
  );
  if (cancelled) throw new Cancelled();
  leaveLong(sys, left);
  return { start: x, left };
}
