import { type BagDocument, parseBagDocument, type Unit, withValue } from '../bag/index.ts';
import { type Bag, BagError } from '../bag/types.ts';
import { Writer } from './edit-document.ts';
import { finishEdge } from './edit-finishes.ts';
import { acrossPanel, addHole, addLine, addMark, addNotch, deleteInside } from './edit-inside.ts';
import type { DrawEdit } from './edit-kinds.ts';
import { bendEdge, deleteCorner, roundCorner, splitEdge } from './edit-outline.ts';
import { addPanel, copyPanel, deletePanel, firstPanel, type NewPanel, openEdge, ownShape, renamePanel } from './edit-panels.ts';
import { labelled, makeParameter } from './edit-parameters.ts';
import { sewDart, sewFlap, sewTab } from './edit-parts.ts';
import { chooseSeam, fillSeam, sewGusset, sewPocket, sewSides, turnSeam, unpick } from './edit-sewing.ts';
import { addStrap, deleteStrap } from './edit-straps.ts';
import { changeMember, closeIn, putClosure, putFeet, putHardware, putMember, takeOff } from './edit-trims.ts';

/** What an edit made of a bag. */
export interface Edited {
  readonly document: BagDocument;
  readonly bag: Bag;
  /** What it did beside what was asked, a sentence each. */ readonly notes: readonly string[];
  /** What it made or changed, to be chosen next: a panel, a seam, a strap, a parameter. */ readonly made: {
    readonly panel?: string;
    readonly seam?: string;
    readonly name?: string;
  };
}

type Raw = { readonly document: BagDocument; readonly notes?: readonly string[]; readonly made?: Edited['made'] } | null;

/**
 * The document after an edit. Nothing is changed in place. Assumes a bag parsed from the same document. null: what the edit names is not there, or cannot be
 * edited so (the last panel, a triangle's corner). Errors: BagError with every fault when the result is no sound bag file. What is sewn wrongly is no error:
 * a bag is drawn and sewn step by step; `troubles` tells it.
 */
export function edited(document: BagDocument, bag: Bag, edit: DrawEdit, unit: Unit): Edited | null {
  const raw = applied(document, bag, edit, new Writer(bag, unit));
  if (!raw) return null;
  const parsed = parseBagDocument(raw.document.value);
  return { ...parsed, notes: raw.notes ?? [], made: raw.made ?? {} };
}

/** A new bag of one panel. Errors: BagError. */
export function startedBag(name: string, panel: NewPanel): Edited {
  return { ...parseBagDocument(firstPanel(name, panel).value), notes: [], made: { panel: panel.name } };
}

/** A part that an edit made is chosen next. */
const chosen = <T extends { readonly document: BagDocument; readonly notes: readonly string[]; readonly panel: string }>(made: T | null): Raw =>
  made && { document: made.document, notes: made.notes, made: { panel: made.panel } };

/** So is what it put on. */
const named = (made: { readonly document: BagDocument; readonly notes: readonly string[]; readonly name: string } | null): Raw =>
  made && { document: made.document, notes: made.notes, made: { name: made.name } };

function applied(document: BagDocument, bag: Bag, edit: DrawEdit, w: Writer): Raw {
  switch (edit.do) {
    case 'panel': {
      const before = new Set(bag.panels.map((p) => p.name));
      const made = addPanel(document, edit.panel);
      return { document: made, made: { panel: Object.keys(made.value.panels as object).find((p) => !before.has(p)) } };
    }
    case 'copy':
    case 'mirror': {
      const made = copyPanel(document, edit.panel, edit.do, edit.name);
      return { document: made.document, made: { panel: made.name } };
    }
    case 'delete panel':
      return deletePanel(document, bag, w, edit.panel);
    case 'own shape':
      return ownShape(document, bag, w, edit.panel);
    case 'rename':
      return renamed(document, bag, edit.panel, edit.name);
    case 'role':
      return { document: withValue(document, ['panels', edit.panel, 'role'], edit.role), made: { panel: edit.panel } };
    case 'open':
      return { document: openEdge(document, bag, edit.panel, edit.edge, edit.open) };
    case 'split':
      return splitEdge(document, bag, w, edit.panel, edit.edge, edit.share);
    case 'bend':
      return bendEdge(document, bag, w, edit.panel, edit.edge, edit.into);
    case 'delete corner':
      return deleteCorner(document, bag, w, edit.panel, edit.corner);
    case 'round':
      return roundCorner(document, bag, w, edit.panel, edit.corner, edit.radius);
    case 'mark':
      return { document: addMark(document, w, edit.panel, edit.at, edit.name) };
    case 'notch':
      return { document: addNotch(document, edit.panel, edit.edge, edit.share, edit.name) };
    case 'hole':
      return { document: addHole(document, w, edit.panel, edit.at, edit.size, edit.round) };
    case 'line': {
      const ends = acrossPanel(bag, edit.panel, edit.at, edit.upright);
      return ends && { document: addLine(document, w, edit.panel, ends, edit.fold, edit.name) };
    }
    case 'delete inside':
      return deleteInside(document, edit.panel, edit.what, edit.name);
    case 'sew': {
      if (edit.sides.some((side) => side.length === 0)) return null;
      const made = sewSides(document, bag, edit.sides);
      return made && { ...made, made: { seam: made.seam } };
    }
    case 'gusset': {
      const length = edit.edges.reduce((sum, ref) => sum + w.value(`edge(${ref})`), 0);
      const made = sewGusset(document, bag, w, edit.edges, edit.width, length);
      return made && { ...made, made: { panel: made.panel } };
    }
    case 'pocket':
      return chosen(sewPocket(document, bag, edit.panel, edit.height));
    case 'flap':
      return chosen(sewFlap(document, bag, w, edit.panel, edit.edge, edit.flap));
    case 'tab':
      return chosen(sewTab(document, bag, edit.panel, edit.edge, edit.tab));
    case 'dart':
      return chosen(sewDart(document, bag, w, edit.panel, edit.edge, edit.share, edit.width, edit.depth));
    case 'finish':
      return finishEdge(document, bag, edit.panel, edit.edge, edit.choice);
    case 'unpick':
      return { document: unpick(document, edit.seam) };
    case 'fill':
      return { document: fillSeam(document, bag, edit.seam), made: { seam: edit.seam } };
    case 'turn':
      return { document: turnSeam(document, edit.seam, edit.reversed), made: { seam: edit.seam } };
    case 'seam':
      return { document: chooseSeam(document, edit.seam, edit.choice), made: { seam: edit.seam } };
    case 'strap': {
      const made = addStrap(document, bag, w, edit.strap);
      return { document: made.document, made: { name: made.name } };
    }
    case 'delete strap':
      return { document: deleteStrap(document, edit.strap) };
    case 'member':
      return named(putMember(document, bag, edit.member));
    case 'member kind':
      return named(changeMember(document, bag, edit.name, edit.kind));
    case 'closure':
      return named(putClosure(document, bag, w, edit.closure));
    case 'closed':
      return named(closeIn(document, bag, edit.closure, edit.stance, edit.on));
    case 'hardware':
      return named(putHardware(document, bag, w, edit.hardware));
    case 'feet':
      return named(putFeet(document, bag, w, edit.panel, edit.feet));
    case 'take off':
      return takeOff(document, edit.what, edit.name);
    case 'write':
      return { document: withValue(document, edit.path, edit.text === '' ? undefined : edit.text) };
    case 'parameter': {
      const made = makeParameter(document, edit.path, edit.label);
      return made && { document: made.document, made: { name: made.name } };
    }
    case 'label':
      return { document: labelled(document, edit.parameter, edit.label) };
  }
}

function renamed(document: BagDocument, bag: Bag, panel: string, wanted: string): Raw {
  const name = wanted.trim();
  if (name === panel || name === '') return null;
  // A name that is taken would put one panel in another's place.
  if (bag.panels.some((p) => p.name === name))
    throw new BagError([{ path: `panels.${panel}`, got: `the name "${name}"`, expected: 'a name that no other panel has' }]);
  return { document: renamePanel(document, panel, name), made: { panel: name } };
}
