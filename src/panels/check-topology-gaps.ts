import type { Bag } from '../bag/types.ts';
import { type FoundRun, findRuns, placeKey, SewnPlaces, sideEnds } from './chains.ts';
import { listed } from './check-topology-pieces.ts';
import { advised, type FindingList, millimetres } from './findings.ts';
import type { Draft } from './types.ts';

/**
 * Sides of seams that run on from edge to edge of one panel and leave out edges between: the arcs of rounded corners, most often. A fault when
 * nothing else takes up what is left out; left-out edges that are sewn elsewhere or named as openings are meant. Returns the edges told, as
 * "panel:edge".
 */
export function checkGaps(bag: Bag, draft: Draft, findings: FindingList): Set<string> {
  const told = new Set<string>();
  const skips = gapFinder(bag, draft);
  for (const seam of bag.seams)
    for (const side of seam.sides) {
      const runs = findRuns(draft.panels, side, seam.name);
      // Runs of one panel that follow each other, with what is left out between them.
      for (let first = 0; first < runs.length; ) {
        let end = first + 1;
        while (end < runs.length && runs[end].panel === runs[first].panel) end++;
        const p = runs[first].panel;
        const gaps = runs.slice(first, end).map((run, i) => (i === 0 ? [] : skips(runs[first + i - 1], run)));
        const chain = gaps.flatMap((gap, i) => [...gap, runs[first + i].edge]);
        first = end;
        const missing = gaps.flat();
        if (missing.every((e) => told.has(`${p}:${e}`))) continue;
        for (const e of missing) told.add(`${p}:${e}`);
        const { name, edges } = draft.panels[p];
        const length = missing.reduce((sum, e) => sum + edges[e].length, 0);
        const quoted = (list: readonly number[]): string => [...new Set(list)].map((e) => `"${edges[e].name}"`).join(', ');
        const kept = chain.filter((e) => !missing.includes(e)).map((e) => edges[e].name);
        findings.fault(
          advised(
            { kind: 'chain gap', panel: name, edge: edges[missing[0]].name, seam: seam.name, value: length, figure: millimetres(length) },
            `Seam ${seam.name} goes along ${listed([...new Set(kept)])} of panel ${name}${chainOf(bag, p, kept)} and leaves out ${listed(missing.map((e) => edges[e].name))} between them, ${millimetres(length)} of edge.`,
            `${quoted(chain)} in a row, or ${quoted(missing)} under "open" of panel ${name}`,
          ),
        );
      }
    }
  return told;
}

/** The name of the panel's chain that is written like this, as an aside; '' where none is. */
function chainOf(bag: Bag, panel: number, names: readonly string[]): string {
  const found = Object.entries(bag.panels[panel].chains).find(([, edges]) => edges.join('\n') === names.join('\n'));
  return found ? ` (its chain "${found[0]}")` : '';
}

/** What is left out between two runs of one panel, in the order of the chain: free edges all of them, or none. */
function gapFinder(bag: Bag, draft: Draft): (x: FoundRun, y: FoundRun) => number[] {
  const used = new Set(draft.seams.flatMap((s) => s.sides.flatMap((side) => side.runs.map((r) => `${r.panel}:${r.edge}`))));
  const sewn = new SewnPlaces();
  for (const seam of draft.seams) {
    const [a, b] = seam.sides.map((side) => sideEnds(draft.panels, side));
    sewn.join(a[0], b[0]);
    sewn.join(a[1], b[1]);
  }
  return (x, y) => {
    if (x.edge === y.edge) return [];
    const at = (edge: number, fraction: number): number => sewn.find(placeKey(draft.panels, x.panel, edge, fraction));
    if (at(x.edge, x.to) === at(y.edge, y.from) || at(x.edge, x.from) === at(y.edge, y.to)) return [];
    const ways: number[][] = [];
    if (x.to === 1 && y.from === 0) ways.push(between(draft, x.panel, x.edge, y.edge));
    if (x.from === 0 && y.to === 1) ways.push(between(draft, x.panel, y.edge, x.edge).reverse());
    const { edges } = draft.panels[x.panel];
    const free = (e: number): boolean => !used.has(`${x.panel}:${e}`) && !bag.panels[x.panel].openings.includes(edges[e].name);
    return ways.filter((way) => way.every(free)).sort((a, b) => a.length - b.length)[0] ?? [];
  };
}

/** Edges that follow `from` round its loop up to `to`, both left out; none when they are on different loops. */
function between(draft: Draft, panel: number, from: number, to: number): number[] {
  const { edges } = draft.panels[panel];
  const found: number[] = [];
  if (edges[from].loop === edges[to].loop) for (let e = edges[from].next; e !== to; e = edges[e].next) found.push(e);
  return found;
}
