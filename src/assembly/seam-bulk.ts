import type { Bag, SeamType } from '../bag/types.ts';
import { type Caught, caughtIn, thinned } from '../material/index.ts';
import type { BagLaminates } from '../material/types.ts';
import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/** One side of a seam, all thicknesses in m or all in layers: what its allowance holds, and the finished panel beside the stitch line. */
export interface SeamSide {
  readonly caught: number;
  readonly panel: number;
}

/**
 * Layers and thickness of a seam at its thickest, beside the stitch line.
 *   plain, turned: both allowances pressed to one side of a panel (the thicker is reckoned): a + b + the thicker panel;
 *   lapped, topstitched: one allowance over the other, a + b; bound: a + b and a binding as thin as the thinner one, twice; fold: 2 of the thicker panel.
 * Allowances hold what is caught (caughtIn); the panel beside them and a fold are the whole stack. Common practice, no source.
 */
export function bulkOf(type: SeamType, a: SeamSide, b: SeamSide): number {
  const both = a.caught + b.caught;
  switch (type) {
    case 'plain':
    case 'turned':
      return both + Math.max(a.panel, b.panel);
    case 'lapped':
    case 'topstitched':
      return both;
    case 'bound':
      return both + 2 * Math.min(a.caught, b.caught);
    case 'fold':
      return 2 * Math.max(a.panel, b.panel);
  }
}

/** What a seam catches of the stack of that name, looked up once a stack. */
export function catcher(bag: Bag): (stack: string) => Caught {
  const known = new Map(bag.stacks.map((s) => [s.name, s]));
  const read = new Map<string, Caught>();
  return (name) => {
    const caught = read.get(name) ?? caughtIn(bag, known.get(name)!);
    read.set(name, caught);
    return caught;
  };
}

/** Per seam: sewn length (mean of both sides as meshed is the drafted one), thickest bulk over its panels, m, cloth layers, and what is cut out of its allowances. */
export function seamsOf(bag: Bag, mesh: BagMesh, laminates: BagLaminates) {
  const out = bag.seams.map((seam) => ({ name: seam.name, bulk: 0, layers: 0, length: 0, cutOut: new Set<string>() }));
  const caughtOf = catcher(bag);
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const s = mesh.edgeSeam[e]!;
    const tris = [mesh.edgeTris[2 * e]!, mesh.edgeTris[2 * e + 1]!];
    const sides = tris.map((t) => {
      const { thickness, stack } = laminates[mesh.triPanel[t]!]![mesh.triRegion[t]!]!;
      const caught = caughtOf(stack);
      return {
        caught,
        thick: { caught: thinned(bag.seams[s]!, caught.thickness).line, panel: thickness },
        count: { caught: caught.layers, panel: caught.layers + caught.cutOut.length },
      };
    });
    const [a, b] = [sides[0]!, sides[1]!];
    const [t, k] = [tris[0]!, mesh.edgeLocal[2 * e]!];
    const [i, j] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
    const row = out[s]!;
    row.length += libm.hypot(mesh.triFlat[i]! - mesh.triFlat[j]!, mesh.triFlat[i + 1]! - mesh.triFlat[j + 1]!);
    row.bulk = Math.max(row.bulk, bulkOf(bag.seams[s]!.type, a.thick, b.thick));
    row.layers = Math.max(row.layers, bulkOf(bag.seams[s]!.type, a.count, b.count));
    for (const side of sides) for (const name of side.caught.cutOut) row.cutOut.add(name);
  }
  return out.map(({ cutOut, ...row }) => ({ ...row, ...(cutOut.size > 0 ? { cutOut: [...cutOut] } : {}) }));
}
