import { type BagDocument, curveOf, polygonOf } from '../bag/index.ts';
import type { Bag, Panel, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { listOf, ownerOf, panelForm, record, type Writer } from './edit-document.ts';

/** A place on a panel: pressed there (panel frame, m), or so far in from an edge, at a share of its length. */
export type Spot = { readonly panel: string } & (
  | { readonly at: Point2 }
  | { readonly edge: string; readonly share: number /** As written; '' or 0: on the edge itself. */; readonly inset: string }
);

type Written = (string | number)[] | string;

/** Width and height as written of a panel that is a plain rectangle from its own corner; null of any other. */
function rectangleOf(document: BagDocument, panel: string): readonly [string | number, string | number] | null {
  const { owner, mirrored } = ownerOf(document, panel);
  const shape = record(panelForm(document, owner).rectangle);
  const corner = listOf(shape?.at ?? [0, 0]);
  if (!shape || mirrored || corner.some((v) => v !== 0 && v !== '0')) return null;
  return [shape.width as string | number, shape.height as string | number];
}

/** A place as the file has it: of a rectangle by its own sizes, so that it stays where it is when they change; else in figures. null: no such panel or edge. */
export function writtenSpot(document: BagDocument, bag: Bag, w: Writer, spot: Spot): Written | null {
  const panel = bag.panels.find((p) => p.name === spot.panel);
  if (!panel) return null;
  if ('at' in spot) return w.point(spot.at);
  const edge = panel.outline.find((e) => e.name === spot.edge);
  if (!edge) return null;
  const inset = spot.inset.trim() === '' ? 0 : spot.inset.trim();
  if (inset === 0 || w.value(inset) === 0) return `${spot.edge}[${Number((100 * spot.share).toFixed(2))}%]`;
  const size = rectangleOf(document, spot.panel);
  const part = (whole: string | number, share: number): string | number => (share <= 0 ? 0 : share >= 1 ? whole : w.between(0, whole, share));
  if (size && ['bottom', 'right', 'top', 'left'].includes(spot.edge)) {
    const [width, height] = size;
    switch (spot.edge) {
      case 'bottom':
        return [part(width, spot.share), inset];
      case 'top':
        return [part(width, 1 - spot.share), w.sum(height, inset, -1)];
      case 'right':
        return [w.sum(width, inset, -1), part(height, spot.share)];
      default:
        return [inset, part(height, 1 - spot.share)];
    }
  }
  const curve = curveOf(edge);
  const [[x, y], [tx, ty]] = [curve.at(spot.share), curve.tangent(spot.share)];
  const far = w.value(inset);
  // The cloth lies to the left of every edge.
  return w.point([x - far * ty, y + far * tx]);
}

/** Places of feet: four at the corners, a fifth in the middle, or a fifth and sixth along the long sides; each so far in from the edge. */
export function footSpots(document: BagDocument, panel: Panel, w: Writer, count: number, inset: string): Written[] {
  const size = rectangleOf(document, panel.name);
  const sharp = panel.outline.length === 4;
  if (size && sharp) {
    const [width, height] = size;
    const [right, up] = [w.sum(width, inset, -1), w.sum(height, inset, -1)];
    const [midX, midY] = [w.between(0, width, 0.5), w.between(0, height, 0.5)];
    const long = w.value(width) >= w.value(height);
    const more = count === 5 ? [[midX, midY]] : count === 6 ? (long ? [[midX, inset], [midX, up]] : [[inset, midY], [right, midY]]) : []; // biome-ignore format: places
    return [[inset, inset], [right, inset], [right, up], [inset, up], ...more]; // biome-ignore format: places
  }
  const polygon = polygonOf([...panel.outline]);
  const [xs, ys] = [polygon.map((p) => p[0]), polygon.map((p) => p[1])];
  const box = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
  const middle: Point2 = [(box[0] + box[1]) / 2, (box[2] + box[3]) / 2];
  const toward = (x: number, y: number): Written => w.point(inward(polygon, middle, [x - middle[0], y - middle[1]], w.value(inset)));
  const long = box[1] - box[0] >= box[3] - box[2];
  const sides: Written[] = long ? [toward(middle[0], box[2]), toward(middle[0], box[3])] : [toward(box[0], middle[1]), toward(box[1], middle[1])];
  const corners = [toward(box[0], box[2]), toward(box[1], box[2]), toward(box[1], box[3]), toward(box[0], box[3])];
  return [...corners, ...(count === 5 ? [w.point(middle)] : count === 6 ? sides : [])];
}

/** From the middle toward a direction as far as the outline, less a distance. */
function inward(polygon: readonly Point2[], from: Point2, toward: Point2, less: number): Point2 {
  const long = libm.hypot(toward[0], toward[1]);
  const [dx, dy] = [toward[0] / long, toward[1] / long];
  let far = 0;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const cross = dx * ey - dy * ex;
    if (Math.abs(cross) < 1e-12) return;
    const t = ((a[0] - from[0]) * ey - (a[1] - from[1]) * ex) / cross;
    const s = ((a[0] - from[0]) * dy - (a[1] - from[1]) * dx) / cross;
    if (t > 0 && s >= -1e-9 && s <= 1 + 1e-9) far = Math.max(far, t);
  });
  const t = Math.max(0, far - less);
  return [from[0] + t * dx, from[1] + t * dy];
}
