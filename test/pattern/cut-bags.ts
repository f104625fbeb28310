/** Small bags for the tests of the pattern, and the ten templates. */
import { parseBag, templates } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';

export const templateBags = (): { name: string; bag: Bag }[] => templates().map((t) => ({ name: t.name, bag: parseBag(t.text) }));

/** Two panels sewn together along the edges named, each with its allowance; further keys of the first panel and of the bag. */
export function pair(panel: object, seams: Readonly<Record<string, string>>, more: { panel?: object; bag?: object; seam?: object } = {}): Bag {
  const edges = Object.keys(seams);
  return parseBag(
    JSON.stringify({
      slumpline: 1,
      name: 'pair',
      wanted: 'soft',
      panels: { front: { ...panel, ...more.panel }, back: { copy: 'front', ...more.panel } },
      seams: Object.fromEntries(edges.map((e) => [`sewn ${e}`, { join: [`front.${e}`, `back.${e}`], type: 'plain', allowance: seams[e], ...more.seam }])),
      stacks: { cloth: ['canvas10'] },
      options: { plain: { 'every panel': 'cloth' } },
      ...more.bag,
    }),
  );
}
