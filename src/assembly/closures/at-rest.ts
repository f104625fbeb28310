import { isCord, isPoint, isZip } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import type { ClosureAtRest } from '../../measures/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { isHeld, type Tied } from './close.ts';
import type { LaidClosure } from './lay.ts';
import { liesOver } from './lead.ts';
import { spotAt } from './places.ts';

/** What became of each tie: see solver/rest/closing.ts. */
export interface TiesAtRest {
  /** Number of the first tie among all cables. */ readonly first: number;
  /** Pull of every cable, N: of a cord at its free ends. */ readonly tension: Float64Array;
  /** Of every cable, N: of a cord where its pull is least. */ readonly least: Float64Array;
  /** Per tie, m. */ readonly left: Float64Array;
  /** Per closure in the order in which they are closed, in words. */ readonly inTheWay: readonly string[];
}

/** Closures as measureClosures reads them. x: 3n, m. */
export const closuresAtRest = (
  bag: Bag,
  mesh: BagMesh,
  laid: readonly LaidClosure[],
  tied: readonly Tied[],
  x: Float64Array,
  ties: TiesAtRest,
): ClosureAtRest[] =>
  laid.map((l): ClosureAtRest => {
    const { closure, closed, loop } = l,
      held = l.pairs.filter((p) => !closed || isHeld(p)),
      at = tied.findIndex((t) => t.laid === l),
      own = at < 0 ? null : tied[at]!;
    return {
      name: closure.name,
      kind: closure.kind,
      closed,
      pairs: Float64Array.from(held.flatMap((p) => p.spots.flatMap((s) => spotAt(s, x)))),
      lengths: Float64Array.from(held, (p) => p.length),
      pull: Float64Array.from(held, (_, i) => (own ? ties.tension[own.first + i]! : 0)),
      gap: isZip(closure) ? closure.size : isPoint(closure) ? closure.gap : 0,
      channel: Float64Array.from(l.channel.flatMap((s) => spotAt(s, x))),
      loop,
      longer: l.longer,
      cordPull: own && isCord(closure) ? ties.tension[own.first]! : 0,
      cordLeast: own && isCord(closure) ? ties.least[own.first]! : 0,
      left: own ? Math.max(0, ...ties.left.subarray(own.first - ties.first, own.first - ties.first + own.count)) : 0,
      inTheWay: at < 0 ? '' : (ties.inTheWay[at] ?? ''),
      flap:
        isPoint(closure) && liesOver(bag, closure)
          ? { panel: mesh.panelNames.indexOf(closure.ends[0].panel), over: mesh.panelNames.indexOf(closure.ends[1].panel) }
          : null,
      pullOff: isPoint(closure) ? closure.pullOff : null,
    };
  });

/** A closure to draw: its kind, whether it is closed, and lines of points, 3 numbers each, m. */
export interface ClosureLine {
  readonly name: string;
  readonly kind: string;
  readonly closed: boolean;
  /** Of a zip its two edges, of parts one point each, of a cord its channel (a loop ends where it begins). */ readonly lines: readonly Float64Array[];
  /** Width of a zip's chain, size of a part, m; 0 of a cord. */ readonly size: number;
}

/** Closures as lines, for drawing. x: 3n, m. */
export const closureLines = (laid: readonly LaidClosure[], x: Float64Array): ClosureLine[] =>
  laid.map(({ closure, closed, pairs, channel, loop }) => ({
    name: closure.name,
    kind: closure.kind,
    closed,
    size: isCord(closure) ? 0 : closure.size,
    lines: isCord(closure)
      ? [Float64Array.from((loop ? [...channel, channel[0]!] : channel).flatMap((s) => spotAt(s, x)))]
      : ([0, 1] as const).map((side) => Float64Array.from(pairs.flatMap((p) => spotAt(p.spots[side], x)))),
  }));
