import { type BagDocument, withValue } from '../bag/index.ts';
import { changed, type Form, followersOf, freeName, listOf, panelForm, record, sidesOf, type Writer, withoutEdgeFormulas, withSides } from './edit-document.ts';
import { lostWith, withoutReferences } from './references.ts';

/** What became of edges: each old name with the edges that lie there now, in the order of the outline; an empty list: it is gone. */
export type EdgeMap = ReadonlyMap<string, readonly string[]>;

/**
 * The document after edges of a panel (and of all that follow it) were cut up, joined or taken away. What was written with an old name goes on to be
 * true: the name becomes a chain of the new edges. Where nothing is left of an edge, what was written of it is taken out, seams among it; `notes` says so.
 */
export function relinked(document: BagDocument, writer: Writer, owner: string, edges: EdgeMap): { readonly document: BagDocument; readonly notes: string[] } {
  const notes: string[] = [];
  let out = document;
  const gone = [...edges].filter(([, now]) => now.length === 0).map(([name]) => name);
  for (const panel of followersOf(document, owner)) {
    out = changed(out, ['panels', panel], (before) => panelRelinked(record(before) ?? {}, edges, panel === owner));
    for (const name of gone) {
      out = withoutEdgeFormulas(out, writer, panel, name);
      const undone = withoutReferences(out, (ref) => ref.kind === 'edge' && ref.panel === panel && ref.name === name);
      out = undone.document;
      for (const { what, name: seam } of undone.lost) if (what === 'seams') notes.push(`Seam ${seam} is unpicked: ${panel} has no edge "${name}" any more.`);
      notes.push(...lostWith(undone.lost));
    }
  }
  return { document: out, notes };
}

function panelRelinked(form: Form, edges: EdgeMap, owner: boolean): Form {
  const moved = (name: string): readonly string[] => edges.get(name) ?? [name];
  const chains = Object.fromEntries(
    Object.entries(record(form.chains) ?? {})
      .map(([name, members]) => [name, listOf(members).flatMap((m) => moved(String(m)))] as const)
      .filter(([, members]) => members.length > 0),
  );
  if (owner) for (const [name, now] of edges) if (now.length > 0 && !(now.length === 1 && now[0] === name) && !now.includes(name)) chains[name] = [...now];
  const out: Record<string, unknown> = { ...form };
  if (Object.keys(chains).length > 0) out.chains = chains;
  else delete out.chains;
  return out;
}

/** A chain that says which edges were meant, put where a rounding came between two edges that follow each other in a side of a seam. */
export function withRounding(document: BagDocument, owner: string, before: string, after: string, arc: string): BagDocument {
  const panels = followersOf(document, owner);
  const within = (list: readonly string[], name: (edge: string) => string): string[] =>
    list.flatMap((ref, i) => {
      const next = list[i + 1];
      const meets = (ref === name(before) && next === name(after)) || (ref === name(after) && next === name(before));
      return meets ? [ref, name(arc)] : [ref];
    });
  let out = changed(document, ['seams'], (seams) =>
    seams === undefined
      ? undefined
      : Object.fromEntries(
          Object.entries(record(seams) ?? {}).map(([name, seam]) => {
            const sides = sidesOf(seam);
            const made = sides.map((side) => panels.reduce<string[]>((list, p) => within(list, (e) => `${p}.${e}`), side));
            return [name, made.every((side, i) => side.length === sides[i].length) ? seam : withSides(seam, made)];
          }),
        ),
  );
  for (const panel of panels) {
    const chains = record(panelForm(out, panel).chains);
    if (!chains) continue;
    const made = Object.fromEntries(Object.entries(chains).map(([name, members]) => [name, within(listOf(members).map(String), (e) => e)]));
    out = withValue(out, ['panels', panel, 'chains'], made);
  }
  return out;
}

/** A name for a new edge that neither an edge nor a chain of the panel has. */
export const freeEdge = (wanted: string, edges: readonly string[], form: Form): string =>
  freeName(wanted, [...edges, ...Object.keys(record(form.chains) ?? {})]);
