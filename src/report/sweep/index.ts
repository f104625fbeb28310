export { changesWords, hereWords, insideWords, nearMissWords } from './advice.ts';
export { strapCard } from './card.ts';
export { type CornerSheet, cornerSheets, type Paper } from './corner.ts';
export { hangSvg, marksFor } from './plot.ts';
export { HAND, missesOf, type Recommendation, rankSingleChanges, recommend, SPACING } from './recommend.ts';
export { bagAt, cardIndex, cutLength } from './strap-cut.ts';
export { hangJson, hangText } from './text.ts';
export type * from './types.ts';
export { baseSags, drawnDistances, lookWords, sagWords, stepWord } from './words.ts';
