/** Which stacks of a shelf do. */
export { type ChooseOptions, CRITERIA, choose, chooseAmong, type Kept, type PreparedShelf, prepareShelf } from './choose.ts';
export { type WrittenChoice, writtenChoice } from './written.ts';
