/** `slumpline/shelf`: what a maker owns or can buy: shelf files read, printed, turned into tables and back; what a use of a material comes to. */

export { BagError } from '../bag/index.ts';
export type { Fault, OwnMaterial } from '../bag/types.ts';
export {
  type Bought,
  bought,
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
  totalCost,
  USES,
  type Use,
} from '../shelf/index.ts';
