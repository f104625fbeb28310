import { type BagDocument, flatten, parseBagDocument, pointAt, withValue } from '../bag/index.ts';
import type { Bag, OutlineEdge, Panel, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { type Cubic, cutCubic, nearestParameter } from './edit-cubic.ts';
import { type Form, followersOf, listOf, mapTexts, panelForm, record, type Writer } from './edit-document.ts';
import { type EdgeMap, freeEdge, relinked, withRounding } from './edit-links.ts';
import { asWritten, cornerNumber, edgeNameOf, withCorners, writtenEdge } from './edit-shape.ts';

export type Bend = 'line' | 'arc' | 'curve';
/** What an edit of an outline answers: the new document, and what else it did, a sentence each; null: there is no such edge or corner. */
export type Drawn = { readonly document: BagDocument; readonly notes: readonly string[] } | null;

const namesOf = (bag: Bag, panel: string): string[] => bag.panels.find((p) => p.name === panel)?.outline.map((e) => e.name) ?? [];

/**
 * An edge cut in two at a share of its length, from its own start: a new corner that can be moved. Both parts together go on under the old name where
 * anything was written with it. Curves keep their shape.
 */
export function splitEdge(document: BagDocument, bag: Bag, w: Writer, panel: string, edge: string, share: number): Drawn {
  const { document: open, corners } = withCorners(document, w, panel);
  const found = writtenEdge(bag, corners, edge);
  if (!found || !(share > 0.001 && share < 0.999)) return null;
  const { owner, key, list } = corners;
  const own = asWritten(found, key === 'half', share);
  if (!(own.share > 0.001 && own.share < 0.999)) return null;
  const { from, to } = own.edge;
  const place = pointAt(own.edge, own.share);
  const [c, next] = [list[found.corner], list[(found.corner + 1) % list.length]];
  const stem = edgeNameOf(corners, found.corner);
  const names = [...namesOf(bag, owner), ...list.map((_, i) => edgeNameOf(corners, i))];
  const named = isNamed(document, owner, edge) || (key === 'half' && isNamed(document, owner, stem));
  const first = named ? freeEdge(`${stem} 1`, names, panelForm(document, owner)) : stem;
  const second = freeEdge(`${stem} 2`, [...names, first], panelForm(document, owner));
  const { through: _, rise: __, curve: ___, ...plain } = c;
  const straight = c.through === undefined && c.rise === undefined && c.curve === undefined;
  const along = ((): number => {
    const l = libm.hypot(to[0] - from[0], to[1] - from[1]);
    return l > 0 ? libm.hypot(place[0] - from[0], place[1] - from[1]) / l : 0.5;
  })();
  // Between two corners that are written with sizes of the bag, the new one keeps its place between them, and yet moves by itself.
  const [a, b] = [listOf(c.at), listOf(next.at)];
  const written = straight && sharp(c) && sharp(next) ? [w.loose(w.between(a[0], b[0], along)), w.loose(w.between(a[1], b[1], along))] : w.point(place);
  const bends = straight ? [{}, {}] : bendsOf(own.edge, own.share, w);
  const made = [...list];
  made.splice(found.corner, 1, { ...plain, edge: first, ...bends[0] }, { at: written, edge: second, ...bends[1] });
  return refitted(withValue(open, ['panels', owner, key], made), bag, w, owner);
}

const sharp = (c: Form): boolean => c.radius === undefined || c.radius === 0;

/** The bends of the two parts of a curved edge, as their corners write them. */
function bendsOf(edge: OutlineEdge, share: number, w: Writer): [Form, Form] {
  if (edge.kind !== 'cubic') return [{ through: w.point(pointAt(edge, share / 2)) }, { through: w.point(pointAt(edge, (1 + share) / 2)) }];
  const whole: Cubic = [edge.from, ...edge.control, edge.to];
  const [p, q] = cutCubic(whole, nearestParameter(whole, pointAt(edge, share)));
  return [{ curve: p.slice(1, 3).map((v) => w.point(v)) }, { curve: q.slice(1, 3).map((v) => w.point(v)) }];
}

/** An edge made straight, a circular arc or a curve between the corners it has. A corner rounded between straight edges becomes sharp where one is bent. */
export function bendEdge(document: BagDocument, bag: Bag, w: Writer, panel: string, edge: string, into: Bend): Drawn {
  const { document: open, corners } = withCorners(document, w, panel);
  const found = writtenEdge(bag, corners, edge);
  if (!found) return null;
  const { owner, key, list } = corners;
  const { through: _, rise: __, curve: ___, ...plain } = list[found.corner];
  const own = asWritten(found, key === 'half', 0.5).edge;
  const next = (found.corner + 1) % list.length;
  const [a, b] = [found.corner, next].map((i) => listOf(list[i].at).map((v) => w.value(v))) as unknown as [Point2, Point2];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  // A tenth of its length off the chord, outward, to be seen and taken hold of; a bend that is there already is kept as nearly as it can be.
  const bulge = pointAt(own, 0.5);
  const off = (dy * (bulge[0] - (a[0] + b[0]) / 2) - dx * (bulge[1] - (a[1] + b[1]) / 2)) / (dx * dx + dy * dy);
  const rise = found.edge.kind === 'line' || Math.abs(off) < 0.01 ? 0.1 : off;
  const at = (t: number, far: number): Point2 => [a[0] + t * dx + far * dy, a[1] + t * dy - far * dx];
  const step = w.unit === 'in' ? 0.0254 / 16 : 0.001;
  const round = (v: number): number => Math.round(v / step) * step;
  const rounded = (p: Point2): Point2 => [round(p[0]), round(p[1])];
  const bent: Form =
    into === 'line'
      ? {}
      : into === 'arc'
        ? { rise: w.figure(round(rise * libm.hypot(dx, dy)) || step) }
        : { curve: [w.point(rounded(at(1 / 3, (4 / 3) * rise))), w.point(rounded(at(2 / 3, (4 / 3) * rise)))] };
  const made = list.map((c, i): Form => {
    if (i === found.corner) return { ...(into === 'line' ? plain : withoutRadius(plain)), ...bent };
    return i === next && into !== 'line' ? withoutRadius(c) : c;
  });
  const done = refitted(withValue(open, ['panels', owner, key], made), bag, w, owner);
  const sharpened = into !== 'line' && [found.corner, next].some((i) => !sharp(list[i]));
  return done && sharpened
    ? { ...done, notes: [...done.notes, 'The round corner beside it is sharp now: only corners between straight edges are rounded.'] }
    : done;
}

const withoutRadius = ({ radius: _, ...rest }: Form): Form => rest;

/** A corner taken away: the edge before it runs on, straight, to the next corner. What was sewn to the edge after it is unpicked. */
export function deleteCorner(document: BagDocument, bag: Bag, w: Writer, panel: string, corner: string): Drawn {
  const { document: open, corners } = withCorners(document, w, panel);
  const i = cornerNumber(corners, corner);
  const { owner, key, list } = corners;
  if (i === null || list.length <= 3 || (key === 'half' && (i === 0 || i === list.length - 1))) return null;
  const before = (i + list.length - 1) % list.length;
  const { through: _, rise: __, curve: ___, ...plain } = list[before];
  const made = list.map((c, k) =>
    k === before
      ? { ...plain, edge: edgeNameOf(corners, before) }
      : { ...c, ...(c.edge === undefined && k < list.length - (key === 'half' ? 1 : 0) ? { edge: edgeNameOf(corners, k) } : {}) },
  );
  made.splice(i, 1);
  return refitted(withValue(open, ['panels', owner, key], made), bag, w, owner);
}

/** A corner rounded by a radius, or made sharp by one of 0. The arc joins a side of a seam that both edges beside it follow each other in. */
export function roundCorner(document: BagDocument, bag: Bag, w: Writer, panel: string, corner: string, radius: string): Drawn {
  const nought = radius.trim() === '0' || w.value(radius) === 0;
  const { document: open, corners } = withCorners(document, w, panel);
  const i = cornerNumber(corners, corner);
  if (i === null) return null;
  const { owner, key, list } = corners;
  const { radius: _, ...rest } = list[i];
  const made = list.map((c, k) => (k === i ? { ...rest, ...(nought ? {} : { radius }) } : c));
  const done = refitted(withValue(open, ['panels', owner, key], made), bag, w, owner);
  if (!done || nought) return done;
  const [before, after] = [edgeNameOf(corners, i - 1), edgeNameOf(corners, i)];
  const sides = key === 'half' ? [' right', ' left'] : [''];
  let out = done.document;
  for (const side of sides) {
    const names = probe(out, w, owner)?.outline.map((e) => e.name) ?? [];
    const [b, a, arc] = [
      [`${before}${side}`, before].find((n) => names.includes(n)),
      [`${after}${side}`, after].find((n) => names.includes(n)),
      `${before}-${after}${side}`,
    ];
    if (b && a && names.includes(arc)) out = withRounding(out, owner, b, a, arc);
  }
  return { ...done, document: out };
}

/** Is anything written with an edge of this name, of this panel or of one that follows it? */
function isNamed(document: BagDocument, owner: string, edge: string): boolean {
  return followersOf(document, owner).some((panel) => {
    const { outline: _, half: __, ...rest } = panelForm(document, panel);
    const asked = [`${panel}.${edge}"`, `${panel}.${edge}[`, `${panel}.${edge})`];
    const whole = JSON.stringify(document.value);
    const own = JSON.stringify(rest);
    return asked.some((text) => whole.includes(text)) || own.includes(`"${edge}"`) || own.includes(`"${edge}[`);
  });
}

/** The outline that a document gives a panel, whatever else is wrong with it; null where it has none. */
function probe(document: BagDocument, w: Writer, owner: string): Panel | null {
  const form = panelForm(document, owner);
  const shape = Object.fromEntries(Object.entries(form).filter(([key]) => ['rectangle', 'trapezoid', 'circle', 'outline', 'half'].includes(key)));
  const figures = (value: unknown): unknown =>
    mapTexts(value, (text) => text.replace(/edge\s*\([^)]*\)/g, (found) => String(w.figure(w.value(found)) || '0 mm')));
  const alone = { slumpline: 1, parameters: figures(document.value.parameters ?? {}), panels: { p: figures(shape) }, stacks: { s: ['canvas10'] } };
  return parseBagDocument(alone).bag.panels[0] ?? null;
}

/** After a change of a panel's corners: old names go on with the edges that lie where theirs lay. Throws BagError where the new outline is none. */
export function refitted(document: BagDocument, before: Bag, w: Writer, owner: string): Drawn {
  const panel = before.panels.find((p) => p.name === owner);
  const old = panel?.outline ?? [];
  const now = probe(document, w, owner);
  if (!now) return null;
  const map = new Map<string, string[]>(old.map((e) => [e.name, []]));
  const lines = old.map((e) => [...flatten(e), e.to]);
  for (const edge of now.outline) {
    const kept = map.get(edge.name);
    if (kept) {
      kept.push(edge.name);
      continue;
    }
    const middle = pointAt(edge, 0.5);
    const far = lines.map((line) => distance(middle, line));
    const nearest = far.indexOf(Math.min(...far));
    if (far[nearest] < NEAR) map.get(old[nearest].name)?.push(edge.name);
  }
  // Halves that met on the centre line went by one name, which nothing says any more where one of them is cut up.
  const written = record(panelForm(document, owner).chains) ?? {};
  for (const [name, members] of Object.entries(panel?.chains ?? {}))
    if (written[name] === undefined && now.chains[name] === undefined && !now.outline.some((e) => e.name === name))
      map.set(
        name,
        members.flatMap((m) => map.get(m) ?? []),
      );
  // Nothing to do for names that stayed what they were.
  const edges: EdgeMap = new Map([...map].filter(([name, list]) => !(list.length === 1 && list[0] === name)));
  return relinked(document, w, owner, edges);
}

/** A curve is laid out in pieces: a place this near to them lies on it, m. */
const NEAR = 3e-4;

function distance(p: Point2, line: readonly Point2[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i], line[i + 1]];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, libm.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy));
  }
  return least;
}
