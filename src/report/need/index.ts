export { massNeeded, overhangNeeded } from './overhang.ts';
export { needJson, needText } from './text.ts';
export type * from './types.ts';
