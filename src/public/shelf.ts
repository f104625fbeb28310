/** `slumpline/shelf`: what a maker owns or can buy: shelf files read, printed, turned into tables and back; what a use of a material comes to; `choose`: which of its stacks do what is wanted of a bag. */

export { BagError } from '../bag/index.ts';
export type { Fault, OwnMaterial } from '../bag/types.ts';
export {
  type ChooseReport,
  type ChosenCut,
  type ChosenStack,
  type Criterion,
  chooseCsv,
  chooseJson,
  choosePlot,
  chooseText,
  type SettledStack,
} from '../report/index.ts';
export { type ChooseOptions, choose, type Kept } from '../run/index.ts';
export {
  type Bought,
  bought,
  boughtTrim,
  isShelfText,
  itemFor,
  newShelf,
  parseShelf,
  parseShelfDocument,
  printShelf,
  type Shelf,
  type ShelfDocument,
  type ShelfItem,
  type Sold,
  shelfCsv,
  shelfFromCsv,
  shelfJsonSchema,
  type Taken,
  type TakenTrim,
  TRIMS,
  totalCost,
  trimFor,
  USES,
  type Use,
} from '../shelf/index.ts';
