import { type BagDocument, parseBagDocument, withValue } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { checkPattern, draftPanels, type Finding } from '../panels/index.ts';
import { changed, freeLetter, freeName, opposite, panelForm, panelsOf, partsOf, record, sidesOf, type Writer, withSides } from './edit-document.ts';
import type { Drawn } from './edit-outline.ts';
import { addPanel, openEdge } from './edit-panels.ts';

/** What of a seam can be chosen after it is sewn; null takes a choice back to what is usual. */
export interface SeamChoice {
  readonly type?: string | null;
  readonly allowance?: string | null;
  readonly pressed?: string | null;
  readonly gather?: string | number | null;
}

const seamNames = (document: BagDocument): string[] => Object.keys(record(document.value.seams) ?? {});

/** Findings that come of a seam sewn the wrong way round or in the wrong order, not of one that is still to be sewn. */
const WRONG: readonly Finding['kind'][] = [
  'chain broken',
  'twisted',
  'mirrored',
  'crossed',
  'ring',
  'turned round',
  'ring open',
  'sewn over',
  'sewn twice',
  'mouth sewn',
  'angle sum',
  'corners apart',
];

/** How wrong a bag is sewn: wrong seams count one, doubtful ones a tenth. A bag that cannot be read is the worst. */
function wrongs(document: BagDocument): number {
  try {
    const { bag } = parseBagDocument(document.value);
    const { faults, warnings } = checkPattern(bag, draftPanels(bag));
    const count = (list: readonly Finding[]): number => list.filter((f) => WRONG.includes(f.kind)).length;
    return count(faults) + 0.1 * count(warnings);
  } catch {
    return Number.POSITIVE_INFINITY;
  }
}

/** The first of some documents that is sewn least wrong. */
const best = <T extends { readonly document: BagDocument }>(candidates: readonly T[]): T => {
  let found = candidates[0];
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const wrong = wrongs(candidate.document);
    if (wrong < least - 1e-9) [found, least] = [candidate, wrong];
    if (least === 0) break;
  }
  return found;
};

/**
 * Stretches of one panel in the order in which they lie, with the arcs of rounded corners between them; stretches of several panels, and edges that do not
 * follow one another, as they were picked.
 */
function runOn(bag: Bag, picked: readonly string[]): string[] {
  const refs = picked.map(partsOf);
  const panel = bag.panels.find((p) => p.name === refs[0]?.panel);
  if (!panel || picked.length < 2 || refs.some((r) => r.panel !== panel.name || r.rest !== '')) return [...picked];
  const names = panel.outline.map((e) => e.name);
  const wanted = new Set(refs.flatMap((r) => panel.chains[r.edge] ?? [r.edge]));
  const isArc = (name: string): boolean =>
    name.includes('-') &&
    names.some((a) =>
      names.some((b) => name === `${a}-${b}` || name.replace(/ (left|right)$/, '') === `${a.replace(/ (left|right)$/, '')}-${b.replace(/ (left|right)$/, '')}`),
    );
  // Once round from an edge that is not wanted, so that a run is not cut where the list begins.
  const start = names.findIndex((name) => !wanted.has(name) && !isArc(name));
  const round = start < 0 ? names : [...names.slice(start), ...names.slice(0, start)];
  const filled = round.filter((name, i) => wanted.has(name) || (isArc(name) && wanted.has(round[i - 1] ?? '') && wanted.has(round[(i + 1) % round.length])));
  const first = filled.length > 0 ? round.indexOf(filled[0]) : -1;
  if (filled.some((name, i) => round.indexOf(name) !== first + i)) return [...picked];
  // Picked from the other end: sewn from there.
  const [a, b] = [refs[0], refs[refs.length - 1]].map((r) => filled.indexOf((panel.chains[r.edge] ?? [r.edge])[0]));
  const list = filled.map((name) => `${panel.name}.${name}`);
  return a > b ? list.reverse() : list;
}

/** The document in which stretches that are to be sewn are neither named as open nor finished as open edges are. */
function readied(document: BagDocument, bag: Bag, refs: readonly string[]): { readonly document: BagDocument; readonly notes: string[] } {
  let out = document;
  const notes: string[] = [];
  for (const { panel, edge } of refs.map(partsOf)) {
    const drawn = bag.panels.find((p) => p.name === panel);
    const members = drawn?.chains[edge] ?? [edge];
    for (const member of members)
      if (drawn?.openings.includes(member) && Array.isArray(panelForm(out, panel).open)) out = openEdge(out, bag, panel, member, false);
    const finishes = record(panelForm(out, panel).finishes);
    const hit = Object.keys(finishes ?? {}).filter((key) =>
      (drawn?.chains[partsOf(`.${key}`).edge] ?? [partsOf(`.${key}`).edge]).some((e) => members.includes(e)),
    );
    for (const key of hit) {
      const left = Object.fromEntries(Object.entries(record(panelForm(out, panel).finishes) ?? {}).filter(([k]) => k !== key));
      out = withValue(out, ['panels', panel, 'finishes'], Object.keys(left).length > 0 ? left : undefined);
      notes.push(`The finish of ${panel}.${key} is taken off: the edge is sewn now.`);
    }
  }
  return { document: out, notes };
}

/**
 * Two sides sewn together. Which way round, and in which order a side of several stretches is taken, is found by trying: the first way in which the pattern
 * check finds least that is wrong.
 */
export function sewSides(
  document: BagDocument,
  bag: Bag,
  sides: readonly [readonly string[], readonly string[]],
  wanted?: string,
): NonNullable<Drawn> & { readonly seam: string } {
  const [a, b] = sides.map((side) => runOn(bag, side));
  const ready = readied(document, bag, [...a, ...b]);
  const taken = seamNames(document);
  const seam = wanted === undefined ? freeLetter(taken) : freeName(wanted, taken);
  const orders = b.length > 1 ? [b, [...b].reverse()] : [b];
  const ways = (['', 'against', 'along'] as const).flatMap((direction) =>
    orders.map((other) => {
      const plain = withSides([], [a, other]);
      const form = direction === '' ? plain : { join: plain, direction };
      return { document: withValue(ready.document, ['seams', seam], form) };
    }),
  );
  return { document: best(ways).document, notes: ready.notes, seam };
}

/** A seam taken out. */
export const unpick = (document: BagDocument, seam: string): BagDocument => withValue(document, ['seams', seam], undefined);

/** A seam made otherwise: its kind, its allowance, how it is pressed, how much is gathered in. */
export function chooseSeam(document: BagDocument, seam: string, choice: SeamChoice): BagDocument {
  return changed(document, ['seams', seam], (before) => {
    const keys: Record<string, unknown> = Array.isArray(before) ? { join: before } : { ...record(before) };
    for (const [key, value] of Object.entries(choice)) {
      if (value === null || value === '') delete keys[key];
      else if (value !== undefined) keys[key] = value;
    }
    // Only a plain or a turned seam is pressed.
    if (keys.type !== undefined && keys.type !== 'plain' && keys.type !== 'turned') delete keys.pressed;
    return Object.keys(keys).length === 1 ? keys.join : keys;
  });
}

/** A seam sewn the other way round. */
export function turnSeam(document: BagDocument, seam: string, reversed: boolean): BagDocument {
  return changed(document, ['seams', seam], (before) => ({
    ...(Array.isArray(before) ? { join: before } : record(before)),
    direction: reversed ? 'along' : 'against',
  }));
}

/** The sides of a seam with the arcs of rounded corners that they left out. */
export const fillSeam = (document: BagDocument, bag: Bag, seam: string): BagDocument =>
  changed(document, ['seams', seam], (before) =>
    withSides(
      before,
      sidesOf(before).map((side) => runOn(bag, side)),
    ),
  );

/** The length of stretches as a formula, so that what is cut to it follows them. */
function lengthOf(w: Writer, refs: readonly string[], metres: number): string {
  const whole = refs.every((r) => partsOf(r).rest === '');
  return whole && refs.length > 0 ? refs.map((r) => `edge(${r})`).join(' + ') : String(w.figure(metres));
}

/**
 * A strip as long as the picked edges, sewn to them and to the same edges of the panel opposite where there is one. Its long sides are left and right, so
 * that its grain runs along it; its ends stay open, or are sewn together where it goes all round.
 */
export function sewGusset(
  document: BagDocument,
  bag: Bag,
  w: Writer,
  picked: readonly string[],
  width: string,
  metres: number,
): (NonNullable<Drawn> & { readonly panel: string }) | null {
  const edges = runOn(bag, picked);
  const { panel } = partsOf(edges[0] ?? '');
  const outline = bag.panels.find((p) => p.name === panel)?.outline;
  if (!outline) return null;
  const name = freeName('gusset', Object.keys(panelsOf(document)));
  const across = opposite(document, panel);
  const loop = edges.length >= outline.length;
  const strip = {
    name,
    role: 'gusset',
    shape: { kind: 'rectangle', width, height: lengthOf(w, edges, metres) },
    open: loop ? [] : ['top', 'bottom'],
  } as const;
  const cut = addPanel(document, strip);
  const others = across === null ? null : edges.map((r) => `${across}.${partsOf(r).edge}${partsOf(r).rest}`);
  const ways = (['left', 'right'] as const).map((near) => {
    const far = near === 'left' ? 'right' : 'left';
    let out = { document: cut, notes: [] as readonly string[] };
    const sew = (a: readonly string[], b: string): void => {
      const parsed = parseBagDocument(out.document.value).bag;
      const made = sewSides(out.document, parsed, [a, [`${name}.${b}`]]);
      out = { document: made.document, notes: [...out.notes, ...made.notes] };
    };
    sew(edges, near);
    if (others) sew(others, far);
    if (loop) sew([`${name}.top`], 'bottom');
    return out;
  });
  return { ...best(ways), panel: name };
}

/** A pocket laid on a panel from side to side, its lower edge in the seam below: a third layer in the seams there. Its top stays open. */
export function sewPocket(document: BagDocument, bag: Bag, panel: string, height: string): (NonNullable<Drawn> & { readonly panel: string }) | null {
  const outline = bag.panels.find((p) => p.name === panel)?.outline;
  const named = (edge: string): boolean => outline?.some((e) => e.name === edge && e.kind === 'line') ?? false;
  if (!outline || !['bottom', 'left', 'right'].every(named)) return null;
  const name = freeName('pocket', Object.keys(panelsOf(document)));
  let out = addPanel(document, { name, role: 'pocket', shape: { kind: 'rectangle', width: `edge(${panel}.bottom)`, height }, open: ['top'] });
  const add = (seam: string, sides: readonly (readonly string[])[]): void => {
    out = withValue(out, ['seams', freeName(seam, seamNames(out))], withSides([], sides));
  };
  // Edges run counterclockwise: up the right side, and down the left one.
  add(`${name} bottom`, [[`${panel}.bottom`], [`${name}.bottom`]]);
  add(`${name} right`, [[`${panel}.right[0..${height}]`], [`${name}.right`]]);
  add(`${name} left`, [[`${panel}.left[edge(${panel}.left) - ${brackets(height)}..100%]`], [`${name}.left`]]);
  return { document: out, notes: [], panel: name };
}

const brackets = (written: string): string => (/[-+]/.test(written.trim().slice(1)) ? `(${written})` : written);
