import { describe, expect, test } from 'vitest';
import { BagError, curveOf, parseBag } from '../../src/bag/index.ts';
import { distanceToPolygon, polygonArea } from '../../src/numerics/index.ts';
import { cutPattern } from '../../src/pattern/cutting.ts';
import { pair } from './cut-bags.ts';

const shellOf = (bag: Parameters<typeof cutPattern>[0]) => cutPattern(bag).pieces.filter((p) => p.kind === 'shell');
const near = (value: number, expected: number, relative: number, why: string): void => {
  expect(Math.abs(value / expected - 1), `${value} for ${expected}: relative error over ${relative}; ${why}`).toBeLessThan(relative);
};

describe('cut lines', () => {
  test('a rectangle of 300 x 200 mm with allowances of 6, 10 and 13 mm and a raw mouth is (w + 6 + 10)(h + 13) to 1e-6', () => {
    const bag = pair({ rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] }, { left: '6 mm', right: '10 mm', bottom: '13 mm' });
    const [front] = shellOf(bag);
    near(front!.area, (0.3 + 0.006 + 0.01) * (0.2 + 0.013), 1e-6, 'mitred corners are rectangles; coordinates are whole tenths of a micrometre');
    near(front!.net, 0.3 * 0.2, 1e-6, 'the stitch line as drawn');
  });

  test('a round base of 180 mm with 10 mm has the area of a circle of 200 mm to 1e-4', () => {
    const bag = pair({ circle: { diameter: '180 mm' } }, { rim: '10 mm' });
    near(shellOf(bag)[0]!.area, Math.PI * 0.1 ** 2, 1e-4, 'chords stray by 0.004 mm');
  });

  test('two rounded and two square corners, 10 mm all round but the raw mouth: exact offset area (Steiner) to 1e-4', () => {
    const [w, h, r, a] = [0.33, 0.25, 0.05, 0.01];
    const bag = pair(
      {
        rectangle: { width: '330 mm', height: '250 mm', radius: ['50 mm', '50 mm', 0, 0] },
        open: ['top'],
        chains: { around: ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'] },
      },
      { around: '10 mm' },
    );
    const net = w * h - 2 * (1 - Math.PI / 4) * r * r;
    // Three sides and two quarter arcs grow outward; at the mouth the allowances end square.
    const exact = net + a * (w - 2 * r + 2 * (h - r)) + 2 * (Math.PI / 4) * ((r + a) ** 2 - r * r);
    near(shellOf(bag)[0]!.area, exact, 1e-4, 'Steiner: area + allowance x length + sector');
  });

  test('beside a curved edge the cut line is everywhere within 0.05 mm of the exact offset', () => {
    const bag = pair(
      {
        outline: [
          { at: [0, 0], edge: 'bottom' },
          {
            at: ['300 mm', 0],
            edge: 'right',
            curve: [
              ['340 mm', '80 mm'],
              ['270 mm', '160 mm'],
            ],
          },
          { at: ['300 mm', '240 mm'], edge: 'top' },
          { at: [0, '240 mm'], edge: 'left' },
        ],
        open: ['top'],
      },
      { bottom: '10 mm', right: '12 mm', left: '10 mm' },
    );
    const [front] = shellOf(bag);
    const edge = bag.panels[0]!.outline.find((e) => e.name === 'right')!;
    const curve = curveOf(edge);
    let worst = 0;
    for (let i = 5; i <= 195; i++) {
      const [[x, y], [tx, ty]] = [curve.at(i / 200), curve.tangent(i / 200)];
      worst = Math.max(worst, distanceToPolygon([x + 0.012 * ty, y - 0.012 * tx], front!.cut[0]!));
    }
    expect(worst * 1000, 'mm; the bar of the pattern').toBeLessThan(0.05);
  });

  test('a hem of 30 mm on a panel that tapers to its mouth ends as the mirror image of the side', () => {
    const bag = pair(
      { trapezoid: { bottom: '400 mm', top: '300 mm', height: '250 mm' }, open: ['top'] },
      { left: '10 mm', right: '10 mm', bottom: '10 mm' },
      {
        panel: { finishes: { top: { finish: 'turned once', width: '30 mm' } } },
      },
    );
    const [front] = shellOf(bag);
    const top = Math.max(...bag.panels[0]!.outline.map((e) => e.from[1]));
    const slope = 50 / 250;
    // Side's cut line at the fold lies 10 mm off the slanted side; below the fold it widens by the slope, so above it the hem widens as well.
    const side = Math.hypot(1, slope) * 0.01;
    const reach = Math.max(...front!.cut[0]!.filter((p) => Math.abs(p[1] - (top + 0.03)) < 1e-6).map((p) => p[0])) - 0;
    const middle = (bag.panels[0]!.outline.find((e) => e.name === 'top')!.from[0] + bag.panels[0]!.outline.find((e) => e.name === 'top')!.to[0]) / 2;
    expect(reach - middle, 'm from the middle of the mouth to the corner of the hem').toBeCloseTo(0.15 + side + 0.03 * slope, 6);
  });

  test('turned seams: a square corner is cut off one allowance beyond it, which takes ((sqrt 2 - 1) a)^2 from the mitre', () => {
    const bag = pair(
      { rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] },
      { left: '10 mm', right: '10 mm', bottom: '10 mm' },
      { seam: { type: 'turned' } },
    );
    const lost = ((Math.SQRT2 - 1) * 0.01) ** 2;
    near(shellOf(bag)[0]!.area, 0.32 * 0.21 - 2 * lost, 1e-6, 'two corners; at the raw mouth the allowances end square');
  });

  test('a turned edge that runs round a mitred corner is cut 3 mm beyond it, at 45 degrees', () => {
    const [h, d] = [0.02, 0.003];
    const bag = pair(
      { rectangle: { width: '300 mm', height: '200 mm' }, open: ['right', 'top'], chains: { free: ['right', 'top'] } },
      { left: '10 mm', bottom: '10 mm' },
      { panel: { finishes: { free: { finish: 'turned once', width: '20 mm', mitre: true } } } },
    );
    // Both hems lose what lies beyond the cut, a triangle of legs h - d sqrt 2; the corner keeps one of legs d sqrt 2; at their other ends they meet sides square.
    const leg = d * Math.SQRT2;
    const exact = 0.3 * 0.2 + 0.01 * (0.3 + 0.2) + 0.01 * 0.01 + h * (0.3 + 0.2) + 2 * (0.01 * h) - (h - leg) ** 2 + leg ** 2 / 2;
    near(shellOf(bag)[0]!.area, exact, 1e-6, 'left-bottom corner mitred, two folded ends of 10 x 20 mm, one mitred turn');
  });

  test('an allowance of 10 mm on a hollow of 8 mm is refused with its path and the 8 mm that fit', () => {
    const bag = pair(
      {
        outline: [
          { at: [0, 0], edge: 'bottom' },
          { at: ['200 mm', 0], edge: 'right' },
          { at: ['200 mm', '150 mm'], edge: 'shoulder' },
          { at: ['108 mm', '150 mm'], edge: 'dip', through: ['100 mm', '142 mm'] },
          { at: ['92 mm', '150 mm'], edge: 'rest' },
          { at: [0, '150 mm'], edge: 'left' },
        ],
        open: ['shoulder', 'rest'],
      },
      { dip: '10 mm', bottom: '10 mm', left: '10 mm', right: '10 mm' },
    );
    let faults: readonly { path: string; got: string; expected: string }[] = [];
    try {
      cutPattern(bag);
    } catch (error) {
      if (!(error instanceof BagError)) throw error;
      faults = error.faults;
    }
    expect(faults.map((f) => f.path)).toContain('seams.sewn dip.allowance');
    expect(faults.find((f) => f.path === 'seams.sewn dip.allowance')!.expected).toMatch(/at most 8 mm/);
  });

  test('10 mm on both sides of a slot 12 mm wide is refused; 5 mm is cut', () => {
    const slot = (allowance: string) =>
      pair(
        {
          outline: [
            { at: [0, 0], edge: 'a' },
            { at: ['94 mm', 0], edge: 'b' },
            { at: ['94 mm', '60 mm'], edge: 'c' },
            { at: ['106 mm', '60 mm'], edge: 'd' },
            { at: ['106 mm', 0], edge: 'e' },
            { at: ['200 mm', 0], edge: 'f' },
            { at: ['200 mm', '150 mm'], edge: 'top' },
            { at: [0, '150 mm'], edge: 'g' },
          ],
          open: ['top', 'c'],
        },
        { b: allowance, d: allowance, a: '10 mm', e: '10 mm', f: '10 mm', g: '10 mm' },
      );
    expect(() => cutPattern(slot('10 mm'))).toThrow(/at most/);
    expect(polygonArea(shellOf(slot('5 mm'))[0]!.cut[0]!), 'm2').toBeGreaterThan(0.0293);
  });

  test('a boxed corner of 18 mm with 10 mm on both of its edges is cut: the corner takes more than half of each, not all', () => {
    const boxed = pair(
      {
        outline: [
          { at: ['18 mm', 0], edge: 'bottom' },
          { at: ['182 mm', 0], edge: 'up' },
          { at: ['182 mm', '18 mm'], edge: 'out' },
          { at: ['200 mm', '18 mm'], edge: 'right' },
          { at: ['200 mm', '150 mm'], edge: 'top' },
          { at: [0, '150 mm'], edge: 'left' },
          { at: [0, '18 mm'], edge: 'in' },
          { at: ['18 mm', '18 mm'], edge: 'down' },
        ],
        open: ['top'],
      },
      { bottom: '10 mm', left: '10 mm', right: '10 mm', up: '10 mm', out: '10 mm', in: '10 mm', down: '10 mm' },
    );
    near(shellOf(boxed)[0]!.area, 0.22 * (0.15 + 0.01) - 2 * 0.018 ** 2, 1e-6, 'a box with two square notches of 18 mm, each moved outward as a whole');
  });

  test('interfacing ends 3 mm and a base board 5 mm inside the stitch line where that is asked for', () => {
    const bag = parseBag(
      JSON.stringify({
        slumpline: 1,
        name: 'layers',
        wanted: 'soft',
        panels: { front: { rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] }, back: { copy: 'front' } },
        seams: Object.fromEntries(['left', 'right', 'bottom'].map((e) => [e, [`front.${e}`, `back.${e}`]])),
        stacks: { all: ['canvas10', { fused: 'fus_heavy' }, { loose: 'pp1' }, { loose: 'poplin', ease: 0.02 }] },
        options: { plain: { 'every panel': 'all' } },
      }),
    );
    const { pieces } = cutPattern(bag, undefined, { boardMargin: 0.005 });
    const area = (kind: string): number => pieces.find((p) => p.kind === kind)!.area;
    near(area('interfacing'), (0.3 - 0.006) * (0.2 - 0.006), 1e-6, '3 mm inside all round');
    near(area('board'), 0.29 * 0.19, 1e-6, '5 mm inside all round');
    near(area('lining'), (0.3 * 1.02 + 0.02) * (0.2 * 1.02 + 0.01), 1e-6, '2 % of ease both ways, then 10 mm on three sides');
  });

  test('back and flap that a fold joins in one stack are one piece; in two stacks they are two', () => {
    const flapped = (flap: string) =>
      parseBag(
        JSON.stringify({
          slumpline: 1,
          name: 'flapped',
          wanted: 'soft',
          panels: {
            front: { rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] },
            back: { copy: 'front', open: [] },
            flap: { rectangle: { width: '300 mm', height: '120 mm' }, open: ['left', 'right', 'top'] },
          },
          seams: {
            ...Object.fromEntries(['left', 'right', 'bottom'].map((e) => [e, [`front.${e}`, `back.${e}`]])),
            turn: { join: ['back.top', 'flap.bottom'], type: 'fold', allowance: '5 mm' },
          },
          stacks: { a: ['canvas10'], b: ['canvas12'] },
          options: { plain: { 'every panel': 'a', flap } },
        }),
      );
    const one = cutPattern(flapped('a')).pieces;
    expect(one.map((p) => p.name)).toEqual(['front', 'back + flap']);
    near(one[1]!.area, 0.32 * 0.21 + 0.3 * 0.12, 1e-6, 'three allowances of the back, none at the fold, a raw flap');
    expect(cutPattern(flapped('b')).pieces.map((p) => p.name)).toEqual(['front', 'back', 'flap']);
  });
});
