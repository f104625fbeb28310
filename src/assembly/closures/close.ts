import { isCord, isPoint, isZip } from '../../bag/index.ts';
import type { Stance } from '../../bag/types.ts';
import { activationDistance } from '../../solver/index.ts';
import type { Cables, Cord, Model } from '../../solver/types.ts';
import type { LaidClosure } from './lay.ts';
import type { Spot } from './places.ts';

/**
 * How much a closure gives: of parts held to each other N/m; of a zip N/m per metre of it; of a cord its EA, N. Stiff beside cloth, so that what is closed
 * stays within a fraction of a millimetre at any pull a bag knows. Chosen, not measured.
 */
const PART_STIFFNESS = 5e4;
const ZIP_STIFFNESS = 2e6;
const CORD_STIFFNESS = 5e4;

/** Ties of one closure in the model: numbers of its cables. */
export interface Tied {
  readonly laid: LaidClosure;
  readonly first: number;
  readonly count: number;
}

/** Is this pair on the closed side of the slider? */
export const isHeld = (pair: LaidClosure['pairs'][number]): boolean => pair.along <= 1 + 1e-6;

/** The model with its closures: their masses, and the ties of those that are closed, in the order in which the stance closes them. */
export function withClosures(model: Model, laid: readonly LaidClosure[], stance: Stance): { readonly model: Model; readonly tied: readonly Tied[] } {
  if (laid.length === 0) return { model, tied: [] };
  const mass = model.mass.slice();
  for (const l of laid) addMass(l, mass);
  const order = Array.isArray(stance.closed) ? (stance.closed as readonly string[]) : [];
  const closed = order.flatMap((name) => laid.filter((l) => l.closure.name === name));
  if (closed.length === 0) return { model: { ...model, mass }, tied: [] };
  const before = model.cables,
    first = before?.rest.length ?? 0,
    // Nearer than cloth feels cloth nothing can be held.
    least = activationDistance(model);
  const start = [...(before?.start ?? [0])],
    verts = [...(before?.verts ?? [])],
    weights = [...(before?.weights ?? [])],
    cableOf = [...(before?.cableOf ?? [])],
    rest = [...(before?.rest ?? [])],
    stiffness = [...(before?.stiffness ?? [])],
    group: number[] = [],
    along: number[] = [],
    cords: Cord[] = [];
  const piece = (from: Spot, to: Spot): void => {
    const shares = new Map<number, number>();
    to.verts.forEach((v, i) => {
      shares.set(v, (shares.get(v) ?? 0) + to.weights[i]!);
    });
    from.verts.forEach((v, i) => {
      shares.set(v, (shares.get(v) ?? 0) - from.weights[i]!);
    });
    verts.push(...shares.keys());
    weights.push(...shares.values());
    start.push(verts.length);
    cableOf.push(rest.length);
  };
  const tie = (length: number, k: number, g: number, at: number): void => {
    rest.push(length);
    stiffness.push(k * length);
    group.push(g);
    along.push(at);
  };
  const tied = closed.map((l, g): Tied => {
    const own = rest.length,
      { closure } = l;
    for (const p of l.pairs.filter(isHeld)) {
      piece(...p.spots);
      tie(
        Math.max(least, isZip(closure) ? closure.size : isPoint(closure) ? closure.gap : 0),
        isZip(closure) ? ZIP_STIFFNESS * p.length : PART_STIFFNESS,
        g,
        p.along,
      );
    }
    if (isCord(closure)) {
      const spots = l.loop ? [...l.channel, l.channel[0]!] : l.channel;
      for (let k = 0; k + 1 < spots.length; k++) piece(spots[k]!, spots[k + 1]!);
      cords.push({ cable: rest.length, friction: closure.friction, loop: l.loop });
      tie(closure.drawnTo / l.longer, CORD_STIFFNESS / closure.drawnTo, g, 0);
    }
    return { laid: l, first: own, count: rest.length - own };
  });
  const cables: Cables = {
    start: Uint32Array.from(start),
    verts: Uint32Array.from(verts),
    weights: Float64Array.from(weights),
    cableOf: Uint32Array.from(cableOf),
    rest: Float64Array.from(rest),
    stiffness: Float64Array.from(stiffness),
    contactEdges: before?.contactEdges ?? new Uint32Array(0),
    ties: { first, group: Uint32Array.from(group), along: Float64Array.from(along), ...(cords.length > 0 ? { cords } : {}) },
  };
  return { model: { ...model, mass, cables }, tied };
}

/** Mass of a closure, kg: both parts; chain, tapes and slider; cord in its channel. */
export function closureMass({ closure, pairs }: LaidClosure): number {
  if (isZip(closure)) return closure.lineMass * pairs.reduce((sum, p) => sum + p.length, 0) + closure.sliderMass;
  return isCord(closure) ? closure.lineMass * closure.length : closure.mass;
}

function addMass(laid: LaidClosure, mass: Float64Array): void {
  const { pairs, channel } = laid,
    whole = closureMass(laid);
  const give = ({ verts, weights }: Spot, kg: number): void => {
    verts.forEach((v, i) => {
      mass[v] = mass[v]! + kg * weights[i]!;
    });
  };
  const length = pairs.reduce((sum, p) => sum + p.length, 0);
  for (const { spots, length: own } of pairs) {
    const share = length > 0 ? own / length : 1;
    for (const s of spots) give(s, (share * whole) / 2);
  }
  for (const s of channel) give(s, whole / channel.length);
}
