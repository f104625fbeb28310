export { choosePlot } from './plot.ts';
export { chooseCsv, chooseJson, chooseText } from './text.ts';
export type * from './types.ts';
