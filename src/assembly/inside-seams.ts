import type { Bag } from '../bag/types.ts';
import type { BagLaminates, Laminate, SewnLayers } from '../material/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { type Touched, underStrip } from './under-strip.ts';

/** A triangle beside a seam, part of which has fewer layers than its panel. */
export interface Inside {
  readonly under: Touched;
  /** What lies on that part. */ readonly cloth: Laminate;
}

/**
 * Strips along seams where interfacings and boards have ended (SewnLayers.inside): from the seam line inward over their inset, on both sides. A fold is no seam: its cloth runs on.
 */
export function insideSeams(bag: Bag, mesh: BagMesh, inside: SewnLayers['inside']): Inside[] {
  const widest = inside.map((regions) => Math.max(0, ...regions.map((r) => r?.width ?? 0)));
  return bag.seams.flatMap((seam) =>
    seam.type === 'fold'
      ? []
      : seam.sides.flat().flatMap((run) => {
          const panel = mesh.panelNames.indexOf(run.panel),
            width = widest[panel]!;
          if (!width) return [];
          return underStrip(bag, mesh, { ...run, width }).flatMap((under) => {
            const here = inside[panel]![mesh.triRegion[under.t]!];
            return here ? [{ under: { ...under, share: (under.share * here.width) / width }, cloth: here.cloth }] : [];
          });
        }),
  );
}

/** Tells the mass, kg, that a triangle has less for it. */
export function eachInside(bag: Bag, mesh: BagMesh, laminates: BagLaminates, inside: SewnLayers['inside'], tell: (t: number, less: number) => void): void {
  for (const { under, cloth } of insideSeams(bag, mesh, inside)) {
    const whole = laminates[mesh.triPanel[under.t]!]![mesh.triRegion[under.t]!]!;
    tell(under.t, (whole.arealMass - cloth.arealMass) * under.share * flatArea(mesh, under.t));
  }
}
