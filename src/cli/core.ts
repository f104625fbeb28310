import * as api from '../index.ts';

/** The public API, as far as the command line uses it. Tests may hand in a slower or quicker one of the same shape. */
export type Core = Pick<
  typeof api,
  | 'BagError'
  | 'Cancelled'
  | 'checkPattern'
  | 'besidePublished'
  | 'compareText'
  | 'draftPanels'
  | 'fileCloth'
  | 'flatSvg'
  | 'htmlReport'
  | 'isotropic'
  | 'meshObj'
  | 'newBag'
  | 'overhangAtFixedAngle'
  | 'ownLength'
  | 'ownMaterialForm'
  | 'ownMesh'
  | 'parseBag'
  | 'parseReadings'
  | 'picture'
  | 'prepare'
  | 'presetCloth'
  | 'presets'
  | 'preview'
  | 'readQuantity'
  | 'resultJson'
  | 'resultsJson'
  | 'stableJson'
  | 'swatchMaterial'
  | 'swatchTest'
  | 'swatchText'
  | 'TEST_NAMES'
  | 'templates'
  | 'textReport'
  | 'unfitSetup'
>;

export const core: Core = api;
