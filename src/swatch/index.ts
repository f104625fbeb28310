/** The swatch bench: a material passes through the standard tests; a maker's readings become a material. */
export { swatchTest, TEST_NAMES } from './bench.ts';
export { type Cloth, fileCloth, presetCloth } from './cloth.ts';
export * from './compare/index.ts';
export { SUPPORT_DISC } from './drape.ts';
export { cantileverReadings } from './friction.ts';
export { heldWideFactor, notesOn as swatchNotes } from './notes.ts';
export { ownMaterialForm, sourceOf as swatchSource, swatchText } from './own-text.ts';
export * from './photo/index.ts';
export { besidePublished, CANTILEVER_OVER_SLOPE, cantileverFromSlope, DENIM, fabricPercentile, slopeFromCantilever } from './published.ts';
export { type DirectionResult as SwatchDirection, type SwatchMaterial, swatchMaterial } from './reading.ts';
export { parseReadings, type Readings as SwatchReadings } from './readings.ts';
export type { Setup as SwatchSetup, TestName as SwatchTestName, TestResult as SwatchResult } from './result.ts';
export { isotropic, type Sheet } from './sheet.ts';
export { ownLength, ownMesh, unfitSetup, widthOf as testWidth } from './sizes.ts';
export { lengthFor } from './strip.ts';
export { type TestedPiece, testCsv, testDrawing, testSheet } from './test-sheet.ts';
