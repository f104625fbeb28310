/** What of a stack lies in a seam's allowance. */
import type { Bag, Layer, Stack } from '../bag/types.ts';
import { sheetOf } from './layers.ts';

/** Built-in materials that are cut back to the stitch line: a seam that catches them is a lump, and a board cannot be turned. Common practice, no source. */
const CUT_OUT = /^(fleece|foam|pefoam|spacermesh|neoprene|felt|nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe)/;

/** Is the layer sewn into seams? As it states; else the shell is, foam, fleece and boards are not (an own material is what it is like), and the rest is. */
function caught(bag: Pick<Bag, 'materials'>, layer: Layer, place: number): boolean {
  if (layer.inSeams) return layer.inSeams === 'caught';
  const own = bag.materials.find((m) => m.id === layer.material);
  return place === 0 || !CUT_OUT.test(own ? (own.like ?? '') : layer.material);
}

/** Thickness, m, and number of a stack's layers that a seam catches, and the names of those that are cut out of it. */
export interface Caught {
  readonly thickness: number;
  readonly layers: number;
  readonly cutOut: readonly string[];
}

/**
 * What a seam catches of a stack: all that counts for its bulk. Where a layer says nothing, every layer but foam, fleece and boards, which is the cautious side
 * for bulk; sewn-layers.ts reckons weight and stiffness of an allowance with the shell and what is stated to be caught, the cautious side for standing.
 * A direct stack is one sheet and is caught whole. Errors: asserts that materials exist.
 */
export function caughtIn(bag: Pick<Bag, 'materials'>, stack: Stack): Caught {
  if (stack.kind === 'direct') return { thickness: stack.thickness, layers: 1, cutOut: [] };
  let [thickness, layers] = [0, 0];
  const cutOut: string[] = [];
  stack.layers.forEach((layer, place) => {
    const sheet = sheetOf(bag, layer, 'mid');
    if (caught(bag, layer, place)) {
      thickness += sheet.thickness;
      layers++;
    } else cutOut.push(sheet.name);
  });
  return { thickness, layers, cutOut };
}
