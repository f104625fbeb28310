/** Which stacks of a shelf do. */
export { type ChooseOptions, CRITERIA, choose, type Kept, prepareShelf } from './choose.ts';
