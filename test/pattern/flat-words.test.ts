import { describe, expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { flatSvg } from '../../src/pattern/index.ts';

interface Box {
  readonly what: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Mean breadth of a figure or letter of the sans serif that the sheet asks for, as a share of its size: 0.55, from memory. */
const BREADTH = 0.55;

/** Badges and upright lengths of one panel as boxes, mm of the sheet. k: size of the words. */
function boxes(panel: string, k: number): Box[] {
  const badges = [
    ...panel.matchAll(/<rect class="badge" x="([\d.-]+)" y="([\d.-]+)" width="([\d.]+)" height="([\d.]+)"[^>]*\/><text class="letter"[^>]*>([^<]*)/g),
  ];
  const sizes = [...panel.matchAll(/<text class="size" x="([\d.-]+)" y="([\d.-]+)">([^<]*)/g)];
  return [
    ...badges.map(([, x, y, w, h, what]) => ({ what: `letter ${what}`, left: +x, right: +x + +w, top: +y, bottom: +y + +h })),
    ...sizes.map(([, x, y, what]) => {
      const half = (BREADTH * 11 * k * what.length) / 2;
      return { what, left: +x - half, right: +x + half, top: +y - 8 * k, bottom: +y };
    }),
  ];
}

describe.each(['boxed-tote', 'piped-tote'])('the flat view of the %s', (name) => {
  const bag = parseBag(newBag(name));
  const draft = draftPanels(bag);

  it.each([
    [1, 'metric'],
    [1, 'inch'],
    [1.35, 'inch'],
    [1.7, 'inch'],
    [1.7, 'metric'],
    [2.2, 'inch'],
  ] as const)('at %f times the usual words, %s: no letter or length lies on another, and none on the fold over its base', (k, units) => {
    const svg = flatSvg(bag, draft, { text: k, units });
    const panels = svg.split('<g class="flat-panel"').slice(1);
    expect(panels.length).toBe(2);
    for (const panel of panels) {
      const all = boxes(panel, k);
      expect(all.length).toBeGreaterThanOrEqual(12);
      const pairs = all.flatMap((a, i) => all.slice(i + 1).map((b) => [a, b] as const));
      const met = pairs.filter(([a, b]) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom);
      expect(met.map(([a, b]) => `${a.what} on ${b.what}`)).toEqual([]);
      // Level fold lines: M x y L x y.
      const folds = [...panel.matchAll(/class="fold" d="M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)"/g)].filter(([, , a, , b]) => Math.abs(+a - +b) < 0.01);
      expect(folds.length).toBeGreaterThan(0);
      const crossed = folds.flatMap(([, x, y, u]) =>
        all.filter((b) => b.top < +y && b.bottom > +y && b.left < Math.max(+x, +u) && b.right > Math.min(+x, +u)).map((b) => b.what),
      );
      expect(crossed).toEqual([]);
    }
  });
});
