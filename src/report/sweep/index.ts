export { strapCard } from './card.ts';
export { hangSvg } from './plot.ts';
export { hangJson, hangText } from './text.ts';
export type * from './types.ts';
export { baseSags, drawnDistances, missedLimits, sagWords } from './words.ts';
