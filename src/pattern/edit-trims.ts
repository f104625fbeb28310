import { type BagDocument, isCord, isZip, withValue } from '../bag/index.ts';
import type { Bag, Closure, HardwareKind, MemberKind } from '../bag/types.ts';
import { memberFigures } from '../material/index.ts';
import { draftPanels } from '../panels/index.ts';
import { aroundFrom } from './around.ts';
import { type Form, freeName, listOf, partsOf, record, type Writer } from './edit-document.ts';
import { openEdge } from './edit-panels.ts';
import { footSpots, type Spot, writtenSpot } from './edit-spots.ts';

/** A cord, boning, wire, binding, zip or frame along an edge or a drawn line. Sizes as written; '' or left out: the usual one. */
export interface NewMember {
  readonly kind: MemberKind;
  /** "front.top", or "front.score" of a drawn line. */ readonly along: string;
  /** On along every free edge that follows, such as round the whole mouth; joined to a ring where it closes. */ readonly around?: boolean;
  readonly size?: string;
  readonly stopsShort?: string;
  /** "as drawn", "as sewn" or a radius. */ readonly formed?: string;
}

/** What holds a bag shut. */
export type NewClosure =
  | { readonly kind: 'magnet' | 'snap' | 'buckle' | 'turn lock' | 'tie'; readonly from: Spot; readonly to: Spot; readonly size?: string }
  | { readonly kind: 'coil zip' | 'metal zip'; readonly join: readonly [readonly string[], readonly string[]]; readonly size?: string }
  | { readonly kind: 'drawstring' | 'cinch strap'; readonly along: readonly string[]; readonly below: string; readonly drawnTo: string };

/** Pieces of metal on one panel. */
export interface NewHardware {
  readonly kind: HardwareKind;
  readonly at: readonly Spot[];
  readonly size?: string;
  /** Of each piece. */ readonly mass?: string;
}

/** Feet under a panel. */
export interface NewFeet {
  readonly count: 4 | 5 | 6;
  readonly inset: string;
  readonly size?: string;
  readonly height?: string;
}

type Trim = 'members' | 'closures' | 'hardware';
type Made = { readonly document: BagDocument; readonly notes: readonly string[]; readonly name: string } | null;

/** What each kind is called in the file where nothing else is called so. */
const CALLED: Partial<Record<MemberKind | HardwareKind, string>> = {
  'cotton cord': 'piping',
  'paper cord': 'piping',
  'plastic cord': 'piping',
  'spring wire': 'wire',
  'plastic boning': 'boning',
  'spiral steel boning': 'boning',
  'webbing binding': 'binding',
  'coil zip': 'zip',
  'metal zip': 'zip',
  'metal frame': 'frame',
  foot: 'feet',
};

/** Three digits: figures to begin from. */
const round = (v: number): number => Number(v.toPrecision(3));
const entriesOf = (document: BagDocument, what: Trim): Form => record(document.value[what]) ?? {};
const stated = (form: Readonly<Record<string, string | undefined>>): Form =>
  Object.fromEntries(Object.entries(form).filter(([, v]) => v !== undefined && v.trim() !== ''));
const put = (document: BagDocument, what: Trim, wanted: string, form: Form): { readonly document: BagDocument; readonly name: string } => {
  const name = freeName(wanted, Object.keys(entriesOf(document, what)));
  return { document: withValue(document, [what, name], form), name };
};

/** A member along an edge, a line or round the mouth. null: there is nothing of that name. Errors: the bag's own, by their paths. */
export function putMember(document: BagDocument, bag: Bag, { kind, along, around, size, stopsShort, formed }: NewMember): Made {
  const { panel, edge } = partsOf(along);
  const on = bag.panels.find((p) => p.name === panel);
  if (!on || !(on.lines.some((l) => l.name === edge) || [...on.outline, ...on.holes.flat()].some((e) => e.name === edge))) return null;
  const round = around ? aroundFrom(draftPanels(bag), along) : null;
  const refs = round?.refs ?? [along];
  const made = put(document, 'members', CALLED[kind] ?? kind, {
    kind,
    along: refs.length === 1 ? refs[0] : [...refs],
    ...stated({ size, formed }),
    ...(round?.ring ? { ends: 'ring' } : stated({ 'stops short': stopsShort })),
  });
  return { ...made, notes: round?.ring ? ['It runs all round and is joined to a ring.'] : [] };
}

/** Another kind of the same member: sizes go back to the usual ones of the kind. Figures of its own begin as those it has. */
export function changeMember(document: BagDocument, bag: Bag, name: string, kind: MemberKind): Made {
  const form = record(entriesOf(document, 'members')[name]);
  if (!form) return null;
  const now = bag.members?.find((m) => m.name === name);
  if (kind === 'figures' && now) {
    const { size, rodRigidity, lineMass } = memberFigures(now);
    const own = { size: `${round(1e3 * size)} mm`, rigidity: `${round(1e6 * rodRigidity[1])} uN.m2`, mass: `${round(1e3 * lineMass)} g/m` };
    return { document: withValue(document, ['members', name], { ...form, kind, ...own }), notes: [], name };
  }
  const { size: _, rigidity: __, stretch: ___, mass: ____, length: _____, ...rest } = form;
  return { document: withValue(document, ['members', name], { ...rest, kind }), notes: [], name };
}

/**
 * A closure, and a stance in which it is closed. The edges of a zip, and those that a channel follows, are listed as open from then on where nothing is sewn
 * to them. null: a place or an edge is not there.
 */
export function putClosure(document: BagDocument, bag: Bag, w: Writer, closure: NewClosure): Made {
  const form = closureForm(document, bag, w, closure);
  if (!form) return null;
  const made = put(document, 'closures', /zip$/.test(closure.kind) ? 'zip' : closure.kind, form);
  let out = made.document;
  const refs = 'join' in closure ? closure.join.flat() : 'along' in closure ? closure.along : [];
  for (const { panel, edge } of refs.map(partsOf)) {
    const on = bag.panels.find((p) => p.name === panel);
    const sewn = bag.seams.some((s) => s.sides.flat().some((r) => r.panel === panel && r.edge === edge));
    if (on && !sewn && !on.openings.includes(edge)) out = openEdge(out, bag, panel, edge, true);
  }
  const flap = 'from' in closure && bag.panels.find((p) => p.name === closure.from.panel)?.role === 'flap';
  const stances = record(out.value.stances) ?? usualStances(bag);
  const wanted = 'along' in closure ? 'drawn shut' : 'join' in closure ? `${made.name} closed` : flap ? 'flap down' : `${made.name} closed`;
  const stance = freeName(wanted, Object.keys(stances));
  const like = Object.entries(stances).find(([name, s]) => standsBy(name, record(s)));
  if (!like) return { document: out, notes: [], name: made.name };
  const { closed, ...rest } = record(like[1]) ?? {};
  const others = closed === 'left out' ? [] : listOf(closed);
  const named = rest.kind === undefined && like[0] === 'standing' ? {} : { kind: 'standing' };
  const next = { ...stances, [stance]: { ...rest, ...named, closed: [...others, made.name] } };
  return { document: withValue(out, ['stances'], next), notes: [`It is closed in the stance "${stance}", and open in the others.`], name: made.name };
}

const standsBy = (name: string, form: Form | null): boolean => form?.kind === 'standing' || (form?.kind === undefined && name !== 'hung' && name !== 'held');

/** The stances that a file has without stating them, as it would state them. */
const usualStances = (bag: Bag): Form =>
  Object.fromEntries(bag.stances.map((s) => [s.name, s.kind === 'hung' ? { kind: s.kind, from: s.from } : { kind: s.kind }]));

function closureForm(document: BagDocument, bag: Bag, w: Writer, closure: NewClosure): Form | null {
  const known = (refs: readonly string[]): boolean =>
    refs.length > 0 && refs.map(partsOf).every(({ panel, edge }) => bag.panels.some((p) => p.name === panel && p.outline.some((e) => e.name === edge)));
  const list = (refs: readonly string[]): unknown => (refs.length === 1 ? refs[0] : [...refs]);
  if ('join' in closure) {
    if (!closure.join.every(known)) return null;
    return { kind: closure.kind, join: closure.join.map(list), ...stated({ size: closure.size }) };
  }
  if ('along' in closure) {
    if (!known(closure.along)) return null;
    return { kind: closure.kind, along: list(closure.along), ...stated({ below: closure.below, 'drawn to': closure.drawnTo }) };
  }
  const [from, to] = [closure.from, closure.to].map((spot) => {
    const at = writtenSpot(document, bag, w, spot);
    return at && { panel: spot.panel, at };
  });
  return from && to ? { kind: closure.kind, from, to, ...stated({ size: closure.size }) } : null;
}

/** Is a closure closed in a stance? Where none of them states any, it is written what they are. null: no such stance or closure. */
export function closeIn(document: BagDocument, bag: Bag, closure: string, stance: string, on: boolean): Made {
  if (!bag.stances.some((s) => s.name === stance) || !bag.closures?.some((c) => c.name === closure)) return null;
  const stances = record(document.value.stances) ?? usualStances(bag);
  const form = record(stances[stance]) ?? {};
  const before = form.closed === 'left out' ? [] : listOf(form.closed).filter((c) => c !== closure);
  const closed = on ? [...before, closure] : before;
  const { closed: _, ...rest } = form;
  return {
    document: withValue(document, ['stances'], { ...stances, [stance]: closed.length > 0 ? { ...rest, closed } : rest }),
    notes: [],
    name: closure,
  };
}

/** Pieces on one panel. null: the panel or a place is not there. */
export function putHardware(document: BagDocument, bag: Bag, w: Writer, hardware: NewHardware): Made {
  const panel = hardware.at[0]?.panel;
  const at = hardware.at.map((spot) => (spot.panel === panel ? writtenSpot(document, bag, w, spot) : null));
  if (panel === undefined || at.includes(null)) return null;
  const wanted = CALLED[hardware.kind] ?? (at.length > 1 ? `${hardware.kind}s` : hardware.kind);
  return { ...put(document, 'hardware', wanted, { kind: hardware.kind, panel, at, ...stated({ size: hardware.size, mass: hardware.mass }) }), notes: [] };
}

/** Feet under a panel, in place of those that it has. null: no such panel. */
export function putFeet(document: BagDocument, bag: Bag, w: Writer, panel: string, feet: NewFeet): Made {
  const on = bag.panels.find((p) => p.name === panel);
  if (!on) return null;
  const old = (bag.hardware ?? []).filter((h) => h.kind === 'foot' && h.panel === panel).map((h) => h.name);
  const bare = old.reduce((d, name) => takeOff(d, 'hardware', name).document, document);
  const at = footSpots(document, on, w, feet.count, feet.inset);
  return { ...put(bare, 'hardware', 'feet', { kind: 'foot', panel, at, ...stated({ size: feet.size, height: feet.height }) }), notes: [] };
}

/** The document without a member, a closure or a piece of hardware; stances that had the closure closed have it closed no more, and one that was made for it alone goes. */
export function takeOff(document: BagDocument, what: Trim, name: string): { readonly document: BagDocument; readonly notes: readonly string[] } {
  const left = Object.fromEntries(Object.entries(entriesOf(document, what)).filter(([key]) => key !== name));
  const out = withValue(document, [what], Object.keys(left).length > 0 ? left : undefined);
  const stances = record(out.value.stances);
  if (what !== 'closures' || !stances) return { document: out, notes: [] };
  const notes: string[] = [];
  const next = Object.entries(stances).flatMap(([stance, form]): [string, unknown][] => {
    const closed = record(form)?.closed;
    if (!Array.isArray(closed) || !closed.includes(name)) return [[stance, form]];
    const { closed: _, ...rest } = record(form) ?? {};
    const others = closed.filter((c) => c !== name);
    const twin = Object.entries(stances).some(([k, s]) => k !== stance && standsBy(k, record(s)));
    if (others.length === 0 && twin && (stance.startsWith(`${name} closed`) || /^(flap down|drawn shut)( \d+)?$/.test(stance))) {
      notes.push(`The stance "${stance}" goes with it.`);
      return [];
    }
    return [[stance, others.length > 0 ? { ...rest, closed: others } : rest]];
  });
  return { document: withValue(out, ['stances'], Object.fromEntries(next)), notes };
}

/** "magnet from flap to front"; "coil zip along front.top and back.top". */
export function closureLine(c: Closure): string {
  const refs = (runs: readonly { readonly panel: string; readonly edge: string }[]): string =>
    [...new Set(runs.map((r) => `${r.panel}.${r.edge}`))].join(' + ');
  if (isZip(c)) return `${refs(c.sides[0])} and ${refs(c.sides[1])}`;
  if (isCord(c)) return refs(c.along);
  return `${c.ends[0].panel} to ${c.ends[1].panel}`;
}
