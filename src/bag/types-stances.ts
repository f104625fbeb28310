/** Stances, resolved, SI: what the bag stands on or hangs from, and what is in it. */

/** Loose contents of a bag, filled in level. */
export interface Load {
  /** kg */ readonly mass: number;
  /** Depth of the fill over the drafted height, 0..1. */ readonly fill: number;
  /** Angle of repose of the contents, rad: how little they push sideways. */ readonly repose: number;
}

/** A rigid thing in a bag, as it is put in: its length (a block: its height) along a world axis. Sizes m, kg. */
export interface Thing {
  readonly thing: string;
  readonly mass: number;
  readonly body:
    | { readonly form: 'block'; readonly size: readonly [number, number, number]; readonly round: number }
    | { readonly form: 'roll'; readonly diameter: number; readonly length: number; readonly round: number }
    | { readonly form: 'ball'; readonly diameter: number };
  readonly along: 'x' | 'y' | 'z';
  /** About the plumb line, rad. */ readonly turn: number;
  /** Where it is put in, from the bag's middle, m; null: side by side with the others. */ readonly at: readonly [number, number] | null;
  /** Against cloth, table and other things. */ readonly friction: number;
}

/** What a bag hangs from: a bent hook that draws the straps together, a level bar, a rounded bar that slopes like a shoulder, or two hands that each hold half of the straps. */
export type HangsFrom = 'hook' | 'bar' | 'shoulder' | 'hands';

/** World directions of a bag that stands: front is -y, right is +x. */
export type Side = 'front' | 'back' | 'left' | 'right';

/** A rigid thing beside or under the bag. Sizes m; `at` its middle, world axes (bag's middle over x = y = 0, table at z = 0). */
export type Form = { readonly at: readonly [number, number, number] /** Against the cloth. */; readonly friction: number } & (
  | {
      readonly form: 'block';
      readonly size: readonly [number, number, number];
      readonly round: number /** Turn about the plumb line, rad. */;
      readonly turn: number;
    }
  | { readonly form: 'egg'; readonly size: readonly [number, number, number]; readonly turn: number }
  | { readonly form: 'ball'; readonly diameter: number }
  | { readonly form: 'roll'; readonly diameter: number; readonly length: number; readonly along: 'x' | 'y' | 'z'; readonly round: number }
  | { readonly form: 'bolster'; readonly diameter: number /** Its round ends included. */; readonly length: number; readonly along: 'x' | 'y' | 'z' }
);

/** What a standing bag stands on, where that is not simply a level table. */
export interface Ground {
  readonly on: 'table' | 'nothing';
  /** Slope of the whole, rad. */ readonly tilt: number;
  /** Where the slope falls. */ readonly toward: Side;
  /** glued: every point of the base is held; hinged: only the line where the walls meet it. */ readonly base: 'free' | 'hinged' | 'glued';
  readonly forms: readonly Form[];
}

/** How the bag stands, hangs or is held while it settles, and what is in it. */
export type Stance =
  | {
      readonly name: string;
      readonly kind: 'standing';
      readonly friction: number;
      readonly load: Load | null;
      /** Rigid contents; absent where there are none. */ readonly contents?: readonly Thing[];
      /** Closures that are closed, in that order; absent: none is; 'left out': the bag has none on it. */ readonly closed?: readonly string[] | 'left out';
      /** null or absent: a level table. */ readonly ground?: Ground | null;
    }
  | { readonly name: string; readonly kind: 'held' /** As of one that stands. */; readonly closed?: readonly string[] | 'left out' }
  | {
      readonly name: string;
      readonly kind: 'hung';
      readonly from: HangsFrom;
      /** Of the hook's wire, the bar, the shoulder or the hands' grip, m. */ readonly diameter: number;
      /** Fall of a shoulder from the neck outward, rad. */ readonly slope: number;
      /** From the middle of one hand to the middle of the other, m; 0 of what is no pair of hands. */ readonly apart: number;
      /** Straps over it. */ readonly friction: number;
      /** Names of the straps that carry; the others hang loose and only weigh. */ readonly straps: readonly string[];
      readonly load: Load | null;
      /** Rigid contents; absent where there are none. */ readonly contents?: readonly Thing[];
      /** Closures that are closed, in that order; absent: none is; 'left out': the bag has none on it. */ readonly closed?: readonly string[] | 'left out';
    };
