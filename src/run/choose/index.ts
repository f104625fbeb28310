/** Which stacks of a shelf do. */
export { CRITERIA, type ChooseOptions, choose, type Kept, prepareShelf } from './choose.ts';
