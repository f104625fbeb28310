import { type BagDocument, withValue } from '../bag/index.ts';
import {
  changed,
  type Form,
  followersOf,
  freeName,
  listOf,
  panelForm,
  partsOf,
  record,
  sidesOf,
  type Writer,
  withoutEdgeFormulas,
  withSides,
} from './edit-document.ts';

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
      const undone = withoutStretches(out, (ref) => ref.panel === panel && ref.edge === name);
      out = undone.document;
      notes.push(...undone.gone.map((seam) => `Seam ${seam} is unpicked: ${panel} has no edge "${name}" any more.`));
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
  const lost = (name: string): boolean => edges.get(partsOf(`.${name}`).edge)?.length === 0;
  const out: Record<string, unknown> = { ...form };
  if (Object.keys(chains).length > 0) out.chains = chains;
  else delete out.chains;
  if (Array.isArray(form.open)) out.open = form.open.filter((e) => !lost(String(e)));
  for (const key of ['finishes', 'marks', 'regions'] as const) {
    const entries = record(form[key]);
    if (!entries) continue;
    const written = (name: string, v: unknown): unknown => (key === 'finishes' ? name : key === 'marks' ? v : record(v)?.along);
    const kept = Object.entries(entries).filter(([name, v]) => ![written(name, v)].flat().some((e) => typeof e === 'string' && lost(e)));
    if (kept.length > 0) out[key] = Object.fromEntries(kept);
    else delete out[key];
  }
  for (const key of ['clips', 'topstitch'] as const) {
    if (!Array.isArray(form[key])) continue;
    const kept = (form[key] as unknown[]).filter((v) => ![record(v)?.edge ?? record(v)?.along ?? ''].flat().some((e) => typeof e === 'string' && lost(e)));
    if (kept.length > 0) out[key] = kept;
    else delete out[key];
  }
  return out;
}

/** The document without the stretches that `lost` names; seams of which a side is gone are unpicked. */
export function withoutStretches(
  document: BagDocument,
  lost: (ref: { readonly panel: string; readonly edge: string }) => boolean,
): { readonly document: BagDocument; readonly gone: string[] } {
  const gone: string[] = [];
  const seams = Object.entries(record(document.value.seams) ?? {}).flatMap(([name, seam]): [string, unknown][] => {
    const sides = sidesOf(seam);
    if (!sides.flat().some((ref) => lost(partsOf(ref)))) return [[name, seam]];
    const left = sides.map((side) => side.filter((ref) => !lost(partsOf(ref)))).filter((side) => side.length > 0);
    if (left.length >= 2) return [[name, withSides(seam, left)]];
    gone.push(name);
    return [];
  });
  return { document: document.value.seams === undefined ? document : withValue(document, ['seams'], Object.fromEntries(seams)), gone };
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
