/** The bag file and the bag. See types.ts for the resolved form, schema.ts for the written one. */

export { edgeLength, flatten, insidePolygon, outlineArea, pointAt, polygonArea, polygonOf } from './curve.ts';
export { lengthIn, multipleOf, type SizeChange, withSize, writtenLength } from './links.ts';
export { type AnchorPlace, anchorPlace, anchorRange, strapFamily, strapNames, withAnchorsAt } from './move-anchors.ts';
export { type BagDocument, parseBag, parseBagDocument } from './parse.ts';
export { printBag, withParameter, withValue } from './print.ts';
export { bagJsonSchema } from './schema.ts';
export { newBag, type Template, templates } from './templates/index.ts';
export * from './types.ts';
export { EVERY_PANEL, PRESET_IDS, type PresetId, ROLES, SEAM_TYPES, WANTED } from './words.ts';
