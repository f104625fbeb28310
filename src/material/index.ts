/** Materials and stacks: sourced tables, lamination, swatch formulas. */

export * from './bond.ts';
export * from './carrying.ts';
export { type Caught, caughtIn } from './caught-layers.ts';
export { EVIDENCE_ROWS, type EvidenceRow } from './data/evidence.ts';
export { leadersOf } from './ease.ts';
export * from './elastica.ts';
export { finRigidity, rippleCurvature, rippledRigidity } from './fin.ts';
export { hardwareFigures, hardwareWords } from './hardware.ts';
export { DEFAULT_BOND, laminateOf, layUp } from './lay-up.ts';
export { sheetOf, weakest } from './layers.ts';
export { memberFigures, memberWords } from './members.ts';
export { presetNames } from './names.ts';
export { fromStrips, plateRigidity, plus, type Sym, stripRigidity, symOf, turned, twistFromBias, ZERO } from './orthotropy.ts';
export { overhang, overhangUpright, rigidityAlong } from './overhang.ts';
export { type MaterialBands, materialBands, presetNotes, presets } from './presets.ts';
export { meanRigidity, pressedHinge } from './pressed.ts';
export { sewnLayers } from './sewn-layers.ts';
export { seenFrom, sideBySide } from './side-by-side.ts';
export { massWhenStiffer } from './stiffened.ts';
export * from './stitched-patch.ts';
export * from './stitching.ts';
export { keptWidth, thinned } from './thinned.ts';
export * from './types.ts';
