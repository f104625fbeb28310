/** Full-size corner templates, read back as geometry. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import { cornerSheets, cutLength } from '../../src/report/index.ts';

const doc = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const bag = parseBag({
  ...doc,
  stacks: { ...doc.stacks, web: ['web_cotton'] },
  straps: {
    handle: {
      width: '25 mm',
      length: '560 mm',
      stack: 'web',
      from: { panel: 'front', 'from left': '90 mm', kind: 'box with cross' },
      to: 'mirrored',
      'also on': ['back'],
    },
  },
});

/** Millimetres on paper of one unit of the drawing, across and down. */
const scaleOf = (svg: string): [number, number] => {
  const [, w, h, x, y] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.map(Number) as number[];
  return [w! / x!, h! / y!];
};

/** Points of a path of M, L, Z alone. */
const points = (d: string): number[][] => [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);

describe.each([
  ['a4', 210, 297],
  ['letter', 215.9, 279.4],
] as const)('corner template on %s, %d x %d mm', (paper, wide, tall) => {
  const sheets = cornerSheets(bag, 'handle', paper),
    { svg } = sheets[0]!;

  it('1 sheet for the 4 ends alike, of the size of the paper', () => {
    expect(sheets.map((s) => s.ends)).toEqual([['left of front', 'right of front', 'left of back', 'right of back']]);
    expect(svg).toContain(`width="${wide}mm" height="${tall}mm"`);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('the bar is 50.0 mm long on paper, the patch 25.0 x 25.0 mm, 90.0 mm from the side and 25.0 mm under the top', () => {
    const [sx, sy] = scaleOf(svg),
      bar = Number(/class="bar" d="M[\d.]+ [\d.]+h([\d.]+)M/.exec(svg)![1]) * sx,
      patch = points(/class="patch" d="([^"]+)"/.exec(svg)![1]!),
      panel = points(/class="panel" d="([^"]+)"/.exec(svg)![1]!);
    const range = (p: number[][], k: number): [number, number] => [Math.min(...p.map((q) => q[k]!)), Math.max(...p.map((q) => q[k]!))];
    const [px, py, ox, oy] = [range(patch, 0), range(patch, 1), range(panel, 0), range(panel, 1)];
    console.log(`bar ${bar} mm; patch ${(px[1] - px[0]) * sx} x ${(py[1] - py[0]) * sy} mm`);
    expect(bar).toBeCloseTo(50, 9);
    expect((px[1] - px[0]) * sx).toBeCloseTo(25, 2);
    expect((py[1] - py[0]) * sy).toBeCloseTo(25, 2);
    expect(((px[0] + px[1]) / 2 - ox[0]) * sx).toBeCloseTo(90, 2);
    expect((py[0] - oy[0]) * sy).toBeCloseTo(25, 2);
  });

  it('no line of words is wider than the 186 mm between the margins, at 2 mm a letter', () => {
    const lines = [...svg.matchAll(/<text x="12" [^>]*>([^<]+)<\/text>/g)].map((m) => m[1]!.replaceAll('&#39;', "'"));
    expect(lines.length).toBeGreaterThanOrEqual(4);
    for (const line of lines) expect(2 * line.length, line).toBeLessThanOrEqual(186);
  });

  it('bar and patch lie 12 mm inside the paper; the patch has its cross', () => {
    const [, x, y, long] = /class="bar" d="M([\d.]+) ([\d.]+)h([\d.]+)M/.exec(svg)!.map(Number) as number[];
    expect(x! >= 12 && x! + long! <= wide - 12 && y! <= tall - 12).toBe(true);
    for (const [px, py] of points(/class="patch" d="([^"]+)"/.exec(svg)![1]!))
      expect(px! >= 12 && px! <= wide - 12 && py! >= 12 && py! <= tall - 12).toBe(true);
    expect(/class="stitches" d="([^"]+)"/.exec(svg)![1]!.match(/M/g)).toHaveLength(3);
  });
});

it('cut length of a strap 560 mm between patches of 25 mm, 25 mm turned under at each end: 660 mm', () =>
  expect(cutLength(bag.straps[0]!)).toBeCloseTo(0.66, 12));
