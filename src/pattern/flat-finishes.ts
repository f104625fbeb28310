import { stripAlong } from '../bag/index.ts';
import type { Bag, EdgeFinish, Panel, Point2 } from '../bag/types.ts';
import { escapeXml, formatInches, formatMm } from '../units/index.ts';

/** What a finish is called beside its width. */
const CALLED: Readonly<Record<EdgeFinish['finish'], string>> = {
  raw: 'raw edge',
  'turned once': 'turned once',
  'turned twice': 'hem, turned twice',
  faced: 'facing',
  bound: 'binding',
};

/** Finished edges of a panel on its drawing: the band that is turned in, faced or bound, and the row of stitches along its inner side. Nothing of a raw edge. */
export function finishBands(bag: Bag, panel: Panel, at: (q: Point2) => readonly [number, number], units: 'metric' | 'inch'): string {
  return (bag.finishes ?? [])
    .filter((f) => f.panel === panel.name && f.width > 0)
    .map((f) => {
      const { outer, inner } = stripAlong(f.runs, panel.outline, f.width);
      const line = (points: readonly Point2[]): string => points.map((q) => pair(at(q))).join('L');
      const said = `${f.edge}: ${CALLED[f.finish]}, ${units === 'inch' ? formatInches(f.width) : formatMm(f.width)}`;
      return `<g class="finish"><title>${escapeXml(said)}</title><path class="hem" d="M${line([...outer, ...[...inner].reverse()])}Z"/><path class="hem-row" d="M${line(inner)}"/></g>`;
    })
    .join('');
}

const n = (v: number): string => (Math.round(v * 100) / 100).toString();
const pair = ([x, y]: readonly [number, number]): string => `${n(x)} ${n(y)}`;
