/** What each layer of a stack is for, and how far it reaches. */
import { builtIn } from '../../bag/index.ts';
import type { Bag, Layer } from '../../bag/types.ts';
import type { CutOptions, LayerKind } from './types.ts';

const INTERFACING = /^(fus_|sewin)/;
const BOARD = /^(nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe)/;
const FOAM = /^(fleece|foam|pefoam|spacermesh|neoprene|felt)/;
/** Sold by the metre at its own width. */
export const WEBBING = /^web_/;
/** What a layer is for: the first of a stack is the shell; then by what it is, and cloth is a lining. Common practice, no source. */
export function layerKind(bag: Pick<Bag, 'materials'>, layer: Layer, place: number): LayerKind {
  if (place === 0) return 'shell';
  const id = builtIn(bag, layer.material);
  if (BOARD.test(id)) return 'board';
  if (INTERFACING.test(id)) return 'interfacing';
  return FOAM.test(id) ? 'foam' : 'lining';
}

/**
 * How far a layer ends inside the stitch line, m; null: it goes out to the cut line with the shell. As the layer states ("in seams"); else shell, lining and
 * sewn-in canvas are caught, fusibles and boards end a margin inside the stitch line, foam and fleece at it. Common practice, no source.
 */
export function marginOfLayer(bag: Pick<Bag, 'materials'>, layer: Layer, kind: LayerKind, o: CutOptions): number | null {
  const margin = kind === 'foam' ? 0 : kind === 'board' ? o.boardMargin : o.interfacingMargin;
  if (layer.inSeams) return layer.inSeams === 'caught' ? null : margin;
  if (kind === 'shell' || kind === 'lining' || builtIn(bag, layer.material) === 'sewin') return null;
  return margin;
}
