import type { Bag } from '../bag/types.ts';
import { locate } from './locate.ts';
import type { BagMesh } from './types.ts';
import type { Welded } from './weld.ts';

/** Marks located in the mesh: triangle and barycentric weights. */
export const locateMarks = (bag: Bag, welded: Welded): BagMesh['marks'] =>
  bag.panels.flatMap((panel, p) =>
    panel.marks.map((mark) => {
      const { tri, weights } = locate(welded, p, mark.at);
      return { name: mark.name, panel: p, tri, weights };
    }),
  );
