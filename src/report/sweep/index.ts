export { strapCard } from './card.ts';
export { hangSvg } from './plot.ts';
export { hangJson, hangText } from './text.ts';
export type * from './types.ts';
export { drawnDistances, missedLimits } from './words.ts';
