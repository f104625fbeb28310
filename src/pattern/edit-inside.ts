import { type BagDocument, polygonOf, withValue } from '../bag/index.ts';
import type { Bag, Point2 } from '../bag/types.ts';
import { followersOf, freeName, listOf, ownerOf, panelForm, record, type Writer } from './edit-document.ts';
import { lostWith, mapReferences, type Reference, withoutReferences } from './references.ts';

export type Inside = 'mark' | 'hole' | 'line';

/** A mark at a place of a panel. */
export function addMark(document: BagDocument, w: Writer, panel: string, at: Point2, wanted: string): BagDocument {
  const name = freeName(wanted, Object.keys(record(panelForm(document, panel).marks) ?? {}));
  return withValue(document, ['panels', panel, 'marks', name], w.point(at));
}

/** A notch: a mark on an edge, at a share of its length, that stays there whatever becomes of the edge. */
export function addNotch(document: BagDocument, panel: string, edge: string, share: number, wanted: string): BagDocument {
  const name = freeName(wanted, Object.keys(record(panelForm(document, panel).marks) ?? {}));
  return withValue(document, ['panels', panel, 'marks', name], `${edge}[${Number((100 * share).toFixed(2))}%]`);
}

/** A round or square hole with its middle at a place. Holes of a copied panel are those of the panel it is copied from. */
export function addHole(document: BagDocument, w: Writer, panel: string, at: Point2, size: string, round: boolean): BagDocument {
  const { owner } = ownerOf(document, panel);
  const half = w.value(size) / 2;
  const hole = round
    ? { circle: { diameter: size, centre: w.point(at) } }
    : { rectangle: { width: size, height: size, at: w.point([at[0] - half, at[1] - half]) } };
  return withValue(document, ['panels', owner, 'holes'], [...listOf(panelForm(document, owner).holes), hole]);
}

/** A line from place to place; `fold`: the cloth that its crease takes up, null for a line that is only marked. */
export function addLine(document: BagDocument, w: Writer, panel: string, points: readonly Point2[], fold: string | null, wanted: string): BagDocument {
  const name = freeName(wanted, Object.keys(record(panelForm(document, panel).lines) ?? {}));
  return withValue(document, ['panels', panel, 'lines', name], { points: points.map((p) => w.point(p)), ...(fold === null ? {} : { fold }) });
}

/** Ends of a level or an upright line through a place, from side to side of a panel: where it first leaves the outline either way. */
export function acrossPanel(bag: Bag, panel: string, at: Point2, upright: boolean): readonly [Point2, Point2] | null {
  const outline = bag.panels.find((p) => p.name === panel)?.outline;
  if (!outline) return null;
  const [own, other] = upright ? [0, 1] : [1, 0];
  const points = polygonOf([...outline]);
  const met: number[] = [];
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length];
    if (a[own] > at[own] === b[own] > at[own]) return;
    met.push(a[other] + ((b[other] - a[other]) * (at[own] - a[own])) / (b[own] - a[own]));
  });
  const low = Math.max(...met.filter((v) => v < at[other]));
  const high = Math.min(...met.filter((v) => v > at[other]));
  if (!Number.isFinite(low) || !Number.isFinite(high)) return null;
  return upright
    ? [
        [at[0], low],
        [at[0], high],
      ]
    : [
        [low, at[1]],
        [high, at[1]],
      ];
}

/**
 * The document without a mark, a line or a hole ("2": the second one), and without what cannot be without it: a cord along the line, a gather from the mark.
 * Edges of later holes go by their new numbers.
 */
export function deleteInside(
  document: BagDocument,
  panel: string,
  what: Inside,
  name: string,
): { readonly document: BagDocument; readonly notes: readonly string[] } {
  if (what !== 'hole') {
    const { document: rest, lost } = withoutReferences(document, (ref) => ref.kind === what && ref.panel === panel && ref.name === name);
    return { document: withValue(rest, ['panels', panel, what === 'mark' ? 'marks' : 'lines', name], undefined), notes: lostWith(lost) };
  }
  const { owner } = ownerOf(document, panel);
  const gone = Number(name.split(' ')[0]);
  const panels = followersOf(document, owner);
  const numberOf = (ref: Reference): number => (ref.kind === 'edge' && panels.includes(ref.panel) ? Number(/^hole(\d+) /.exec(ref.name)?.[1] ?? 0) : 0);
  const { document: rest, lost } = withoutReferences(document, (ref) => numberOf(ref) === gone);
  const now = mapReferences(rest, (ref) => (numberOf(ref) > gone ? { ...ref, name: ref.name.replace(/\d+/, String(numberOf(ref) - 1)) } : ref));
  const left = listOf(panelForm(now, owner).holes).filter((_, i) => i !== gone - 1);
  return { document: withValue(now, ['panels', owner, 'holes'], left.length > 0 ? left : undefined), notes: lostWith(lost) };
}
