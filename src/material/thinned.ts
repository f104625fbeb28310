/** What skiving and trimming leave of a seam's allowances. */
import type { Seam } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';

/** Width of an allowance that is left once it is trimmed, m. */
export const keptWidth = ({ allowance, trimmed }: Pick<Seam, 'allowance' | 'trimmed'>): number => trimmed ?? allowance;

/** One allowance as it lies in the seam, against what it would be if it were not skived: shares of the same figure. */
export interface Thinned {
  /** m */ readonly width: number;
  /** Of its mass and of its stiffness in the plane. */ readonly mass: number;
  /** Of its rigidity along the seam. */ readonly along: number;
  /** Of its rigidity across the seam. */ readonly across: number;
  /** Thickness at the stitch line, m. */ readonly line: number;
  /** Of its rigidity at the stitch line. */ readonly crease: number;
}

/**
 * An allowance of that thickness, m, in that seam. Skiving starts at the cut edge, trimming takes that edge off again, so that a share s of what is left is thin:
 * r = to/thickness, mass 1 - s + s r, rigidity along 1 - s + s r^3 (strips side by side), across 1/(1 - s + s/r^3) (strips one after another), as a sheet of one
 * piece. What reaches past the stitch line leaves the panel as it is. A sheet thinner than `to` is not skived.
 */
export function thinned(seam: Pick<Seam, 'allowance' | 'trimmed' | 'skived'>, thickness: number): Thinned {
  const width = keptWidth(seam),
    r = seam.skived ? Math.min(1, seam.skived.to / thickness) : 1,
    thin = seam.skived ? Math.max(0, seam.skived.over - (seam.allowance - width)) : 0,
    s = width > 0 ? Math.min(1, thin / width) : 0,
    cubed = libm.cube(r);
  const [line, crease] = s === 1 ? [r * thickness, cubed] : [thickness, 1];
  return { width, mass: 1 - s + s * r, along: 1 - s + s * cubed, across: 1 / (1 - s + s / cubed), line, crease };
}
