/** The swatch bench: a material passes through the standard tests; a maker's readings become a material. */
export { swatchTest, TEST_NAMES } from './bench.ts';
export type { Setup as SwatchSetup, TestName as SwatchTestName, TestResult as SwatchResult } from './result.ts';
export { isotropic, type Sheet } from './sheet.ts';
export { lengthFor } from './strip.ts';
