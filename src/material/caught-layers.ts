/** What of a stack lies in a seam's allowance. */
import type { Bag, Layer, Stack } from '../bag/types.ts';
import { sheetOf } from './layers.ts';

/** Built-in materials that are trimmed back to the stitch line: a seam that catches them is a lump. Common practice, no source. */
const TRIMMED = /^(fleece|foam|pefoam|spacermesh|neoprene|felt)/;
/** Interfacings and boards that end inside the seam, so that it turns: 3 to 6 mm is common practice, no source. */
const INSIDE = /^(fus_|nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe)/;
const INSET = 0.005;

/** Is the layer sewn into seams? As it states; else the shell is, fusibles, foam, fleece and boards are not (an own material is what it is like), and the rest is. */
function caught(bag: Pick<Bag, 'materials'>, layer: Layer, place: number): boolean {
  if (layer.inSeams) return layer.inSeams === 'caught';
  const kind = kindOf(bag, layer);
  return place === 0 || !(TRIMMED.test(kind) || INSIDE.test(kind));
}

/** The built-in material that a layer is, or is like. */
const kindOf = (bag: Pick<Bag, 'materials'>, { material }: Layer): string => {
  const own = bag.materials.find((m) => m.id === material);
  return own ? (own.like ?? '') : material;
};

/**
 * How far inside the seam line a layer ends, m: as it states; else 5 mm of an interfacing or a board that is stuck to its panel and not caught, 0 of the rest. A board laid
 * in loose is cut to its panel and carries to the seam: a bare strip of 5 mm, spread over a row of triangles, let a base board hang by 21 mm where it can by no more than 5.
 */
export function insetOf(bag: Pick<Bag, 'materials'>, layer: Layer, place: number): number {
  if (place === 0 || caught(bag, layer, place)) return 0;
  return layer.inset ?? (layer.join !== 'loose' && INSIDE.test(kindOf(bag, layer)) ? INSET : 0);
}

/** Thickness, m, and number of a stack's layers that a seam catches, and the names of those that are cut out of it. */
export interface Caught {
  readonly thickness: number;
  readonly layers: number;
  readonly cutOut: readonly string[];
}

/**
 * What a seam catches of a stack: all that counts for its bulk. Where a layer says nothing, every layer but fusibles, foam, fleece and boards, which is the cautious side
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
