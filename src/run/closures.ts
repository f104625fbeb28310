import { closuresAtRest, leadsOf, spotAt } from '../assembly/index.ts';
import { isCord, isPoint } from '../bag/index.ts';
import { type ClosureMeasures, measureClosures } from '../measures/index.ts';
import type { Measures } from '../measures/types.ts';
import { bodiesAt, closing, createSystem, distance, handOver, inHands, leastPulls, leaveLong, type System, type Work } from '../solver/index.ts';
import type { BandOptions } from './band-run.ts';
import { Cancelled } from './progress.ts';
import type { Scene } from './scene.ts';

/** Where a bag starts to settle from, closed as its stance says. */
export interface Shut {
  /** 3n, m */ readonly start: Float64Array;
  /** Per tie, m: how much longer it stayed than it was to be; nought where it closed. */ readonly left: Float64Array;
  /** Per closure in the order in which they are closed: what is in its way, in words; empty where it closed. */ readonly inTheWay: readonly string[];
  /** Gates that do not apply to what is closed. */ readonly gates: Partial<Measures>;
}

/** A tie that comes to its length within this is closed, m. */
const CLOSED = 5e-4;
/** Contents nearer than this to a tie that sticks are in its way, m. */
const NEAR = 0.04;

/** Closes what the stance closes, from the open, stuffed start; sys is left with the ties as long as they came. Throws Cancelled. */
export function* shutting(scene: Scene, sys: System, o: Pick<BandOptions, 'told'>): Work<Shut> {
  const { bag, mesh, tied, start, model, band } = scene;
  if (tied.length === 0) return { start, left: new Float64Array(0), inTheWay: [], gates: {} };
  const hands = createSystem(inHands(model, start), { selfContact: true });
  const { x, left, cancelled } = yield* closing(
    hands,
    start,
    leadsOf(bag, mesh, tied, start),
    (fraction, positions) => o.told({ band, stage: 'closing', fraction, positions }) !== false,
  );
  if (cancelled) throw new Cancelled();
  for (let i = 0; i < left.length; i++) if (left[i]! < CLOSED) left[i] = 0;
  leaveLong(sys, left);
  handOver(hands, sys);
  // What runs together along its length has no gap to keep.
  const gates = tied.some((t) => !isPoint(t.laid.closure)) ? { mouthGap: null } : {};
  return { start: x, left, inTheWay: tied.map((_, g) => inTheWay(scene, x, left, g)), gates };
}

/** A bag drawn shut is judged against its shape as it is drawn shut, before its weight acts: a rim that a cord gathers is not one that slumps. */
export const asClosed = (scene: Scene, shut: Shut): Scene =>
  scene.tied.some((t) => isCord(t.laid.closure)) ? { ...scene, drafted: shut.start.slice(0, scene.drafted.length) } : scene;

function inTheWay({ model, tied }: Scene, x: Float64Array, left: Float64Array, g: number): string {
  const first = model.cables!.ties!.first,
    { laid, first: own, count } = tied[g]!;
  const lefts = [...left.subarray(own - first, own - first + count)],
    most = Math.max(...lefts);
  if (!(most > 0)) return '';
  const before = tied.slice(0, g).find((t) => left.subarray(t.first - first, t.first - first + t.count).some((l) => l > 0));
  if (before) return `closure "${before.laid.closure.name}", which comes before it`;
  const pair = laid.pairs[lefts.indexOf(most)],
    spots = pair ? pair.spots.map((s) => spotAt(s, x)) : laid.channel.map((s) => spotAt(s, x)),
    out = new Float64Array(4);
  for (const b of bodiesAt(model, x))
    for (const p of spots) {
      distance({ kind: 'posed', shape: b.shape, origin: b.at, axes: b.axes }, p[0], p[1], p[2], out);
      if (out[0]! < NEAR) return `the ${b.name} in it`;
    }
  return 'its own cloth, which would have to stretch or crowd further';
}

/** Closures of the settled bag. x: 3n of its mesh, m. */
export function closuresRead({ bag, mesh, laid, tied, model }: Scene, sys: System, { left, inTheWay }: Shut, x: Float64Array): ClosureMeasures[] {
  const ties = { first: model.cables?.ties?.first ?? 0, tension: sys.el.cables?.tension ?? new Float64Array(0), least: leastPulls(sys.el), left, inTheWay };
  return measureClosures(closuresAtRest(bag, mesh, laid, tied, x, ties), mesh, x);
}

/** What is in a bag whose closures are told of. */
export function closedOver({ stance, model }: Scene): { readonly closedOver?: number } {
  const things = (model.bodies ?? []).reduce((sum, b) => sum + model.mass[b.at]!, 0),
    kg = things + ((stance.kind !== 'held' && stance.load?.mass) || 0);
  return kg > 0 ? { closedOver: kg } : {};
}
