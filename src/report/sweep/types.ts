import type { AnchorPlace } from '../../bag/index.ts';
import type { Stitching, StitchReference } from '../../material/index.ts';
import type { Status } from '../../solver/types.ts';

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

/** The bag hung once. Figures are null where the bag could not be hung (`refused`, with the reason); metres, radians, newtons, kilograms. */
export interface SweepStep {
  readonly status: Status | 'refused';
  readonly reason: string | null;
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
  /** At rest, tilt and mouth sag within what still holds. */ readonly level: boolean;
  /** SVG of the bag as it hangs, where pictures were asked for and there is something to show. */ readonly picture?: string;
}

interface Swept {
  readonly bag: string;
  readonly option: string;
  readonly stance: string;
  readonly strap: string;
  readonly edgeLength: number;
}

/** Anchors at several distances from the sides. */
export interface AnchorSweep extends Swept {
  /** Contents at every step, kg. */ readonly load: number;
  /** Where the file has the anchors, and the bag hung from there. */
  readonly drawn: { readonly places: readonly (AnchorPlace & { readonly strap: string; readonly panel: string })[]; readonly step: SweepStep };
  readonly steps: readonly (SweepStep & { readonly distance: number })[];
  /** Runs of neighbouring steps that hang level, first and last distance of each, m; what lies between two steps was not hung. */
  readonly level: readonly { readonly from: number; readonly to: number }[];
  readonly limits: { readonly tilt: number; readonly mouthSag: number };
}

/** The bag as drawn under several loads. */
export interface LoadSweep extends Swept {
  readonly steps: readonly (SweepStep & { readonly load: number })[];
}

/** What is shown together: anchors moved, perhaps loads, perhaps the stitching's own strength beside the pulls. */
export interface HangReport {
  readonly anchors: AnchorSweep;
  readonly load: LoadSweep | null;
  /** Of the swept strap's patch; reference null for a patch without flat stitching. */
  readonly stitching: (Stitching & { readonly reference: StitchReference | null }) | null;
}
