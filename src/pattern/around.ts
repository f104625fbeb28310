import type { Draft } from '../panels/types.ts';
import { partsOf } from './edit-document.ts';

/** Free edges that follow one another in the sewn bag. */
export interface Around {
  /** "front.top", each in its own direction. */ readonly refs: readonly string[];
  /** The last one ends where the first begins. */ readonly ring: boolean;
}

/**
 * The free edges that run on from one another where seams end, one way round, from an edge that no seam takes up: a bag's mouth, mostly. Only whole edges
 * of outlines are gone along. null: there is no such edge.
 */
export function aroundFrom(draft: Draft, ref: string): Around | null {
  const { panel, edge } = partsOf(ref);
  const p = draft.panels.findIndex((d) => d.name === panel);
  const first = draft.panels[p]?.edges.findIndex((e) => e.name === edge && e.loop === 0) ?? -1;
  const sewn = new Set(draft.seams.flatMap((s) => s.sides.flatMap((side) => side.runs.map((r) => `${r.panel} ${r.edge}`))));
  if (first < 0 || sewn.has(`${p} ${first}`)) return null;
  // Corners by the edge that leaves them; those that a seam's ends bring together are one.
  const same = new Map<string, string>();
  const root = (corner: string): string => {
    let at = corner;
    for (let next = same.get(at); next !== undefined; next = same.get(at)) at = next;
    return at;
  };
  const corner = (panelAt: number, edgeAt: number, fraction: number): string | null =>
    fraction < 1e-9 ? `${panelAt} ${edgeAt}` : fraction > 1 - 1e-9 ? `${panelAt} ${draft.panels[panelAt]!.edges[edgeAt]!.next}` : null;
  for (const { sides } of draft.seams)
    for (const end of [0, 1] as const) {
      const [a, b] = sides.map(({ runs }) => {
        const run = runs[end === 0 ? 0 : runs.length - 1]!;
        return corner(run.panel, run.edge, run.forward === (end === 0) ? run.from : run.to);
      });
      if (a && b && root(a) !== root(b)) same.set(root(a), root(b));
    }
  const free = draft.panels.flatMap((d, k) => d.edges.flatMap((e, i) => (e.loop === 0 && !sewn.has(`${k} ${i}`) ? [[k, i] as const] : [])));
  const refs: string[] = [];
  let [k, i] = [p, first];
  for (let n = 0; n < free.length; n++) {
    refs.push(`${draft.panels[k]!.name}.${draft.panels[k]!.edges[i]!.name}`);
    const end = root(`${k} ${draft.panels[k]!.edges[i]!.next}`);
    const next = free.find(([a, b]) => root(`${a} ${b}`) === end);
    if (!next) return { refs, ring: false };
    if (next[0] === p && next[1] === first) return { refs, ring: true };
    [k, i] = next;
    if (refs.includes(`${draft.panels[k]!.name}.${draft.panels[k]!.edges[i]!.name}`)) return { refs, ring: false };
  }
  return { refs, ring: false };
}
