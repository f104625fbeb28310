import { type BagDocument, EVERY_PANEL, type Path, withValue } from '../bag/index.ts';
import type { Bag, PanelRole } from '../bag/types.ts';
import {
  changed,
  type Form,
  followersOf,
  freeName,
  listOf,
  ownerOf,
  panelForm,
  panelsOf,
  readAt,
  record,
  type Writer,
  withoutEdgeFormulas,
} from './edit-document.ts';
import type { Drawn } from './edit-outline.ts';
import { deleteStrap } from './edit-straps.ts';
import { lostWith, mapReferences, withoutReferences } from './references.ts';

/** A new panel's shape, sizes as typed. `half`: drawn on one side of its centre line and mirrored. */
export type NewShape =
  | { readonly kind: 'rectangle' | 'half'; readonly width: string; readonly height: string }
  | { readonly kind: 'circle'; readonly diameter: string }
  | { readonly kind: 'trapezoid'; readonly bottom: string; readonly top: string; readonly height: string };

/** A panel that is to be drawn: its name, its part of the bag and its shape. */
export interface NewPanel {
  readonly name: string;
  readonly role?: PanelRole;
  readonly shape: NewShape;
  /** Edges that stay open. */ readonly open?: readonly string[];
}

function shapeForm(shape: NewShape): Form {
  switch (shape.kind) {
    case 'rectangle':
      return { rectangle: { width: shape.width, height: shape.height } };
    case 'circle':
      return { circle: { diameter: shape.diameter } };
    case 'trapezoid':
      return { trapezoid: { bottom: shape.bottom, top: shape.top, height: shape.height } };
    case 'half': {
      const wide = /[-+]/.test(shape.width.trim().slice(1)) ? `(${shape.width})/2` : `${shape.width}/2`;
      return {
        half: [{ at: [0, 0], edge: 'bottom' }, { at: [wide, 0], edge: 'side' }, { at: [wide, shape.height], edge: 'top' }, { at: [0, shape.height] }],
      };
    }
  }
}

const formOf = ({ name, role, shape, open }: NewPanel): Form => ({
  ...(role && role !== name ? { role } : {}),
  ...shapeForm(shape),
  ...(open && open.length > 0 ? { open: [...open] } : {}),
});

/** A bag with one panel on the table: one cloth, lined, in one option. */
export const firstPanel = (bagName: string, panel: NewPanel): BagDocument => ({
  value: {
    slumpline: 1,
    name: bagName,
    panels: { [panel.name]: formOf(panel) },
    stacks: { 'canvas lined': ['canvas10', { loose: 'poplin' }] },
    options: { 'canvas, poplin lining': { [EVERY_PANEL]: 'canvas lined' } },
  },
});

/** A further panel on the table. Options that name a stack for each panel give it that of the first. */
export function addPanel(document: BagDocument, panel: NewPanel): BagDocument {
  const name = freeName(panel.name, Object.keys(panelsOf(document)));
  return withStacks(withValue(document, ['panels', name], formOf({ ...panel, name })), name, null);
}

/** In every option a stack for a new panel: that of `like` and of those of its regions that it has, or of the first panel named. */
function withStacks(document: BagDocument, panel: string, like: string | null, regions: readonly string[] = []): BagDocument {
  return changed(document, ['options'], (options) =>
    options === undefined
      ? undefined
      : Object.fromEntries(
          Object.entries(record(options) ?? {}).map(([option, choice]) => {
            const own = record(choice) ?? {};
            const taken = like === null ? [] : Object.entries(own).filter(([key]) => key === like || regions.some((r) => key === `${like}/${r}`));
            const named = taken.map(([key, stack]) => [`${panel}${key.slice(like?.length ?? 0)}`, stack] as const);
            const first = Object.entries(own).find(([key]) => !key.includes('/'))?.[1];
            const needs = own[EVERY_PANEL] === undefined && named.every(([key]) => key !== panel) && first !== undefined;
            return [option, { ...own, ...(needs ? { [panel]: first } : {}), ...Object.fromEntries(named) }];
          }),
        ),
  );
}

/** What a copy carries beside its outline: what is marked and finished on the panel, not where it is sewn. */
const CARRIED = ['open', 'marks', 'lines', 'regions', 'finishes', 'topstitch'] as const;

/** A copy or a mirror image of a panel, which goes on following its outline. */
export function copyPanel(
  document: BagDocument,
  panel: string,
  how: 'copy' | 'mirror',
  wanted: string,
): { readonly document: BagDocument; readonly name: string } {
  const name = freeName(wanted, Object.keys(panelsOf(document)));
  const form = panelForm(document, panel);
  // What is placed by x and y lies elsewhere on a mirror image; what is placed by its edge does not.
  const carried = CARRIED.filter((key) => form[key] !== undefined && (how === 'copy' || key === 'open' || key === 'finishes' || key === 'topstitch'));
  const made = { [how]: panel, ...Object.fromEntries(carried.map((key) => [key, form[key]])) };
  const regions = record(made.regions) ?? {};
  return { document: withStacks(withValue(document, ['panels', name], made), name, panel, Object.keys(regions)), name };
}

/** A panel that no longer follows another: its outline is written out as its own. */
export function ownShape(document: BagDocument, bag: Bag, w: Writer, panel: string): Drawn {
  const { owner, mirrored } = ownerOf(document, panel);
  if (owner === panel) return null;
  const { copy: _, mirror: __, ...own } = panelForm(document, panel);
  const theirs = panelForm(document, owner);
  const chains = { ...record(theirs.chains), ...record(own.chains) };
  const more = {
    ...(Object.keys(chains).length > 0 ? { chains } : {}),
    ...(own.grain === undefined && theirs.grain !== undefined ? { grain: theirs.grain } : {}),
    ...(theirs.holes !== undefined && !mirrored ? { holes: theirs.holes } : {}),
  };
  const shape = ['rectangle', 'trapezoid', 'circle', 'outline', 'half'].find((key) => theirs[key] !== undefined);
  if (!shape) return null;
  if (!mirrored || shape !== 'outline') return { document: withValue(document, ['panels', panel], { [shape]: theirs[shape], ...own, ...more }), notes: [] };
  // A mirror image of a written outline is written from what is drawn.
  const drawn = bag.panels.find((p) => p.name === panel);
  const outline = drawn?.outline.filter((e) => !e.name.includes('-') || listOf(theirs.outline).some((c) => record(c)?.edge === e.name));
  if (!drawn || !outline || outline.length !== drawn.outline.length) return null;
  const list = outline.map((e) => ({
    at: w.point(e.from),
    edge: e.name,
    ...(e.kind === 'arc' ? { through: w.point(e.via) } : e.kind === 'cubic' ? { curve: e.control.map((c) => w.point(c)) } : {}),
  }));
  return { document: withValue(document, ['panels', panel], { outline: list, ...own, ...more }), notes: [] };
}

/** A panel taken off the table, with its seams and straps; what followed its outline takes it over. null: it is the last one. */
export function deletePanel(document: BagDocument, bag: Bag, w: Writer, panel: string): Drawn {
  if (Object.keys(panelsOf(document)).length < 2) return null;
  const notes: string[] = [];
  let out = document;
  const [heir, ...others] = followersOf(document, panel).filter((p) => p !== panel && directly(document, p, panel));
  if (heir !== undefined) {
    const made = ownShape(out, bag, w, heir);
    if (!made) return null;
    out = made.document;
    for (const p of others)
      out = changed(out, ['panels', p], (form) => {
        const { copy: _, mirror, ...rest } = record(form) ?? {};
        const turned = (panelForm(document, heir).mirror !== undefined) !== (mirror !== undefined);
        return { [turned ? 'mirror' : 'copy']: heir, ...rest };
      });
  }
  for (const [name, strap] of Object.entries(record(out.value.straps) ?? {})) {
    const form = record(strap) ?? {};
    if (record(form.from)?.panel !== panel && record(form.to)?.panel !== panel) continue;
    // The next of its pair takes a strap over; one between two panels goes.
    const next = form.to === 'mirrored' || record(form.to)?.panel === record(form.from)?.panel ? listOf(form['also on']).find((p) => p !== panel) : undefined;
    if (typeof next === 'string') {
      const on = (end: unknown): unknown => (record(end) ? { ...record(end), panel: next } : end);
      out = withValue(out, ['straps', name], { ...form, from: on(form.from), to: on(form.to), 'also on': listOf(form['also on']).filter((p) => p !== next) });
      // The next one goes by the name of the first, which carries nothing any more.
      out = mapReferences(out, (ref) => {
        if (ref.kind !== 'strap') return ref;
        return ref.name === name ? null : ref.name === `${name} on ${next}` ? { ...ref, name } : ref;
      });
    } else {
      out = deleteStrap(out, name);
      notes.push(`Strap ${name} is taken off with it.`);
    }
  }
  out = withoutEdgeFormulas(out, w, panel, null);
  const undone = withoutReferences(out, (ref) => ref.panel === panel);
  notes.push(...undone.lost.filter((l) => l.what === 'seams').map((l) => `Seam ${l.name} is unpicked with it.`), ...lostWith(undone.lost));
  return { document: undone.document, notes };
}

const directly = (document: BagDocument, panel: string, model: string): boolean =>
  [panelForm(document, panel).copy, panelForm(document, panel).mirror].includes(model);

/** Another name for a panel, wherever it is written. */
export function renamePanel(document: BagDocument, panel: string, wanted: string): BagDocument {
  const now = wanted.trim();
  return mapReferences(document, (ref) => (ref.panel === panel ? { ...ref, panel: now } : ref));
}

/** An edge named as open, or no longer. Where the file did not list them, those that are open by their names are listed now. */
export function openEdge(document: BagDocument, bag: Bag, panel: string, edge: string, open: boolean): BagDocument {
  const path: Path = ['panels', panel, 'open'];
  const written = readAt(document, path);
  const form = bag.panels.find((p) => p.name === panel);
  const before = Array.isArray(written) ? written.map(String) : [...(form?.openings ?? [])];
  const members = (name: string): readonly string[] => form?.chains[name] ?? [name];
  if (open) return withValue(document, path, before.some((name) => members(name).includes(edge)) ? before : [...before, edge]);
  const shut = members(edge);
  const left = before.flatMap((name) => (members(name).some((m) => shut.includes(m)) ? members(name).filter((m) => !shut.includes(m)) : [name]));
  return withValue(document, path, left);
}
