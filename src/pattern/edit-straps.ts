import { type BagDocument, parseBagDocument, withValue } from '../bag/index.ts';
import type { Bag, Point2 } from '../bag/types.ts';
import { freeName, listOf, opposite, panelsOf, record, type Writer } from './edit-document.ts';

export interface NewStrap {
  readonly panel: string;
  /** Middles of its two patches, m, each in the frame of its own panel. */ readonly ends: readonly [Point2, Point2];
  /** Panel of the second end, where it is another. */ readonly to?: string;
  readonly width: string;
  readonly length: string;
  /** The same strap on the panel that follows this one's outline. */ readonly both: boolean;
}

/** A webbing that straps are made of: that of the straps there are, else a stack of webbing, else a new one. */
function strapStack(document: BagDocument): { readonly document: BagDocument; readonly stack: string } {
  const used = Object.values(record(document.value.straps) ?? {}).map((s) => record(s)?.stack);
  const stacks = Object.entries(record(document.value.stacks) ?? {});
  const known = used.find((s) => typeof s === 'string') ?? stacks.find(([, layers]) => listOf(layers).some((l) => String(l).startsWith('web_')))?.[0];
  if (typeof known === 'string') return { document, stack: known };
  const stack = freeName(
    'webbing',
    stacks.map(([name]) => name),
  );
  return { document: withValue(document, ['stacks', stack], ['web_cotton']), stack };
}

/** How a patch at a place is written: its distances from the side of its panel that is nearer and from the top. */
interface End {
  readonly panel: string;
  readonly side: 'from left' | 'from right';
  readonly at: Point2;
}

/**
 * A strap drawn from place to place. Two ends that lie as far from either side are written as one and its mirror image, so that they stay a pair. Distances
 * are measured on the bag as it is read back, twice, since a slanting side gives another distance at another height.
 */
export function addStrap(document: BagDocument, bag: Bag, w: Writer, strap: NewStrap): { readonly document: BagDocument; readonly name: string } {
  const { document: base, stack } = strapStack(document);
  const straps = record(document.value.straps) ?? {};
  const name = freeName(Object.keys(straps).length === 0 ? 'handle' : 'strap', [...Object.keys(straps), ...Object.keys(panelsOf(document))]);
  const other = strap.to ?? strap.panel;
  const box = (panel: string): readonly [number, number, number] => {
    const points = bag.panels.find((p) => p.name === panel)?.outline.flatMap((e) => [e.from, e.to]) ?? [[0, 0]];
    return [Math.min(...points.map((p) => p[0])), Math.max(...points.map((p) => p[0])), Math.max(...points.map((p) => p[1]))];
  };
  const ends = ([0, 1] as const).map((i): End => {
    const panel = i === 0 ? strap.panel : other;
    const [low, high] = box(panel);
    return { panel, side: strap.ends[i][0] - low <= high - strap.ends[i][0] ? 'from left' : 'from right', at: strap.ends[i] };
  });
  const from = (end: End): number => (end.side === 'from left' ? end.at[0] - box(end.panel)[0] : box(end.panel)[1] - end.at[0]);
  const step = w.unit === 'in' ? 0.0254 / 16 : 0.001;
  const pair =
    strap.panel === other &&
    ends[0].side !== ends[1].side &&
    Math.abs(from(ends[0]) - from(ends[1])) < 0.012 &&
    Math.abs(ends[0].at[1] - ends[1].at[1]) < 0.012;
  const partner = strap.both && strap.panel === other ? opposite(document, strap.panel) : null;
  const place = ends.map((end) => ({ side: from(end), top: Math.max(0, box(end.panel)[2] - end.at[1] - w.value(strap.width) / 2) }));
  const written = (i: 0 | 1): Record<string, unknown> => ({
    panel: ends[i].panel,
    [ends[i].side]: w.figure(Math.max(step, Math.round(place[i].side / step) * step)),
    'from top': w.figure(Math.round(place[i].top / step) * step),
  });
  const made = (): BagDocument =>
    withValue(base, ['straps', name], {
      width: strap.width,
      length: strap.length,
      stack,
      from: written(0),
      to: pair ? 'mirrored' : written(1),
      ...(partner === null ? {} : { 'also on': [partner] }),
    });
  for (let round = 0; round < 2; round++) {
    const anchors = parseBagDocument(withRoom(made()).value).bag.straps.find((s) => s.name === name)?.anchors;
    ends.forEach((end, i) => {
      const now = anchors?.[i];
      if (!now || (pair && i === 1)) return;
      place[i].side += (end.at[0] - now.at[0]) * (end.side === 'from left' ? 1 : -1);
      place[i].top = Math.max(0, place[i].top + now.at[1] - end.at[1]);
    });
  }
  return { document: withRoom(made()), name };
}

/** A bag whose stances are written and none of which hangs gets one that does: a strap carries only there. */
function withRoom(document: BagDocument): BagDocument {
  const stances = record(document.value.stances);
  if (!stances || Object.values(stances).some((s) => record(s)?.kind === 'hung' || record(s)?.from !== undefined) || record(stances.hung)) return document;
  return withValue(document, ['stances', 'hung'], { from: 'hook' });
}

/** A strap taken off; stances that name it hang from the others. */
export function deleteStrap(document: BagDocument, strap: string): BagDocument {
  let out = withValue(document, ['straps', strap], undefined);
  if (Object.keys(record(out.value.straps) ?? {}).length === 0) out = withValue(out, ['straps'], undefined);
  for (const [name, stance] of Object.entries(record(out.value.stances) ?? {})) {
    const listed = record(stance)?.straps;
    const left = listOf(listed).filter((s) => s !== strap && !String(s).startsWith(`${strap} on `));
    const hangs = record(stance)?.kind === 'hung' || name === 'hung' || record(stance)?.from !== undefined;
    if (hangs && out.value.straps === undefined) out = withValue(out, ['stances', name], undefined);
    else if (listed !== undefined && left.length < listOf(listed).length) out = withValue(out, ['stances', name, 'straps'], left.length > 0 ? left : undefined);
  }
  return record(out.value.stances) && Object.keys(record(out.value.stances) ?? {}).length === 0 ? withValue(out, ['stances'], undefined) : out;
}
