/** The list as plain data. Its form: list-schema.ts. */
import type { LaidItem, Lay } from './nest.ts';
import type { CutList, ListedMaterial } from './types.ts';

/** `format` of the list's JSON. */
export const CUT_LIST_FORMAT = 'slumpline cutting list';
/** `version` of the list's JSON. 2: lengths of members and closures, loose parts, finished masses, costs. */
export const CUT_LIST_VERSION = 2;

/** A lay as it is written: what lies where, without the outlines. */
interface LayRecord extends Omit<Lay, 'laid'> {
  readonly laid: readonly Omit<LaidItem, 'item'>[];
}

/** The list as plain data. */
export interface CutListRecord extends Omit<CutList, 'materials'> {
  readonly format: typeof CUT_LIST_FORMAT;
  readonly version: typeof CUT_LIST_VERSION;
  readonly materials: readonly (Omit<ListedMaterial, 'items' | 'lay'> & { readonly lay: LayRecord | null })[];
}

/** The list as a record for JSON: SI, outlines left out; its form is `cutlist.schema.json`. */
export const cutListRecord = (list: CutList): CutListRecord => ({
  format: CUT_LIST_FORMAT,
  version: CUT_LIST_VERSION,
  ...list,
  materials: list.materials.map(({ items: _, lay, ...m }) => ({ ...m, lay: lay && { ...lay, laid: lay.laid.map(({ item: __, ...l }) => l) } })),
});
