/** Where a bag file names panels, edges, lines, marks, straps and closures: one table of all such places, one walk over them. */
import { type BagDocument, EVERY_PANEL } from '../bag/index.ts';
import { listOf, panelForm, partsOf, record } from './edit-document.ts';

type ReferenceKind = 'panel' | 'edge' | 'line' | 'mark' | 'region' | 'strap' | 'closure';

/** One name of something, wherever it is written. */
export interface Reference {
  readonly kind: ReferenceKind;
  /** The panel named or meant; '' of straps and closures of no panel. */ readonly panel: string;
  /** Edge, chain, line, mark, region, strap or closure; '' of a panel itself. */ readonly name: string;
  /** Of a stretch or a place on an edge: "[10%..90%]". */ readonly rest: string;
}

/** How a place is read. own: an edge of the panel it stands in. place: a point, or a place on an edge. along: an edge or a drawn line. option: "front/casing". */
type Reading = 'panel' | 'own' | 'place' | 'places' | 'edge' | 'along' | 'mark' | 'option' | 'strap' | 'closure';

/**
 * Places of the file that name something, as paths: `*` is any name; the numbers of lists are left out. Under `keys` those where the name is a key.
 * A test goes over the schema: every text of it is either here or known to be none.
 */
export const REFERENCES: { readonly values: Readonly<Record<string, Reading>>; readonly keys: Readonly<Record<string, Reading>> } = {
  values: {
    'panels.*.copy': 'panel',
    'panels.*.mirror': 'panel',
    'panels.*.open': 'own',
    'panels.*.chains.*': 'own',
    'panels.*.marks.*': 'place',
    'panels.*.clips.edge': 'own',
    'panels.*.clips.point': 'place',
    'panels.*.regions.*.along': 'own',
    'panels.*.topstitch.along': 'own',
    'seams.*': 'edge',
    'seams.*.join': 'edge',
    'seams.*.gather.from': 'mark',
    'seams.*.gather.to': 'mark',
    'straps.*.from.panel': 'panel',
    'straps.*.to.panel': 'panel',
    'straps.*.also on': 'panel',
    'members.*.along': 'along',
    'hardware.*.panel': 'panel',
    'hardware.*.at': 'places',
    'closures.*.from.panel': 'panel',
    'closures.*.from.at': 'place',
    'closures.*.to.panel': 'panel',
    'closures.*.to.at': 'place',
    'closures.*.join': 'edge',
    'closures.*.along': 'edge',
    'stances.*.straps': 'strap',
    'stances.*.closed': 'closure',
  },
  keys: { panels: 'panel', 'panels.*.finishes': 'own', 'options.*': 'option' },
};

/** Whoever loses one of these is gone itself: a row of stitches without its edge, a magnet without its panel. What is not here loses its key alone. */
const NEEDED = new Set([
  'panels.*.clips.edge',
  'panels.*.clips.point',
  'panels.*.regions.*.along',
  'panels.*.topstitch.along',
  'seams.*.join',
  'seams.*.gather.from',
  'seams.*.gather.to',
  'straps.*.from',
  'straps.*.from.panel',
  'straps.*.to',
  'straps.*.to.panel',
  'members.*.along',
  'hardware.*.panel',
  'hardware.*.at',
  'closures.*.from',
  'closures.*.from.panel',
  'closures.*.from.at',
  'closures.*.to',
  'closures.*.to.panel',
  'closures.*.to.at',
  'closures.*.join',
  'closures.*.along',
]);
/** Half a zip or a broken channel is none: one stretch lost is all lost. */
const WHOLE = new Set(['closures.*.join', 'closures.*.along']);
/** Two sides make a seam. */
const PAIRS = new Set(['seams.*', 'seams.*.join']);
/** An empty list or record means something here, or is wanted. */
const EMPTY = new Set(['', 'panels', 'panels.*', 'panels.*.open', 'seams', 'options', 'options.*', 'stacks', 'stances', 'stances.*']);
/** Records whose keys are the maker's own names. */
const NAMED = new Set([
  'panels',
  'panels.*.chains',
  'panels.*.marks',
  'panels.*.regions',
  'panels.*.lines',
  'panels.*.finishes',
  'seams',
  'straps',
  'members',
  'hardware',
  'closures',
  'materials',
  'stacks',
  'options',
  'options.*',
  'stances',
  'parameters',
  'labels',
]);

const GONE = Symbol('gone');
const IN_FORMULA = /((?:edge|length)\s*\(\s*)([^.()[\]]+?)(\s*\.\s*)([^[\]()]+)/g;

/**
 * The document with every name in it run through `change`, which answers what stands there now, or null where what is named is gone: then what cannot be
 * without it goes too (a seam its side, a zip its edge, a piece of hardware its panel). Names in formulas, `edge(front.top)`, are changed and never taken out:
 * write those of what goes as figures first. What is not changed stays as it was written.
 */
export function mapReferences(document: BagDocument, change: (ref: Reference) => Reference | null): BagDocument {
  const formulas = (text: string): string =>
    /edge|length/.test(text)
      ? text.replace(IN_FORMULA, (found, open: string, panel: string, dot: string, name: string) => {
          const now = change({ kind: 'edge', panel, name: name.trim(), rest: '' });
          return now === null ? found : `${open}${now.panel}${dot}${name.replace(name.trim(), now.name)}`;
        })
      : text;
  const read = (text: string, how: Reading, home: string): string | typeof GONE => {
    const ref = referenceOf(document, text, how, home);
    const now = ref && change(ref);
    if (ref && !now) return GONE;
    return formulas(!ref || !now || (now.panel === ref.panel && now.name === ref.name) ? text : textOf(text, how, now));
  };
  const walk = (value: unknown, path: string, home: string, depth: number): unknown => {
    const how = REFERENCES.values[path];
    if (typeof value === 'string') return how ? read(value, how, home) : formulas(value);
    // [x, y]: two lengths.
    if (Array.isArray(value) && (how === 'place' || (how === 'places' && depth === 1))) return value.map((v) => (typeof v === 'string' ? formulas(v) : v));
    if (Array.isArray(value)) {
      const now = value.map((v) => walk(v, path, home, depth + 1));
      const kept = now.filter((v) => v !== GONE);
      const least = PAIRS.has(path) && depth === 0 ? 2 : EMPTY.has(path) ? 0 : 1;
      return kept.length < now.length && (kept.length < least || WHOLE.has(path)) ? GONE : kept;
    }
    const form = record(value);
    if (!form) return value;
    const own = typeof form.panel === 'string' ? form.panel : home;
    const keys = REFERENCES.keys[path];
    const entries: [string, unknown][] = [];
    let lost = false;
    for (const [key, v] of Object.entries(form)) {
      const inside = NAMED.has(path) ? `${path}.*` : path === '' ? key : `${path}.${key}`;
      const name = keys ? read(key, keys, own) : key;
      const now = name === GONE ? GONE : walk(v, inside, path === 'panels' ? key : own, 0);
      if (name !== GONE && now !== GONE) entries.push([name as string, now]);
      else if (NEEDED.has(inside)) return GONE;
      else lost = true;
    }
    return lost && entries.length === 0 && !EMPTY.has(path) ? GONE : Object.fromEntries(entries);
  };
  return { value: walk(document.value, '', '', 0) as BagDocument['value'] };
}

/** What a written name stands for; null where it stands for none, as "every panel" does. */
function referenceOf(document: BagDocument, text: string, how: Reading, home: string): Reference | null {
  const none = { name: '', rest: '' };
  switch (how) {
    case 'panel':
      return { kind: 'panel', panel: text, ...none };
    case 'option': {
      const [panel, region] = split(text, '/');
      return text === EVERY_PANEL ? null : region === null ? { kind: 'panel', panel, ...none } : { kind: 'region', panel, name: region, rest: '' };
    }
    case 'closure':
      return { kind: 'closure', panel: '', name: text, rest: '' };
    case 'strap': {
      // A pair's copy goes by the strap's name and its own panel.
      const family = Object.entries(record(document.value.straps) ?? {}).find(
        ([name, form]) => text.startsWith(`${name} on `) && listOf(record(form)?.['also on']).includes(text.slice(name.length + 4)),
      )?.[0];
      return family === undefined
        ? { kind: 'strap', panel: '', name: text, rest: '' }
        : { kind: 'strap', panel: text.slice(family.length + 4), name: family, rest: '' };
    }
    default: {
      const { panel, edge, rest } = partsOf(text.split('[')[0]?.includes('.') ? text : `${home}.${text}`);
      const kind = how === 'mark' ? 'mark' : how === 'along' && record(panelForm(document, panel).lines)?.[edge] !== undefined ? 'line' : 'edge';
      return { kind, panel, name: edge, rest };
    }
  }
}

/** How a reference is written where `before` stood. */
function textOf(before: string, how: Reading, { kind, panel, name, rest }: Reference): string {
  if (kind === 'panel') return panel;
  if (kind === 'region') return `${panel}/${name}`;
  if (kind === 'closure') return name;
  if (kind === 'strap') return panel === '' ? name : `${name} on ${panel}`;
  const own = (how === 'own' || how === 'place' || how === 'places') && !before.split('[')[0]?.includes('.');
  return `${own ? '' : `${panel}.`}${name}${rest}`;
}

function split(text: string, sign: string): readonly [string, string | null] {
  const at = text.indexOf(sign);
  return at < 0 ? [text, null] : [text.slice(0, at), text.slice(at + 1)];
}

/** Records whose entries hang on panels and edges, and what one of them is called. */
const ENTRIES = { seams: 'Seam', straps: 'Strap', members: 'Line', hardware: 'Hardware', closures: 'Closure' } as const;

/** What an edit has taken out beside what was asked, by its record. */
export interface Lost {
  readonly what: keyof typeof ENTRIES;
  readonly name: string;
}

/**
 * The document without what `gone` names, and without what cannot be without it; a closure or a strap that goes is closed and hung from in no stance any
 * more. Lengths of edges that formulas ask for are to be figures already.
 */
export function withoutReferences(
  document: BagDocument,
  gone: (ref: Reference) => boolean,
): { readonly document: BagDocument; readonly lost: readonly Lost[] } {
  const first = mapReferences(document, (ref) => (gone(ref) ? null : ref));
  const lost = (Object.keys(ENTRIES) as Lost['what'][]).flatMap((what) =>
    Object.keys(record(document.value[what]) ?? {}).flatMap((name) => (record(first.value[what])?.[name] === undefined ? [{ what, name }] : [])),
  );
  const taken = (what: Lost['what'], name: string): boolean => lost.some((l) => l.what === what && l.name === name);
  const inside = (d: BagDocument, { panel, name }: Reference, key: string): boolean => record(panelForm(d, panel)[key])?.[name] !== undefined;
  const out = mapReferences(first, (ref) => {
    const key = INSIDE[ref.kind];
    const lone = ref.kind === 'strap' ? taken('straps', ref.name) : ref.kind === 'closure' && taken('closures', ref.name);
    return lone || (key !== undefined && inside(document, ref, key) && !inside(first, ref, key)) ? null : ref;
  });
  return { document: out, lost };
}

/** What of a panel is named elsewhere and can go with an edge of it. */
const INSIDE: Partial<Record<ReferenceKind, string>> = { mark: 'marks', region: 'regions' };

/** A sentence of each thing that was lost with something else, but for seams, of which the caller says why. */
export const lostWith = (lost: readonly Lost[]): string[] =>
  lost.filter((l) => l.what !== 'seams').map(({ what, name }) => `${ENTRIES[what]} ${name} is taken off with it.`);
