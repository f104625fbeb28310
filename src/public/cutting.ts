/**
 * `slumpline/cutting`: what a bag is cut from: pieces to scale (cutPattern), sheets and pages of them (SVG, PDF, DXF), the cutting list with lays, lengths, parts and costs
 * (cutList), and the settled bag as a shape for other programs. Nothing waits for anything but `bagGlb`: the library that writes glTF promises its bytes.
 */
export { BagError } from '../bag/index.ts';
export type { Bag, Fault, Point2 } from '../bag/types.ts';
export {
  type Card,
  CUT_DEFAULTS,
  CUT_LIST_FORMAT,
  CUT_LIST_VERSION,
  type CutArea,
  type CutList,
  type CutListRecord,
  type CutOptions,
  type CutPart,
  cardNotes,
  cardsPdf,
  cutAreas,
  cutList,
  cutListCsv,
  cutListJsonSchema,
  cutListParts,
  cutListRecord,
  cutListText,
  cutPattern,
  cutWords,
  type FinishedPart,
  LIST_DEFAULTS,
  type ListedCost,
  type ListedLength,
  type ListedMaterial,
  type ListedPart,
  type ListedPiece,
  type ListedPurchase,
  type ListOptions,
  laidLoops,
  laySvg,
  makeSheet,
  nest,
  notchCards,
  type Pattern,
  type Piece,
  type SewingStep,
  type Sheet,
  sheetDxf,
  sheetPdf,
  sheetSvg,
  strapCards,
  type Tape,
  type ThreadRow,
  type Tiling,
  tiledPdf,
  tilesOf,
} from '../pattern/cutting.ts';
export { meshObj } from '../report/index.ts';
export { bagGlb, bagStl } from '../report/shapes.ts';
export { finishedParts } from '../run/index.ts';
