/** The bag file and the bag. See types.ts for the resolved form, schema.ts for the written one. */

export { type Curve, curveOf, edgeLength, flatten, outlineArea, pointAt, polygonOf } from './curve.ts';
export { easeShares, hasLengths, onPanel, onStrap, warpFrom } from './ease.ts';
export { at, FaultList, oneOf } from './faults.ts';
export { readJson } from './json.ts';
export { bagJsonSchema } from './json-schema.ts';
export { builtIn, isLeather } from './leather.ts';
export type { Path, Unit } from './links.ts';
export { lengthIn, multipleOf, type SizeChange, withSize, writtenLength } from './links.ts';
export { type AnchorPlace, anchorPlace, anchorRange, strapFamily, strapNames, withAnchorsAt } from './move-anchors.ts';
export { goodLabel, LABEL_RULE } from './names.ts';
export { nearestWord } from './nearest-word.ts';
export { finishedAs, finishesIn } from './option-finishes.ts';
export { isMouth } from './panels.ts';
export { type BagDocument, parseBag, parseBagDocument, readMaterials } from './parse.ts';
export { printBag, withParameter, withValue } from './print.ts';
export type { Renamed } from './renamed.ts';
export { entry, Quantity } from './schema-base.ts';
export { validated } from './schema-faults.ts';
export { MaterialForm } from './schema-stacks.ts';
export { defaultStances, USUAL_FILL, USUAL_REPOSE, usualHung } from './stances.ts';
export { patchOutline } from './straps.ts';
export { stripAlong } from './strip.ts';
export { newBag, type Template, templates } from './templates/index.ts';
export * from './types.ts';
export { isCord, isPoint, isZip } from './types-closures.ts';
export { within } from './within.ts';
export { EVERY_PANEL, LIMITS, PRESET_IDS, PRESSED, type PresetId, ROLES, SEAM_TYPES, WANTED, withArticle } from './words.ts';
