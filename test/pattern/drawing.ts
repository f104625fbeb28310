/** Edits of a bag one after another, as the drafting table makes them. */
import { type BagDocument, checkPattern, type DrawEdit, draftPanels, type Edited, edited, startedBag } from '../../src/index.ts';

export type Open = { readonly document: BagDocument; readonly bag: Edited['bag'] };
export const draw = (from: Open, ...edits: readonly DrawEdit[]): Edited =>
  edits.reduce<Edited>((now, edit) => {
    const next = edited(now.document, now.bag, edit, 'mm');
    if (!next) throw new Error(`nothing came of ${JSON.stringify(edit)}`);
    return next;
  }, from as Edited);
export const faults = ({ bag }: Open): string[] => checkPattern(bag, draftPanels(bag)).faults.map((f) => f.text);

/** A bag of one panel, open at the top. */
export const front = (width = '300 mm', height = '240 mm') => startedBag('Mine', { name: 'front', shape: { kind: 'rectangle', width, height }, open: ['top'] });
const rectangle = (name: string, width: string, height: string, open: string[] = []): DrawEdit => ({
  do: 'panel',
  panel: { name, shape: { kind: 'rectangle', width, height }, open },
});
export const stitch = (a: string, b: string): DrawEdit => ({ do: 'sew', sides: [[a], [b]] });

/** Five panels, sewn as a box 300 x 240 x 100 mm with an open top. */
export const box = (): Edited =>
  draw(
    front(),
    { do: 'copy', panel: 'front', name: 'back' },
    rectangle('left', '100 mm', 'edge(front.left)', ['top']),
    { do: 'copy', panel: 'left', name: 'right' },
    rectangle('base', 'edge(front.bottom)', 'edge(left.bottom)'),
    stitch('front.bottom', 'base.bottom'),
    stitch('back.bottom', 'base.top'),
    stitch('left.bottom', 'base.right'),
    stitch('right.bottom', 'base.left'),
    stitch('front.right', 'right.left'),
    stitch('right.right', 'back.left'),
    stitch('back.right', 'left.left'),
    stitch('left.right', 'front.left'),
  );
