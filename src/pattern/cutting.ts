/** Everything that leads from a bag to the cutting table; loaded when it is needed (loadCutting), since it brings a font and a clipping library. */

export { cutList, LIST_DEFAULTS } from './cutlist/cut-list.ts';
export { cutListJsonSchema } from './cutlist/json-schema.ts';
export { laySvg } from './cutlist/lay-svg.ts';
export { laidLoops, nest } from './cutlist/nest.ts';
export { type CutPart, cutListParts } from './cutlist/parts.ts';
export { CUT_LIST_FORMAT, CUT_LIST_VERSION, type CutListRecord, cutListRecord } from './cutlist/record.ts';
export type * from './cutlist/types.ts';
export { cutListCsv, cutListText } from './cutlist/words.ts';
export { type CutArea, cutAreas } from './pieces/cut-areas.ts';
export { CUT_DEFAULTS, cutPattern } from './pieces/cut-pattern.ts';
export type { CutOptions, Pattern, Piece, Tape } from './pieces/types.ts';
export { type Card, cardNotes } from './sheet/card-block.ts';
export { cardsPdf } from './sheet/cards-pdf.ts';
export { sheetDxf } from './sheet/dxf.ts';
export { makeSheet } from './sheet/make-sheet.ts';
export { notchCards } from './sheet/notch-card.ts';
export { sheetPdf, tiledPdf } from './sheet/pdf.ts';
export { strapCards } from './sheet/strap-card.ts';
export { sheetSvg } from './sheet/svg.ts';
export { type Tiling, tilesOf } from './sheet/tiles.ts';
export type { Sheet } from './sheet/types.ts';
export { cutWords } from './sheet/words.ts';
