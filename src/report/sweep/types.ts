import type { AnchorPlace } from '../../bag/index.ts';
import type { Fault, Wanted } from '../../bag/types.ts';
import type { Stitching, StitchReference } from '../../material/index.ts';
import type { Status } from '../../solver/types.ts';
import type { AnchorTrack } from '../picture/anchor-tracks.ts';

/** One anchor of a carrying strap at one step, N and rad. */
export interface SweepAnchor {
  readonly strap: string;
  readonly panel: string;
  /** Pull of the strap on its patch, and the part of it that points up. */ readonly force: number;
  readonly vertical: number;
  readonly peel: number;
  readonly shear: number;
  readonly inward: number;
  readonly legAngle: number;
}

/** Both legs of one carrying strap: the largest pull in one of them, and by how much more one could pull than the other before friction lets the strap run, N. */
export interface SweepLegs {
  readonly strap: string;
  readonly tension: number;
  readonly frictionHolds: number;
}

/**
 * The bag hung once. Figures are null where the bag could not be hung (`refused`) or did not come to rest, with the reason; metres, radians, newtons, kilograms.
 */
export interface SweepStep {
  readonly status: Status | 'refused';
  readonly reason: string | null;
  /** Between the centre lines of the two ends of one handle, along their panel; null where they lie on two panels or round a tube. */
  readonly apart: number | null;
  readonly residual: number | null;
  readonly tilt: number | null;
  /** Of the drafted height. */ readonly mouthSag: number | null;
  readonly baseSag: number | null;
  /** Mean of the swept strap and its copies. */ readonly drop: number | null;
  /** Largest pull on, and largest inward pull at, an anchor of the swept strap and its copies. */ readonly force: number | null;
  readonly inward: number | null;
  /** Bag, straps and contents. */ readonly weight: number | null;
  /** What hook, bar or shoulder holds up. */ readonly carried: number | null;
  /** Of every carrying strap. */ readonly anchors: readonly SweepAnchor[];
  readonly legs: readonly SweepLegs[];
  /** At rest, tilt and mouth sag within what still holds. */ readonly level: boolean;
  /** Mesh on which it came to rest, m, where on the sweep's own it did not. */ readonly finer?: number;
  /** SVG of the bag as it hangs, where pictures were asked for and there is something to show. */ readonly picture?: string;
  /** Where on that picture the swept strap's anchors can be moved to. */ readonly tracks?: readonly AnchorTrack[];
  /** Of one that was refused for what is asked of it: the same reasons with their paths. */ readonly faults?: readonly Fault[];
}

interface Swept {
  readonly bag: string;
  readonly option: string;
  readonly stance: string;
  readonly strap: string;
  readonly edgeLength: number;
  /** Rigid things at every step. */ readonly things: readonly Inside[];
}

/** A rigid thing in the bag: its name and mass, kg. */
export interface Inside {
  readonly name: string;
  readonly mass: number;
}

/** Anchors at several distances from the sides. */
export interface AnchorSweep extends Swept {
  /** Loose contents at every step, kg. */ readonly load: number;
  /** Finished width of the front that one handle's two ends lie on, at their height, m: of a boxed bag from corner to corner; null where they lie on two panels or round a tube. */
  readonly panelWidth: number | null;
  /** Wanted drop of the strap, m, or null. */ readonly wantedDrop: number | null;
  /** Where the file has the anchors, and the bag hung from there. */
  readonly drawn: { readonly places: readonly (AnchorPlace & { readonly strap: string; readonly panel: string })[]; readonly step: SweepStep };
  readonly steps: readonly (SweepStep & { readonly distance: number })[];
  /** The bag as drawn with the strap at the shortest setting of its adjuster; absent without one, and before it is hung. */ readonly shortest?: SweepStep;
  /** Runs of neighbouring steps that hang level, first and last distance of each, m; what lies between two steps was not hung. */
  readonly level: readonly { readonly from: number; readonly to: number }[];
  /** Up to where it counts as level, for the look that is wanted: rad, of the height. */
  readonly limits: { readonly tilt: number; readonly mouthSag: number };
  readonly wanted: Wanted;
}

/** One single change of a bag that hangs level at none of the distances tried, hung by itself as drawn. */
export interface SingleChange {
  /** In words: "strap 40 mm longer". */ readonly change: string;
  /** strap and load: how much of it, m or kg; rim: the strip's height, m. */ readonly kind: 'strap' | 'rim' | 'load';
  readonly amount: number;
  readonly step: SweepStep;
}

/** The bag as drawn under several loads. */
export interface LoadSweep extends Swept {
  readonly steps: readonly (SweepStep & { readonly load: number })[];
}

/** What is shown together: anchors moved, perhaps loads, perhaps the stitching's own strength beside the pulls. */
export interface HangReport {
  readonly anchors: AnchorSweep;
  readonly load: LoadSweep | null;
  /** Tried where it hangs level nowhere; absent where that was not asked. */ readonly changes?: readonly SingleChange[];
  /** Of the swept strap's patch; reference null for a patch without flat stitching. */
  readonly stitching: (Stitching & { readonly reference: StitchReference | null }) | null;
}
