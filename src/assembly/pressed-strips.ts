import { runsOverlap } from '../bag/index.ts';
import type { Bag, EdgeRun, Four } from '../bag/types.ts';
import { keptWidth, rippledRigidity, stripRigidity, thinned } from '../material/index.ts';
import type { BagLaminates, Laminate } from '../material/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { heldStrips } from '../panels/index.ts';
import { type Touched, underStrip } from './under-strip.ts';

/** Share of a fin's rigidity that counts square to a panel: it stands on the bisector of a square corner, cos2 of 45 deg. In a flat seam it is all of it; the less is taken. */
const ON_BISECTOR = 0.5;

/** A strip beside a pressed seam whose panel bends less along the seam. */
export interface PressedStrip {
  readonly touched: readonly Touched[];
  /** Rigidity added along the seam, N*m, at a place. */ readonly along: (t: number, direction: number) => number;
}

/**
 * What the allowances of seams add along them, where the file says how they are pressed. open, creased: each allowance lies on its own panel; to one side: both on the second one;
 * unpressed: both stand as a fin (material/fin.ts), half of which each panel has. They lie loose, so they add nothing across the seam and nothing in the plane.
 * A stretch that topstitching holds is left to that (heldStrips). shells: what the allowances hold. warpOf: where a laminate's warp lies in a panel, rad.
 */
export function pressedStrips(bag: Bag, mesh: BagMesh, shells: BagLaminates, warpOf: (panel: number, lam: Laminate) => number): PressedStrip[] {
  const held = bag.seams.some((s) => s.pressed) ? heldStrips(bag).strips : [];
  const out: PressedStrip[] = [];
  for (const seam of bag.seams) {
    const { pressed } = seam,
      allowance = keptWidth(seam);
    if (!pressed || allowance <= 0) continue;
    const panelOf = (run: EdgeRun): number => mesh.panelNames.indexOf(run.panel);
    const shellOf = (side: 0 | 1): Laminate => shells[panelOf(seam.sides[side][0]!)]![0]!;
    seam.sides.forEach((side, s) => {
      const other = shellOf(s === 0 ? 1 : 0);
      const along = (t: number, direction: number): number => {
        const panel = mesh.triPanel[t]!,
          own = shells[panel]![mesh.triRegion[t]!]!,
          rigid = (lam: Laminate, f: (four: Four, angle: number) => number): number =>
            thinned(seam, lam.thickness).along * f(lam.bending, direction - warpOf(panel, lam)),
          plane = (lam: Laminate): number => thinned(seam, lam.thickness).mass * Math.min(lam.inPlane[0], lam.inPlane[1]);
        if (pressed === 'open' || pressed === 'creased') return rigid(own, stripRigidity);
        // Of the other panel its own warp along the seam is not known here; the seam runs as it does in this one.
        if (pressed === 'to one side') return s === 1 ? rigid(own, stripRigidity) + rigid(other, stripRigidity) : 0;
        const inPlane = plane(own) + plane(other);
        const fin = { height: allowance, inPlane, bending: rigid(own, stripRigidity) + rigid(other, stripRigidity), flange: inPlane * allowance };
        return (ON_BISECTOR * rippledRigidity(fin)) / (2 * allowance);
      };
      for (const run of side) {
        if (pressed === 'to one side' && s === 0) continue;
        if (held.some((h) => runsOverlap(h, run))) continue;
        out.push({ touched: underStrip(bag, mesh, { ...run, width: allowance }), along });
      }
    });
  }
  return out;
}
