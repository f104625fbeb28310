export { changesSvg } from './plot.ts';
export { changesJson, changesText } from './text.ts';
export type * from './types.ts';
