import { type BagDocument, pointAt, withValue } from '../bag/index.ts';
import type { Bag, OutlineEdge, Point2 } from '../bag/types.ts';
import { type Form, listOf, ownerOf, panelForm, record, type Writer } from './edit-document.ts';

/** Where the outline of a panel is written: its owner, and the list of corners there. */
export interface Corners {
  readonly owner: string;
  readonly key: 'outline' | 'half';
  readonly list: readonly Form[];
}

/** A panel's own edge as it is written: the corner that it leaves, and on which half it lies. */
export interface WrittenEdge {
  readonly corner: number;
  readonly left: boolean;
  /** As resolved, in the frame of its owner. */ readonly edge: OutlineEdge;
}

const FOUR = ['bottom', 'right', 'top', 'left'] as const;

/**
 * The document with a panel's outline written corner by corner, so that each can be changed by itself: rectangles, trapezoids and circles become outlines
 * of the same shape and the same edge names; outlines and halves stay. A copy's outline is its owner's.
 */
export function withCorners(document: BagDocument, writer: Writer, panel: string): { readonly document: BagDocument; readonly corners: Corners } {
  const { owner } = ownerOf(document, panel);
  const form = panelForm(document, owner);
  for (const key of ['outline', 'half'] as const)
    if (Array.isArray(form[key])) return { document, corners: { owner, key, list: form[key] as readonly Form[] } };
  const list = rectangleCorners(form, writer) ?? trapezoidCorners(form, writer) ?? circleCorners(form, writer) ?? [];
  const { rectangle: _, trapezoid: __, circle, ...rest } = form;
  // The name that all four arcs of a circle go by is the outline's own from now on.
  const chains = circle ? { chains: { ...record(form.chains), rim: ['rim1', 'rim2', 'rim3', 'rim4'] } } : {};
  return { document: withValue(document, ['panels', owner], { ...rest, outline: list, ...chains }), corners: { owner, key: 'outline', list } };
}

function rectangleCorners(form: Form, w: Writer): Form[] | null {
  const shape = record(form.rectangle);
  if (!shape) return null;
  const [x0, y0] = listOf(shape.at ?? [0, 0]);
  const [x1, y1] = [w.sum(x0, shape.width), w.sum(y0, shape.height)];
  const radius = (i: number): unknown => (Array.isArray(shape.radius) ? shape.radius[i] : shape.radius);
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ].map((at, i) => ({ at, edge: FOUR[i], ...(radius(i) === undefined || radius(i) === 0 ? {} : { radius: radius(i) }) }));
}

function trapezoidCorners(form: Form, w: Writer): Form[] | null {
  const shape = record(form.trapezoid);
  if (!shape) return null;
  const middle = w.sum(0, shape.bottom, 0.5);
  return [
    [0, 0],
    [shape.bottom, 0],
    [w.sum(middle, shape.top, 0.5), shape.height],
    [w.sum(middle, shape.top, -0.5), shape.height],
  ].map((at, i) => ({ at, edge: FOUR[i] }));
}

function circleCorners(form: Form, w: Writer): Form[] | null {
  const shape = record(form.circle);
  if (!shape) return null;
  const [cx, cy] = listOf(shape.centre ?? [w.sum(0, shape.diameter, 0.5), w.sum(0, shape.diameter, 0.5)]);
  // Places by eighths of a turn from the lowest point round; as half the sine of each.
  const s = Math.SQRT1_2 / 2;
  const share = [0, s, 0.5, s, 0, -s, -0.5, -s];
  const place = (eighth: number): unknown[] => [w.sum(cx, shape.diameter, share[eighth % 8]), w.sum(cy, shape.diameter, -share[(eighth + 2) % 8])];
  return [0, 1, 2, 3].map((q) => ({ at: place(2 * q), edge: `rim${q + 1}`, through: place(2 * q + 1) }));
}

/** Name of the edge that leaves a corner. */
export const edgeNameOf = (corners: Corners, i: number): string => {
  const n = corners.list.length;
  const k = (i + n) % n;
  return String(corners.list[k]?.edge ?? `edge${k + 1}`);
};

/** The corner that an edge leaves, by the edge's name in the finished outline; null for the arc of a rounded corner and for a stranger. */
export function writtenEdge(bag: Bag, corners: Corners, name: string): WrittenEdge | null {
  const edge = bag.panels.find((p) => p.name === corners.owner)?.outline.find((e) => e.name === name);
  if (!edge) return null;
  const left = corners.key === 'half' && / left$/.test(name);
  const stem = corners.key === 'half' ? name.replace(/ (left|right)$/, '') : name;
  const find = (word: string): number => corners.list.findIndex((_, i) => edgeNameOf(corners, i) === word);
  const corner = find(stem) >= 0 ? find(stem) : find(name);
  return corner < 0 ? null : { corner, left, edge };
}

/** The corner that a handle or a rounding stands for: "3", "upper right", or the arc "bottom-right" of its two edges. null for a stranger. */
export function cornerNumber(corners: Corners, name: string): number | null {
  const plain = name.replace(/ (\(left\)|before|after)$/g, '').replace(/ (before|after)$/, '');
  const four = ['lower left', 'lower right', 'upper right', 'upper left'].indexOf(plain);
  if (four >= 0) return four;
  if (/^\d+$/.test(plain)) return Number(plain) - 1 < corners.list.length ? Number(plain) - 1 : null;
  const bare = name.replace(/ (left|right)$/, '');
  const found = corners.list.findIndex((_, i) => [name, bare].includes(`${edgeNameOf(corners, i - 1)}-${edgeNameOf(corners, i)}`));
  return found < 0 ? null : found;
}

const flip = (p: Point2): Point2 => [-p[0], p[1]];

/** An edge as its corner writes it, from that corner to the next, and where a share of the finished edge lies on it: on a half, the right side of it. */
export function asWritten({ edge, left }: WrittenEdge, half: boolean, share: number): { readonly edge: OutlineEdge; readonly share: number } {
  if (left) {
    const ends = { name: edge.name, from: flip(edge.to), to: flip(edge.from) };
    if (edge.kind === 'arc') return { edge: { ...ends, kind: 'arc', via: flip(edge.via) }, share: 1 - share };
    if (edge.kind === 'cubic') return { edge: { ...ends, kind: 'cubic', control: [flip(edge.control[1]), flip(edge.control[0])] }, share: 1 - share };
    return { edge: { ...ends, kind: 'line' }, share: 1 - share };
  }
  const { from, to } = edge;
  if (!half || !(from[0] * to[0] < 0 && Math.abs(from[0] + to[0]) < 1e-9) || edge.kind === 'cubic') return { edge, share };
  // It crosses the centre line: what is written is its half to the right.
  const first = from[0] > 0;
  const middle = pointAt(edge, 0.5);
  const ends = { name: edge.name, from: first ? from : middle, to: first ? middle : to };
  const right = first ? Math.min(share, 1 - share) * 2 : (Math.max(share, 1 - share) - 0.5) * 2;
  return { edge: edge.kind === 'arc' ? { ...ends, kind: 'arc', via: pointAt(edge, first ? 0.25 : 0.75) } : { ...ends, kind: 'line' }, share: right };
}
