/** What holds a bag shut, resolved, SI. A stance says which of them are closed. */
import type { EdgeRun, Point2 } from './types.ts';

/** A place on the face of a panel, panel frame, m. */
export interface ClosurePlace {
  readonly panel: string;
  readonly at: Point2;
}

/** Two parts, one on either panel, that hold to each other: magnet, snap, buckle, turn lock, two tapes tied in a bow. */
export interface PointClosure {
  readonly name: string;
  readonly kind: 'magnet' | 'snap' | 'buckle' | 'turn lock' | 'tie';
  /** What comes to the other, then what it comes to. */ readonly ends: readonly [ClosurePlace, ClosurePlace];
  /** Across the part, m: it is sewn or riveted over that much cloth. */ readonly size: number;
  /** Distance between the two middle surfaces, closed, m. */ readonly gap: number;
  /** Both parts together, kg. */ readonly mass: number;
  /** Pull at which it comes open, N; null: not stated. It is told, never reckoned with. */ readonly pullOff: number | null;
}

/** Two edges that run together along their length. */
export interface ZipClosure {
  readonly name: string;
  readonly kind: 'coil zip' | 'metal zip';
  /** The two edges, each end to end. */ readonly sides: readonly [readonly EdgeRun[], readonly EdgeRun[]];
  /** true: the second runs against the first; null: as they lie nearest in the sewn bag. */ readonly reversed: boolean | null;
  /** Width of the closed chain, m: as near as the edges come. */ readonly size: number;
  /** Chain, both tapes, kg/m of edge. */ readonly lineMass: number;
  /** Slider and stops, kg. */ readonly sliderMass: number;
  /** Where the slider stands, 0 to 1 of the length: closed from its closed end up to here. */ readonly slider: number;
  /** End of the first edge at which it begins to close. */ readonly closesFrom: 'start' | 'end';
}

/** A cord or strap through a channel that follows edges: drawn, its length is what it is drawn to. */
export interface CordClosure {
  readonly name: string;
  readonly kind: 'drawstring' | 'cinch strap';
  /** Edges that the channel follows, end to end, one way round. */ readonly along: readonly EdgeRun[];
  /** Distance of the channel from the edge, m. */ readonly below: number;
  /** Length of the channel as it is cut, m. */ readonly length: number;
  /** Length in the channel when it is drawn, m. */ readonly drawnTo: number;
  /** kg/m */ readonly lineMass: number;
  /** Coulomb coefficient against its channel. */ readonly friction: number;
}

/** What holds a bag shut: two parts, a zip, or a cord in its channel. */
export type Closure = PointClosure | ZipClosure | CordClosure;

/** Does it join two edges? */
export const isZip = (c: Closure): c is ZipClosure => c.kind === 'coil zip' || c.kind === 'metal zip';
/** Does it run through a channel? */
export const isCord = (c: Closure): c is CordClosure => c.kind === 'drawstring' || c.kind === 'cinch strap';
/** Is it two parts that hold to each other? */
export const isPoint = (c: Closure): c is PointClosure => !isZip(c) && !isCord(c);
