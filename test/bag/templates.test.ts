import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Bag, BagError, newBag, parseBag, parseBagDocument, printBag, templates } from '../../src/bag/index.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import type { Draft } from '../../src/panels/types.ts';
import { overridesOf } from './templates-sizes.ts';

const NAMES = templates().map((t) => t.name);
/** Formulas are worked out in f64 from metres; what is left is rounding. */
const EXACT = 1e-6;

const lengthOf = (draft: Draft, panel: string, ...edges: string[]): number => {
  const p = draft.panels.find((q) => q.name === panel);
  return edges.reduce((sum, e) => sum + (p?.edges.find((q) => q.name === e)?.length ?? Number.NaN), 0);
};

/** Length of a chain of edges, m. */
function chain(bag: Bag, draft: Draft, panel: string, name: string): number {
  return lengthOf(draft, panel, ...(bag.panels.find((p) => p.name === panel)?.chains[name] ?? []));
}

const value = (bag: Bag, name: string): number => bag.parameters.find((p) => p.name === name)?.value ?? Number.NaN;

interface Claim {
  readonly what: string;
  readonly got: number;
  readonly want: number;
}

/** What each template's pattern must measure, in closed form from its own parameters. Source: computed, geometry. */
const CLAIMS: Readonly<Record<string, (p: (name: string) => number, bag: Bag, draft: Draft) => Claim[]>> = {
  'flat-tote': (p, bag, draft) => [{ what: 'around = W + 2H', got: chain(bag, draft, 'front', 'around'), want: p('W') + 2 * p('H') }],
  'boxed-tote': (p, _bag, draft) => boxed(p, draft),
  'drawstring-pouch': (p, _bag, draft) => boxed(p, draft),
  'piped-tote': (p, _bag, draft) => boxed(p, draft),
  'frame-bag': (p, _bag, draft) => boxed(p, draft),
  satchel: (p, bag, draft) => [
    { what: 'strip = W + 2H - (4 - pi) R', got: lengthOf(draft, 'gusset', 'left'), want: p('W') + 2 * p('H') - (4 - Math.PI) * p('R') },
    { what: 'front round = strip', got: chain(bag, draft, 'front', 'around'), want: lengthOf(draft, 'gusset', 'left') },
    { what: 'back round = strip', got: chain(bag, draft, 'back', 'around'), want: lengthOf(draft, 'gusset', 'right') },
    { what: 'flap fold = W', got: lengthOf(draft, 'flap', 'bottom'), want: p('W') },
  ],
  bucket: (p, bag, draft) => [
    { what: 'body = pi d', got: lengthOf(draft, 'body', 'bottom'), want: Math.PI * p('d') },
    { what: 'base rim = pi d', got: chain(bag, draft, 'base', 'rim'), want: Math.PI * p('d') },
    { what: 'base area = pi d2/4', got: draft.panels[1].area, want: (Math.PI * p('d') ** 2) / 4 },
  ],
  'envelope-clutch': (p, _bag, draft) => [{ what: 'flap fold = W', got: lengthOf(draft, 'flap', 'fold'), want: p('W') }],
  crescent: (p, _bag, draft) => [
    { what: 'peak to peak = W - peak', got: draft.panels[0].bounds[2] - draft.panels[0].bounds[0], want: p('W') },
    { what: 'height = H', got: draft.panels[0].bounds[3] - draft.panels[0].bounds[1], want: p('H') },
  ],
  'barrel-duffel': (p, bag, draft) => [
    { what: 'body = pi d', got: lengthOf(draft, 'body', 'left'), want: Math.PI * p('d') },
    { what: 'end rim = pi d', got: chain(bag, draft, 'left end', 'rim'), want: Math.PI * p('d') },
  ],
  backpack: (p, bag, draft) => [
    { what: 'strip = W + 2H - (6 - pi) R', got: chain(bag, draft, 'front', 'around'), want: p('W') + 2 * p('H') - (6 - Math.PI) * p('R') },
    { what: 'zip = W - (2 - pi) R', got: chain(bag, draft, 'front', 'over'), want: p('W') - (2 - Math.PI) * p('R') },
    {
      what: 'strip and zip go once round',
      got: p('strip') + p('zip'),
      want: 2 * (p('W') + p('H')) - (8 - 2 * Math.PI) * p('R'),
    },
    { what: 'pocket round = W + 2 pocket - (4 - pi) R', got: chain(bag, draft, 'pocket', 'around'), want: p('W') + 2 * p('pocket') - (4 - Math.PI) * p('R') },
  ],
  'gathered-tote': (p, bag, draft) => [
    { what: 'base round = 2W + 2D - (8 - 2 pi) R', got: chain(bag, draft, 'base', 'around'), want: 2 * (p('W') + p('D')) - (8 - 2 * Math.PI) * p('R') },
    { what: 'band = base round', got: lengthOf(draft, 'band', 'bottom'), want: chain(bag, draft, 'base', 'around') },
    { what: 'skirt = ratio x band', got: lengthOf(draft, 'skirt', 'top'), want: p('ratio') * lengthOf(draft, 'band', 'bottom') },
  ],
};

/** A square of D/2 leaves W of the bottom, H of the side and half the girth W + D of the mouth. */
const boxed = (p: (name: string) => number, draft: Draft): Claim[] => [
  { what: 'cut-out up = D/2', got: lengthOf(draft, 'front', 'cut up right'), want: p('D') / 2 },
  { what: 'cut-out out = D/2', got: lengthOf(draft, 'front', 'cut out left'), want: p('D') / 2 },
  { what: 'bottom = W', got: lengthOf(draft, 'front', 'bottom'), want: p('W') },
  { what: 'side = H', got: lengthOf(draft, 'front', 'side right'), want: p('H') },
  { what: 'half mouth = W + D', got: lengthOf(draft, 'back', 'top'), want: p('W') + p('D') },
];

/** Largest |got - want| of a pattern, and that every seam's sides match or are gathered as stated. */
function worst(name: string, text: string): { error: number; ease: number; claim: string } {
  const bag = parseBag(text);
  const draft = draftPanels(bag);
  let [error, claim] = [0, ''];
  for (const c of CLAIMS[name]((key) => value(bag, key), bag, draft)) {
    // A missing edge gives NaN, which no comparison would notice.
    const off = Number.isNaN(c.got) || Number.isNaN(c.want) ? Number.POSITIVE_INFINITY : Math.abs(c.got - c.want);
    if (off >= error) [error, claim] = [off, `${c.what}: got ${c.got}, expected ${c.want}`];
  }
  const ease = Math.max(...draft.seams.map((s, i) => Math.abs(s.ratio - (bag.seams[i].gather ?? 1))));
  expect(draft.seams.filter((s) => s.faceFlips).map((s) => s.name)).toEqual(name === 'backpack' ? ['pocket seam'] : []);
  return { error, ease, claim };
}

describe('the twelve templates', () => {
  it('are twelve, each with a title, one question and a file that prints back as it is', () => {
    expect(NAMES.length).toBe(12);
    expect(new Set(NAMES).size).toBe(12);
    for (const t of templates()) {
      const { document, bag } = parseBagDocument(t.text);
      expect(printBag(document)).toBe(t.text);
      expect(bag.name).toBe(t.title);
      expect(bag.note).toBe(t.question);
      expect(t.question.match(/\?/g)?.length).toBe(1);
      expect(bag.options.length).toBeGreaterThanOrEqual(2);
      expect(bag.options.length).toBeLessThanOrEqual(3);
    }
  });

  it.each(NAMES)('%s: every panel is sound, every unsewn stretch is a named opening', (name) => {
    const bag = parseBag(newBag(name));
    const draft = draftPanels(bag);
    for (const p of draft.panels) {
      expect(p.crossings).toEqual([]);
      const openings = bag.panels.find((q) => q.name === p.name)?.openings ?? [];
      for (const e of p.edges) {
        const sewn = bag.seams.some((s) => s.sides.flat().some((r) => r.panel === p.name && r.edge === e.name));
        expect(sewn || openings.includes(e.name), `${p.name}.${e.name} sewn or open`).toBe(true);
      }
    }
  });

  it.each(NAMES)('%s: regions lie within their panel and leave some of it', (name) => {
    const bag = parseBag(newBag(name));
    const draft = draftPanels(bag);
    bag.panels.forEach((p, i) => {
      const covered = p.regions.reduce((sum, r) => sum + polygonArea(r.outline), 0);
      expect(covered).toBeLessThan(draft.panels[i].area);
    });
  });

  it.each(NAMES)('%s: its lengths agree with their closed forms to 1e-6 m as written', (name) => {
    const { error, ease, claim } = worst(name, newBag(name));
    console.log(`${name}: ${claim}; tolerance ${EXACT} m (rounding only); seam ratios off by ${ease.toExponential(1)}`);
    expect(error).toBeLessThan(EXACT);
    expect(ease).toBeLessThan(EXACT);
  });

  it.each(NAMES)('%s: a change of any size carries through to 1e-6 m (200 patterns, fixed seed)', (name) => {
    let most = 0;
    fc.assert(
      fc.property(overridesOf(name), (overrides) => {
        const { error, ease, claim } = worst(name, newBag(name, overrides));
        most = Math.max(most, error, ease);
        expect(error, claim).toBeLessThan(EXACT);
        expect(ease).toBeLessThan(EXACT);
      }),
      { seed: 20250, numRuns: 200 },
    );
    console.log(`${name}: largest difference ${most.toExponential(1)}, tolerance ${EXACT} m`);
  });
});

describe('feet of the piped tote', () => {
  const feet = (written: string) => (parseBag(newBag('piped-tote', { feet: written })).hardware ?? []).map((h) => [h.name, h.at.length]);

  it('are none, two at the front and two at the back, or those and one in the middle, by one parameter', () => {
    expect(feet('0')).toEqual([]);
    expect(feet('4')).toEqual([
      ['front feet', 2],
      ['back feet', 2],
    ]);
    expect(feet('5')).toEqual([
      ['front feet', 3],
      ['back feet', 2],
    ]);
  });

  it('seven or four and a half are refused where they are counted', () => {
    for (const written of ['7', '4.5']) expect(() => feet(written)).toThrow(/hardware\.front feet\.count/);
  });
});

describe('newBag', () => {
  const faults = (name: string, overrides: Record<string, string> = {}) => {
    try {
      newBag(name, overrides);
    } catch (error) {
      if (error instanceof BagError) return error.faults;
      throw error;
    }
    throw new Error('it was accepted');
  };

  it('changes the named parameters and not one other character', () => {
    const before = newBag('satchel');
    const after = newBag('satchel', { W: '320 mm', R: 'W/8' });
    expect(after).toBe(before.replace('"W": "13 in"', '"W": "320 mm"').replace('"R": "2 in"', '"R": "W/8"'));
    expect(value(parseBag(after), 'strip')).toBeCloseTo(0.32 + 2 * 0.254 - (4 - Math.PI) * 0.04, 12);
  });

  it('tells the near name of an unknown template or parameter', () => {
    expect(faults('satchle')).toEqual([{ path: 'template', got: '"satchle"', expected: 'a template (did you mean "satchel"?)' }]);
    expect(faults('bucket', { D: '3 in' })).toEqual([{ path: 'parameters', got: '"D"', expected: 'a parameter of this template (did you mean "d"?)' }]);
  });

  it('refuses a bare number for a length once, not at each place that uses it', () => {
    expect(faults('bucket', { d: '180' }).map((f) => f.path)).toEqual(['parameters.d']);
    expect(faults('gathered-tote', { ratio: '2 in' }).map((f) => f.path)).toEqual(['parameters.ratio']);
  });

  it('refuses sizes from which no panel can be drawn, circles and nonsense', () => {
    expect(faults('satchel', { R: '300 mm' })[0].path).toMatch(/^panels\./);
    expect(faults('satchel', { W: 'strip' })[0].expected).toMatch(/depend on itself/);
    expect(faults('satchel', { W: '((', H: '9 lightyears' }).map((f) => f.path)).toEqual(['parameters.W', 'parameters.H']);
  });
});
