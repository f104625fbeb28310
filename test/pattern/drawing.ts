/** Edits of a bag one after another, as the drafting table makes them. */
import { type BagDocument, checkPattern, type DrawEdit, draftPanels, type Edited, edited } from '../../src/index.ts';

export type Open = { readonly document: BagDocument; readonly bag: Edited['bag'] };
export const draw = (from: Open, ...edits: readonly DrawEdit[]): Edited =>
  edits.reduce<Edited>((now, edit) => {
    const next = edited(now.document, now.bag, edit, 'mm');
    if (!next) throw new Error(`nothing came of ${JSON.stringify(edit)}`);
    return next;
  }, from as Edited);
export const faults = ({ bag }: Open): string[] => checkPattern(bag, draftPanels(bag)).faults.map((f) => f.text);
