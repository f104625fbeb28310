import * as api from '../index.ts';

/** The public API, as far as the command line uses it. Tests may hand in a slower or quicker one of the same shape. */
export type Core = Pick<
  typeof api,
  | 'BagError'
  | 'Cancelled'
  | 'checkBulk'
  | 'checkPattern'
  | 'compareText'
  | 'draftPanels'
  | 'flatSvg'
  | 'htmlReport'
  | 'meshObj'
  | 'newBag'
  | 'overhangAtFixedAngle'
  | 'parseBag'
  | 'picture'
  | 'prepare'
  | 'presets'
  | 'preview'
  | 'readQuantity'
  | 'resultJson'
  | 'resultsJson'
  | 'stableJson'
  | 'templates'
  | 'textReport'
>;

export const core: Core = api;
