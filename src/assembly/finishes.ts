import type { Bag, EdgeFinish } from '../bag/types.ts';
import type { BagLaminates, Laminate, SewnLayers } from '../material/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { type Touched, underStrip } from './under-strip.ts';

/** First turn of an edge turned twice, m: what lies in the hem's fold (common practice, no source). */
const FIRST_TURN = 0.01;

/**
 * Layers that a finish adds over its width.
 *   raw: none; turned once: 1; turned twice: 1, and the first turn of 10 mm (or all of a narrower hem), counted as spread over the width;
 *   faced: the facing; bound: the binding on both faces. The allowance of a facing's own seam and a binding's turned-in edges are left out.
 * A corner that two finishes or a mitred one turn is counted twice, up to the square of a width. Common practice, no source.
 */
export function layersAdded({ finish, width }: Pick<EdgeFinish, 'finish' | 'width'>): number {
  switch (finish) {
    case 'raw':
      return 0;
    case 'turned once':
    case 'faced':
      return 1;
    case 'turned twice':
      return 1 + Math.min(FIRST_TURN, width) / width;
    case 'bound':
      return 2;
  }
}

/** Cloth that a finish lays on its panel. */
export interface Finished {
  readonly touched: readonly Touched[];
  readonly layers: number;
  /** The panel's own cloth, turned back over its edge: its warp is mirrored in that. */ readonly turned: boolean;
  /** Of the triangle, in the panel's frame. */ readonly cloth: (t: number) => Laminate;
}

/** Finishes of the bag with the triangles under them. shells, covers: SewnLayers.allowances and .finishes. */
export function finished(bag: Bag, mesh: BagMesh, shells: BagLaminates, covers: SewnLayers['finishes']): Finished[] {
  return (bag.finishes ?? []).flatMap((f, i) => {
    const layers = layersAdded(f),
      cover = covers[i];
    if (layers === 0) return [];
    const touched = f.runs.flatMap(({ panel, edge, from, to }) => underStrip(bag, mesh, { panel, edge, from, to, width: f.width }));
    return [{ touched, layers, turned: f.finish.startsWith('turned'), cloth: (t: number) => cover ?? shells[mesh.triPanel[t]!]![mesh.triRegion[t]!]! }];
  });
}

/** Tells the mass, kg, that finishes add on each triangle. */
export function eachFinish(bag: Bag, mesh: BagMesh, shells: BagLaminates, covers: SewnLayers['finishes'], tell: (t: number, mass: number) => void): void {
  for (const { touched, layers, cloth } of finished(bag, mesh, shells, covers))
    for (const { t, share } of touched) tell(t, layers * cloth(t).arealMass * share * flatArea(mesh, t));
}
