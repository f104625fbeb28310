/** Straps: how wide one is cut for how it is folded, and its pieces and lengths. */

import { builtIn, easeShares, isLeather, onStrap, strapCut, TURN_UNDER } from '../../bag/index.ts';
import type { Bag, Point2, Strap } from '../../bag/types.ts';
import { sheetOf } from '../../material/index.ts';
import { formatMm } from '../../units/index.ts';
import { layerKind, marginOfLayer, WEBBING } from './layer-kind.ts';
import { areaOf, inset } from './plane.ts';
import type { CutOptions, Piece, PieceLine, Tape } from './types.ts';

/** Sheets whose edges do not fray and are left as cut, leather aside. Common practice, no source. */
const AS_CUT = /^(cork|felt|neoprene|vinyl|pp\d|ldpe|hdpe|nwboard|leatherboard|fibreboard|pefoam|foam|mesh$|spacermesh)/;

/** A strap across: width it is cut at, m; where it is folded, from its left edge; how, in words ('' of one that is not folded). */
export interface StrapFold {
  readonly cut: number;
  readonly folds: readonly number[];
  readonly words: string;
}

/**
 * How a strap of L layers is folded from one piece: once for each layer more than one, and raw edges of cloth turned in by a (no more than half its width w).
 *   L = 1: both edges turned under, cut w + 2 a; L = 2: in half, both edges turned in, 2 w + 2 a; L = 4, 6, ...: edges to the middle and in half, L w, no raw edge
 *   left outside; L = 3, 5, ...: one edge ends outside and is turned in, L w + a. What does not fray is cut at L w. Common practice, no source.
 */
export function strapFold(width: number, layers: number, frays: boolean, turn: number): StrapFold {
  const a = frays ? Math.min(turn, width / 2) : 0;
  const steps = (from: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + i * width);
  const [w, t] = [formatMm(width), formatMm(a)];
  if (layers === 1)
    return a === 0 ? { cut: width, folds: [], words: '' } : { cut: width + 2 * a, folds: [a, a + width], words: `both edges turned under ${t}: ${w} wide` };
  if (layers === 2)
    return a === 0
      ? { cut: 2 * width, folds: [width], words: `folded in half to ${w}, edges as cut` }
      : { cut: 2 * width + 2 * a, folds: steps(a, 3), words: `folded in half to ${w}, both edges turned in ${t}` };
  const even = layers % 2 === 0;
  if (a === 0 || even)
    return {
      cut: layers * width,
      folds: steps(width, layers - 1),
      words: `folded to ${w}, ${layers} thick${even ? ': edges to the middle, then in half' : ', edges as cut'}`,
    };
  return { cut: layers * width + a, folds: steps(width, layers), words: `folded to ${w}, ${layers} thick, its outer edge turned in ${t}` };
}

/** Does the edge of a strap's first layer fray, so that it is turned? A stack of stated figures is taken for cloth. */
export const strapFrays = (bag: Bag, s: Strap): boolean => {
  const stack = bag.stacks.find((k) => k.name === s.stack)!;
  if (stack.kind === 'direct') return true;
  const { material } = stack.layers[0]!;
  return !WEBBING.test(material) && !isLeather(bag, material) && !AS_CUT.test(builtIn(bag, material));
};

const lengthWords = (s: Strap): string => `${formatMm(s.length)} between its patches, ${formatMm(TURN_UNDER)} turned under at each end`;

const rectangle = (w: number, h: number): Point2[] => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];
const line = (what: string, points: readonly Point2[], ink: PieceLine['ink'] = 'fold'): PieceLine => ({ ink, what, points, closed: false });

/** Straps as pieces, upright, warp along them; webbing as lengths of tape. */
export function strapsCut(bag: Bag, o: CutOptions): { pieces: Piece[]; tapes: Tape[] } {
  const pieces: Piece[] = [];
  const tapes: Tape[] = [];
  for (const s of bag.straps) {
    const stack = bag.stacks.find((k) => k.name === s.stack)!;
    const long = strapCut(s);
    const fold = strapFold(s.width, s.layers, strapFrays(bag, s), o.strapTurn);
    const sheets =
      stack.kind === 'direct'
        ? [{ layer: null, material: stack.name, name: stack.name, thickness: stack.thickness, arealMass: stack.arealMass }]
        : stack.layers.map((layer) => ({ layer, material: layer.material, ...sheetOf(bag, layer, 'mid') }));
    sheets.forEach((sheet, place) => {
      if (WEBBING.test(sheet.material)) {
        tapes.push({
          name: `strap ${s.name}`,
          kind: 'strap',
          material: sheet.material,
          materialName: sheet.name,
          length: long,
          width: s.width,
          count: s.layers,
          mass: long * s.width * sheet.arealMass,
          how: lengthWords(s),
        });
        return;
      }
      const kind = place === 0 ? 'strap' : layerKind(bag, sheet.layer!, place);
      const margin = place === 0 ? null : marginOfLayer(bag, sheet.layer!, kind, o);
      const ease = sheet.layer?.ease ? easeShares(sheet.layer, onStrap(s)) : [0, 0];
      // What is not caught in the turned edges ends inside the finished strap.
      const wide = margin === null ? fold.cut : s.width * s.layers;
      const cut = inset([rectangle(wide * (1 + ease[1]!), long * (1 + ease[0]!))], margin ?? 0);
      if (cut.length === 0) return;
      const across = (y: number): Point2[] => [
        [0, y],
        [fold.cut, y],
      ];
      pieces.push({
        name: `strap ${s.name}`,
        kind,
        material: sheet.material,
        materialName: sheet.name,
        thickness: sheet.thickness,
        arealMass: sheet.arealMass,
        count: 1,
        mirrored: 0,
        warp: Math.PI / 2,
        cut,
        area: areaOf(cut),
        net: areaOf(cut),
        lines:
          place > 0
            ? []
            : [
                ...fold.folds.map((x) =>
                  line('fold line', [
                    [x, 0],
                    [x, long],
                  ]),
                ),
                line('end turned under', across(TURN_UNDER)),
                line('end turned under', across(long - TURN_UNDER)),
                line('end of the patch', across(TURN_UNDER + s.anchors[0].height), 'mark'),
                line('end of the patch', across(long - TURN_UNDER - s.anchors[1].height), 'mark'),
              ],
        wishes: [],
        panels: [],
        notes: [lengthWords(s), ...(place === 0 && fold.words !== '' ? [fold.words] : [])],
      });
    });
  }
  return { pieces, tapes };
}
