/** Edges as an option finishes them: a leather rim is turned once where the canvas one is hemmed. */
import { isLeather } from './leather.ts';
import type { Bag, BagOption, EdgeFinish } from './types.ts';

type Cloths = Pick<Bag, 'finishes' | 'stacks' | 'materials'>;

/** Is the outer layer that an option gives a panel leather? A stack stated by its figures is not. */
function inLeather({ stacks, materials }: Cloths, option: Pick<BagOption, 'stacks'>, panel: string): boolean {
  const stack = stacks.find((s) => s.name === option.stacks[panel]);
  return stack?.kind === 'layers' && isLeather({ materials }, stack.layers[0]!.material);
}

/** Finishes of open edges in one option: as stated for leather where the panel's outer layer is leather, else as written. */
export const finishesIn = (bag: Cloths, option: Pick<BagOption, 'stacks'>): readonly EdgeFinish[] =>
  (bag.finishes ?? []).map(({ leather, ...finish }) => (leather && inLeather(bag, option, finish.panel) ? { ...finish, ...leather } : finish));

/** The bag with the finishes of one option; the same bag where no finish depends on what a panel is made of. */
export const finishedAs = (bag: Bag, option: Pick<BagOption, 'stacks'>): Bag =>
  bag.finishes?.some((f) => f.leather !== undefined) ? { ...bag, finishes: finishesIn(bag, option) } : bag;
