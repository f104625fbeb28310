/** `slumpline/swatch`: a material through the standard tests, with theory beside each; readings turned into a material. */
export { BagError, type Fault } from '../bag/types.ts';
export * from '../swatch/index.ts';
