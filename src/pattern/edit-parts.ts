import { type BagDocument, parseBagDocument, pointAt, withValue } from '../bag/index.ts';
import type { Bag, OutlineEdge, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { type Form, followersOf, freeName, panelForm, panelsOf, partsOf, record, type Writer } from './edit-document.ts';
import { finishEdge } from './edit-finishes.ts';
import { freeEdge } from './edit-links.ts';
import { type Drawn, refitted } from './edit-outline.ts';
import { addPanel, openEdge } from './edit-panels.ts';
import { chooseSeam, sewSides } from './edit-sewing.ts';
import { asWritten, edgeNameOf, withCorners, writtenEdge } from './edit-shape.ts';

/** A flap over the mouth: sewn along a whole edge, folded there. Sizes as written. */
export interface NewFlap {
  /** From its fold to its free end. */ readonly depth: string;
  /** Of the two corners of its free end; '' or '0': square. */ readonly radius: string;
}

/** A tab: a short piece sewn on in the middle of an edge, to close the mouth or to hold a ring. */
export interface NewTab {
  readonly width: string;
  readonly length: string;
}

type Made = (NonNullable<Drawn> & { readonly panel: string }) | null;

const nought = (w: Writer, written: string): boolean => written.trim() === '' || w.value(written) === 0;

/**
 * A flap as wide as an edge of a panel, sewn to it by a seam that folds; its other edges stay open. The edge is no longer the mouth, and its finish is taken
 * off. null: there is no such edge. Errors of the sizes are the bag's own, by their paths.
 */
export function sewFlap(document: BagDocument, bag: Bag, w: Writer, panel: string, edge: string, flap: NewFlap): Made {
  if (!hasEdge(bag, panel, edge)) return null;
  const name = freeName('flap', Object.keys(panelsOf(document)));
  const round = !nought(w, flap.radius);
  const form = {
    role: 'flap',
    rectangle: { width: `edge(${panel}.${edge})`, height: flap.depth, ...(round ? { radius: [0, 0, flap.radius, flap.radius] } : {}) },
    open: round ? ['right', 'right-top', 'top', 'top-left', 'left'] : ['right', 'top', 'left'],
  };
  const drawn = drawnPanel(document, name, form);
  const sewn = sewSides(drawn, bag, [[`${panel}.${edge}`], [`${name}.bottom`]], `${name} fold`);
  return { document: chooseSeam(sewn.document, sewn.seam, { type: 'fold' }), notes: sewn.notes, panel: name };
}

/**
 * A tab sewn on in the middle of an edge. The edge beside it stays what it was: open, and finished on either side of the tab. null: there is no such edge,
 * or a seam takes it up.
 */
export function sewTab(document: BagDocument, bag: Bag, panel: string, edge: string, tab: NewTab): Made {
  const own = bag.panels.find((p) => p.name === panel);
  if (!hasEdge(bag, panel, edge) || bag.seams.some((s) => s.sides.flat().some((r) => r.panel === panel && r.edge === edge))) return null;
  const name = freeName('tab', Object.keys(panelsOf(document)));
  const finish = (bag.finishes ?? []).find((f) => f.panel === panel && f.runs.some((r) => r.edge === edge));
  const written = finish ? (record(record(panelForm(document, panel).finishes)?.[finish.edge]) ?? {}) : null;
  const bare = written === null ? document : (finishEdge(document, bag, panel, edge, { finish: null })?.document ?? document);
  const drawn = drawnPanel(bare, name, { role: 'trim', rectangle: { width: tab.width, height: tab.length }, open: ['right', 'top', 'left'] });
  const half = `${bracketed(tab.width)}/2`;
  const middle = `edge(${panel}.${edge})/2`;
  const seams = record(drawn.value.seams) ?? {};
  const seam = freeName(name, Object.keys(seams));
  let out = withValue(drawn, ['seams', seam], [`${panel}.${edge}[${middle} - ${half}..${middle} + ${half}]`, `${name}.bottom`]);
  if (!own?.openings.includes(edge)) out = openEdge(out, bag, panel, edge, true);
  if (written === null || !finish) return { document: out, notes: [], panel: name };
  // What is left of the edge on either side keeps its finish.
  const sides = [`${edge}[0%..${middle} - ${half}]`, `${edge}[${middle} + ${half}..100%]`];
  const finishes = { ...record(panelForm(out, panel).finishes), ...Object.fromEntries(sides.map((key) => [key, written])) };
  return { document: withValue(out, ['panels', panel, 'finishes'], finishes), notes: [], panel: name };
}

const hasEdge = (bag: Bag, panel: string, edge: string): boolean => bag.panels.some((p) => p.name === panel && p.outline.some((e) => e.name === edge));
const bracketed = (written: string): string => (/[-+/*]/.test(written.trim().slice(1)) ? `(${written})` : written);

/** A panel of any written form, with a stack in every option. */
function drawnPanel(document: BagDocument, name: string, form: Form): BagDocument {
  const plain = addPanel(document, { name, shape: { kind: 'rectangle', width: '100 mm', height: '100 mm' } });
  return withValue(plain, ['panels', name], form);
}

/**
 * A dart: a wedge cut out of a straight edge and its two legs sewn together. `width` is what it takes up at the edge, `depth` how far it runs into the
 * panel; both as written. Every panel that follows the outline gets the same dart. null: no straight edge, or no room for it there. `share`: its middle along
 * the edge, from its start.
 */
export function sewDart(document: BagDocument, bag: Bag, w: Writer, panel: string, edge: string, share: number, width: string, depth: string): Made {
  const { document: open, corners } = withCorners(document, w, panel);
  const found = writtenEdge(bag, corners, edge);
  if (found?.edge.kind !== 'line') return null;
  const { owner, key, list } = corners;
  const own = asWritten(found, key === 'half', share);
  const [from, to] = [own.edge.from, own.edge.to];
  const [wide, deep] = [w.value(width), w.value(depth)];
  const long = libm.hypot(to[0] - from[0], to[1] - from[1]);
  const half = wide / 2 / long;
  if (!(wide > 0 && deep > 0) || own.share - half < 0.01 || own.share + half > 0.99) return null;
  const middle = pointAt(own.edge, own.share);
  // The cloth lies to the left of every edge.
  const inward: Point2 = [-(to[1] - from[1]) / long, (to[0] - from[0]) / long];
  const tip: Point2 = [middle[0] + deep * inward[0], middle[1] + deep * inward[1]];
  const at = (t: number): Point2 => pointAt(own.edge as OutlineEdge, t);
  const stem = edgeNameOf(corners, found.corner);
  const outline = bag.panels.find((p) => p.name === owner)?.outline.map((e) => e.name) ?? [];
  const taken = [...outline, ...list.map((_, i) => edgeNameOf(corners, i))];
  const names: string[] = [];
  for (const wanted of [`${stem} 1`, 'dart near', 'dart far', `${stem} 2`]) names.push(freeEdge(wanted, [...taken, ...names], panelForm(document, owner)));
  const made = [...list];
  const corner = list[found.corner];
  made.splice(
    found.corner,
    1,
    { ...corner, edge: names[0] },
    { at: w.point(at(own.share - half)), edge: names[1] },
    { at: w.point(tip), edge: names[2] },
    { at: w.point(at(own.share + half)), edge: names[3] },
  );
  const done = refitted(withValue(open, ['panels', owner, key], made), bag, w, owner);
  if (!done) return null;
  let out = withFinishesApart(done.document, bag, owner, edge, (side) => [`${names[0]}${side}`, `${names[3]}${side}`]);
  // Its legs lie inside, so that they are no part of the old edge, and no opening.
  for (const follower of followersOf(out, owner))
    for (const side of key === 'half' ? [' right', ' left'] : ['']) {
      const seam = freeName(`dart ${follower}${side}`, Object.keys(record(out.value.seams) ?? {}));
      const legs = [`${follower}.${names[1]}${side}`, `${follower}.${names[2]}${side}`];
      out = withValue(out, ['seams', seam], { join: legs, direction: 'against' });
    }
  const also = followersOf(out, owner).filter((p) => p !== panel);
  const notes = [...done.notes, ...(also.length > 0 ? [`${also.join(', ')} the same: the outline is one.`] : [])];
  return { document: out, notes, panel };
}

/** A finish over an edge that a dart has parted, written for what lies on either side of it: a hem does not run across. `parts`: by the side of a half. */
function withFinishesApart(document: BagDocument, bag: Bag, owner: string, edge: string, parts: (side: string) => readonly string[]): BagDocument {
  let out = document;
  const stem = edge.replace(/ (left|right)$/, '');
  const followers = followersOf(document, owner);
  const bare = followers.reduce((d, p) => withValue(d, ['panels', p, 'finishes'], undefined), document);
  const now = new Set(
    parseBagDocument(bare.value)
      .bag.panels.find((p) => p.name === owner)
      ?.outline.map((e) => e.name),
  );
  // What crosses the centre line of a half is no part of either side.
  const partsOn = (side: string): string[] => [...new Set([side, '', ...(side === '' ? [' right', ' left'] : [])].flatMap(parts))].filter((n) => now.has(n));
  for (const panel of followers) {
    const drawn = bag.panels.find((p) => p.name === panel);
    const apart = Object.entries(record(panelForm(out, panel).finishes) ?? {}).flatMap(([key, form]): [string, unknown][] => {
      const { edge: named, rest } = partsOf(`.${key}`);
      const members = drawn?.chains[named] ?? [named];
      const hit = members.some((m) => m === edge || m.replace(/ (left|right)$/, '') === stem);
      if (!hit) return [[key, form]];
      // A stretch of the edge says nothing any more of where it lay.
      if (rest !== '') return [];
      return members.flatMap((m): [string, unknown][] => {
        const side = / (left|right)$/.exec(m)?.[0] ?? '';
        return (m.replace(/ (left|right)$/, '') === stem ? partsOn(side) : [m]).map((n) => [n, form]);
      });
    });
    if (record(panelForm(out, panel).finishes)) out = withValue(out, ['panels', panel, 'finishes'], apart.length > 0 ? Object.fromEntries(apart) : undefined);
  }
  return out;
}
