import { type Bag, loadDrop } from './core.ts';

/** What the workers that keep bags in motion have in common. */

/** Lets messages and the clock through; a plain loop would send the whole fall at once. */
export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** What lets things in the bag fall, where there are any: a chunk of its own. */
export async function dropFor(bag: Bag, stance: string): Promise<{ drop?: Awaited<ReturnType<typeof loadDrop>> }> {
  const on = bag.stances.find((s) => s.name === stance);
  return on && on.kind !== 'held' && on.contents ? { drop: await loadDrop() } : {};
}
