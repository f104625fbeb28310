import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  anchorRange,
  bagJsonSchema,
  parseBag,
  parseBagDocument,
  printBag,
  strapCut,
  strapFamily,
  strapNames,
  templates,
  withAnchorsAt,
  withParameter,
} from '../../src/bag/index.ts';
import { faultsOf, file, RECTANGLE } from './made.ts';

/** Panel p of 300 x 240 mm and others; one strap "handle" as given. */
const handle = (strap: object, more: object = {}) => ({ straps: { handle: { width: '25 mm', length: '560 mm', stack: 'plain', ...strap } }, ...more });
const LEVEL = { from: { panel: 'p', 'from left': '75 mm' }, to: 'mirrored' };
const bag = (strap: object, others: object = {}, shape: object = RECTANGLE) => parseBag(file(shape, others, handle(strap)));

describe('a strap', () => {
  it('lies by its distances from side and top to 1e-12 m, its mirrored end as far from the other side', () => {
    const [s] = bag({ from: { panel: 'p', 'from left': '75 mm', 'from top': '30 mm', height: '20 mm' }, to: 'mirrored' }).straps;
    expect(s).toMatchObject({ name: 'handle', width: 0.025, length: 0.56, stack: 'plain', layers: 1 });
    const [a, b] = s.anchors;
    expect(a).toMatchObject({ panel: 'p', kind: 'box with cross', width: 0.025, height: 0.02 });
    for (const [got, want] of [
      [a.at[0], 0.075],
      [b.at[0], 0.225],
      [a.at[1], 0.24 - 0.03 - 0.01],
      [b.at[1], 0.24 - 0.03 - 0.01],
    ])
      expect(Math.abs(got - want)).toBeLessThan(1e-12);
  });

  it('states how its ends are sewn on, on every copy: thread in N, stitches of 3 mm unless told; nothing without a thread', () => {
    const [one, two] = bag({ ...LEVEL, thread: '2.6 lbf', 'also on': ['q'] }, { q: { copy: 'p' } }).straps;
    expect(one.sewn!.stitch).toBe(0.003);
    expect(one.sewn!.thread).toBeCloseTo(11.5654, 4);
    expect(two.sewn).toEqual(one.sewn);
    expect(bag({ ...LEVEL, thread: '60 N', stitch: '1/8 in' }).straps[0].sewn).toEqual({ stitch: 0.003175, thread: 60 });
    expect(bag(LEVEL).straps[0]).not.toHaveProperty('sewn');
  });

  it('keeps left and right, front and back paired when the width changes', () => {
    const text = printBag({
      value: file(
        { rectangle: { width: 'W', height: '240 mm' } },
        { q: { copy: 'p' } },
        handle({ from: { panel: 'p', 'from left': 'W/4' }, to: 'mirrored', 'also on': ['q'] }, { parameters: { W: '300 mm' } }),
      ),
    });
    const { document } = parseBagDocument(text);
    expect(printBag(document)).toBe(text);
    for (const W of [0.2, 0.3, 0.45]) {
      const { straps } = parseBagDocument(withParameter(document, 'W', `${W} m`).value).bag;
      expect(straps.map((s) => s.name)).toEqual(['handle', 'handle on q']);
      for (const { anchors } of straps) {
        expect(Math.abs(anchors[0].at[0] - W / 4)).toBeLessThan(1e-12);
        expect(Math.abs(anchors[1].at[0] - (3 * W) / 4)).toBeLessThan(1e-12);
      }
      expect(straps[1].anchors.map((a) => a.panel)).toEqual(['q', 'q']);
    }
  });

  it('is measured level to a slanted side and straight down from a scooped mouth (1e-8 m)', () => {
    // Side x = -50 mm at the top of 240 mm, 0 at the foot: x = -50 y/240.
    const [slanted] = bag(LEVEL, {}, { trapezoid: { bottom: '300 mm', top: '400 mm', height: '240 mm' } }).straps;
    const y = 0.24 - 0.025 - 0.0125;
    expect(Math.abs(slanted.anchors[0].at[1] - y)).toBeLessThan(1e-8);
    expect(Math.abs(slanted.anchors[0].at[0] - ((-0.05 * y) / 0.24 + 0.075))).toBeLessThan(1e-8);
    // Mouth: two straight lines down to the middle, 100 mm lower there.
    const vee = {
      outline: [{ at: [0, 0] }, { at: ['300 mm', 0] }, { at: ['300 mm', '240 mm'] }, { at: ['150 mm', '140 mm'] }, { at: [0, '240 mm'] }],
    };
    const [scooped] = bag({ from: { panel: 'p', 'from left': '60 mm', 'from top': '40 mm', kind: 'rivet' }, to: 'mirrored' }, {}, vee).straps;
    const edge = 0.24 - (0.06 * 0.1) / 0.15;
    console.log(`rivet at ${scooped.anchors[0].at[1]} m, expected ${edge - 0.04 - 0.0045}`);
    expect(Math.abs(scooped.anchors[0].at[1] - (edge - 0.04 - 0.0045))).toBeLessThan(1e-8);
    expect(scooped.anchors[0].width).toBe(0.009);
  });

  it('joins two panels and takes each kind of anchor', () => {
    for (const kind of ['box', 'box with cross', 'row', 'rivet', 'ring loop'] as const) {
      const from = { panel: 'p', 'from left': '150 mm', kind };
      const [s] = bag({ from, to: { panel: 'q', 'from right': '40 mm', kind }, layers: 4 }, { q: RECTANGLE }).straps;
      expect(s.anchors.map((a) => [a.panel, a.kind])).toEqual([
        ['p', kind],
        ['q', kind],
      ]);
      expect(s.layers).toBe(4);
      for (const a of s.anchors) expect(a.width * a.height).toBeGreaterThan(0);
    }
  });

  it('of any size either fits on its panel or is refused (500 straps)', () => {
    let fitted = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 160 }), fc.integer({ min: 0, max: 260 }), fc.integer({ min: 5, max: 80 }), (side, top, width) => {
        const fits = side >= width / 2 && Math.abs(300 - 2 * side) >= width && top + width <= 240;
        const written = file(
          RECTANGLE,
          {},
          handle({ width: `${width} mm`, from: { panel: 'p', 'from left': `${side} mm`, 'from top': `${top} mm` }, to: 'mirrored' }),
        );
        if (fits) {
          fitted++;
          expect(parseBag(written).straps.length).toBe(1);
        } else expect(faultsOf(written).every((f) => f.path.startsWith('straps.handle'))).toBe(true);
      }),
      { seed: 20253, numRuns: 500 },
    );
    console.log(`${fitted} of 500 straps fit`);
    expect(fitted).toBeGreaterThan(50);
  });

  it.each([
    ['unknown panel', { from: { panel: 'pp', 'from left': '75 mm' }, to: 'mirrored' }, 'straps.handle.from.panel', 'a panel of this bag'],
    ['no side', { from: { panel: 'p' }, to: 'mirrored' }, 'straps.handle.from', 'exactly one of'],
    ['both sides', { from: { panel: 'p', 'from left': '9 mm', 'from right': '9 mm' }, to: 'mirrored' }, 'straps.handle.from', 'exactly one of'],
    ['over the side', { from: { panel: 'p', 'from left': '5 mm' }, to: 'mirrored' }, 'straps.handle.from', '25 x 25 mm that lies on panel p'],
    ['over the top', { ...LEVEL, from: { ...LEVEL.from, 'from top': '-5 mm' } }, 'straps.handle.from.from top', 'at least 0 mm'],
    ['on itself', { from: { panel: 'p', 'from left': '145 mm' }, to: 'mirrored' }, 'straps.handle', 'cloth of its own'],
    ['too short', { ...LEVEL, length: '100 mm' }, 'straps.handle.length', 'at least the 150 mm'],
    ['a thread of nothing', { ...LEVEL, thread: '0 N' }, 'straps.handle.thread', 'at most 1000 N'],
    ['a thread in metres', { ...LEVEL, thread: '3 m' }, 'straps.handle.thread', 'force'],
    ['a stitch of an inch', { ...LEVEL, thread: '60 N', stitch: '1 in' }, 'straps.handle.stitch', 'mm'],
    ['a stitch without thread', { ...LEVEL, stitch: '3 mm' }, 'straps.handle.stitch', '"thread"'],
    ['half a layer', { ...LEVEL, layers: 1.5 }, 'straps.handle.layers', 'whole number'],
    ['unknown stack', { ...LEVEL, stack: 'plane' }, 'straps.handle.stack', 'did you mean "plain"'],
    ['unknown kind', { ...LEVEL, from: { ...LEVEL.from, kind: 'glue' } }, 'straps.handle.from.kind', 'ring loop'],
    ['a bare number', { ...LEVEL, width: 25 }, 'straps.handle.width', 'the unit is missing'],
    ['unknown entry', { ...LEVEL, colour: 'red' }, 'straps.handle.colour', 'known entry'],
    ['a copy on an unknown panel', { ...LEVEL, 'also on': ['r'] }, 'straps.handle.also on[0]', 'a panel'],
    ['a copy on its own panel', { ...LEVEL, 'also on': ['p'] }, 'straps.handle.also on[0]', 'cloth of its own'],
  ])('is refused: %s', (_, strap, path, expected) => {
    const faults = faultsOf(file(RECTANGLE, {}, handle(strap)));
    const paths = faults.map((f) => f.path);
    expect(
      paths.some((p) => p === path || p.startsWith(path)),
      paths.join(' | '),
    ).toBe(true);
    expect(faults.map((f) => f.expected).join('\n')).toContain(expected);
  });

  it('is refused over a hole and under the name of a panel', () => {
    const holed = { ...RECTANGLE, holes: [{ circle: { centre: ['75 mm', '200 mm'], diameter: '10 mm' } }] };
    expect(faultsOf(file(holed, {}, handle(LEVEL))).map((f) => f.path)).toEqual(['straps.handle.from']);
    expect(faultsOf(file(RECTANGLE, { handle: RECTANGLE }, handle(LEVEL)))[0].path).toBe('straps.handle');
  });
});

describe('a row of topstitching', () => {
  const rows = (...topstitch: object[]) => ({ ...RECTANGLE, topstitch });
  it('runs at its offset from the edge: 6 mm below the mouth, from side to side, stitches of 3 mm', () => {
    const [row] = parseBag(file(rows({ along: 'top', offset: '6 mm' }))).topstitch;
    expect(row).toMatchObject({ panel: 'p', offset: 0.006, stitch: 0.003, thread: null, runs: [{ panel: 'p', edge: 'top', from: 0, to: 1 }] });
    // The top edge of a counterclockwise outline runs from right to left.
    const want = [0.3, 0.234, 0, 0.234];
    row.line.flat().forEach((v, i) => {
      expect(Math.abs(v - want[i])).toBeLessThan(1e-9);
    });
  });

  it.each([
    [{ along: 'topp', offset: '6 mm' }, 'panels.p.topstitch[0].along'],
    [{ along: ['left', 'right'], offset: '6 mm' }, 'panels.p.topstitch[0].along'],
    [{ along: 'top', offset: 0 }, 'panels.p.topstitch[0].offset'],
    [{ along: 'top', offset: '6 mm', stitch: '1 in' }, 'panels.p.topstitch[0].stitch'],
    [{ along: 'top' }, 'panels.p.topstitch[0].offset'],
    [{ along: 'top', offset: '6 mm', thread: '12 mm' }, 'panels.p.topstitch[0].thread'],
    [{ along: 'top', offset: '6 mm', thread: '0 N' }, 'panels.p.topstitch[0].thread'],
  ])('%j is refused', (row, path) => {
    expect(faultsOf(file(rows(row))).map((f) => f.path)).toEqual([path]);
  });
});

it('says in its schema that straps carry in a hung stance and that a row which catches an allowance stiffens', () => {
  const schema = JSON.stringify(bagJsonSchema());
  expect(schema).toContain('stiffens the strip between them');
  expect(schema).toContain('it carries in a hung stance');
});

describe('distances at which a strap can lie', () => {
  const strapped = templates()
    .map((t) => parseBag(t.text))
    .filter((b) => b.straps.length > 0);

  it.each(strapped.map((b) => [b.name, b] as const))('of %s: no patch leaves its panel at any millimetre of the range', (_, bag) => {
    for (const name of strapNames(bag)) {
      const { from, to } = anchorRange(bag, strapFamily(bag, name)[0]!);
      console.log(`${name}: ${1000 * from} to ${1000 * to} mm`);
      expect(to).toBeGreaterThan(from);
      // Every step of the range, not its ends alone: what a hand drags through.
      for (let d = Math.round(1000 * from); d <= Math.round(1000 * to); d++)
        expect(withAnchorsAt(bag, name, d / 1000).faults ?? []).not.toContainEqual(expect.stringContaining('off panel'));
    }
  });
});

describe('a strap with an adjuster', () => {
  it('has its shortest setting, 300 mm of 560, and is cut 125 mm longer than one without', () => {
    const [plain] = bag(LEVEL).straps,
      [s] = bag({ ...LEVEL, shortest: '300 mm' }).straps;
    expect(plain!.shortest).toBeUndefined();
    expect(s!.shortest).toBeCloseTo(0.3, 12);
    // 75 mm folded back, 25 mm round the bar, 25 mm round the ring: common practice, no source.
    expect(strapCut(s!) - strapCut(plain!)).toBeCloseTo(0.125, 12);
  });

  it.each([
    ['561 mm', 'at most 560 mm'],
    ['270 mm', 'at least 280 mm'],
    ['-1 mm', 'at least 280 mm'],
  ])('of %s is refused with its path: %s', (shortest, words) => {
    const faults = faultsOf(file(RECTANGLE, {}, handle({ ...LEVEL, shortest })));
    expect(faults.map((f) => f.path)).toEqual(['straps.handle.shortest']);
    expect(`${faults[0]!.got} ${faults[0]!.expected}`).toContain(words);
  });
});
