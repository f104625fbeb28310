import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { panelMasses } from '../../src/assembly/assemble.ts';
import { parseBag } from '../../src/bag/index.ts';
import { layUp } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';

/** Nothing sewn on but allowances of the panels' own stacks. */
const plain = (allowances: ReturnType<typeof layUp>) => ({ allowances, finishes: [], inside: [] });

const mm = (v: number): string => `${v} mm`;
/** Rounded panels with a strip, a bottom part and a patch of other stacks, none or several of them. */
const bags = fc.record({
  w: fc.integer({ min: 150, max: 400 }),
  h: fc.integer({ min: 150, max: 400 }),
  r: fc.integer({ min: 5, max: 70 }),
  edge: fc.integer({ min: 8, max: 25 }),
  top: fc.boolean(),
  base: fc.boolean(),
  round: fc.boolean(),
});

describe('what a panel weighs', () => {
  it('60 random panels, rounded and with regions: mass = drafted areas x areal mass to 1e-9, total and panel by panel', () => {
    let worst = 0;
    fc.assert(
      fc.property(bags, ({ w, h, r, edge, top, base, round }) => {
        const shape = round ? { circle: { diameter: mm(w) } } : { rectangle: { width: mm(w), height: mm(h), radius: mm(r) } };
        const high = round ? w : h;
        const regions = { ...(top ? { top: { above: mm(high * 0.8), stack: 'b' } } : {}), ...(base ? { base: { below: mm(high * 0.3), stack: 'c' } } : {}) };
        const bag = parseBag({
          slumpline: 1,
          panels: { p: { ...shape, regions } },
          stacks: { a: ['canvas10'], b: ['canvas10', { fused: 'fleece' }], c: ['canvas10', { loose: 'pp1' }] },
          options: { o: { 'every panel': 'a' } },
        });
        const draft = draftPanels(bag);
        const laminates = layUp(bag, 'o', 'mid');
        const masses = panelMasses(bag, meshPanels(bag, draft, { edgeLength: edge / 1000 }), laminates, plain(laminates));
        const areas = bag.panels[0].regions.map((region) => {
          let twice = 0;
          region.outline.forEach((a, i) => {
            const b = region.outline[(i + 1) % region.outline.length];
            twice += a[0] * b[1] - b[0] * a[1];
          });
          return twice / 2;
        });
        const own = draft.panels[0].area - areas.reduce((sum, a) => sum + a, 0);
        const expected = [own, ...areas].reduce((sum, a, i) => sum + a * laminates[0][i].arealMass, 0);
        worst = Math.max(worst, Math.abs(masses[0] / expected - 1));
        expect(Math.abs(masses[0] / expected - 1)).toBeLessThan(1e-9);
      }),
      { seed: 31, numRuns: 60 },
    );
    console.log(`worst of 60: ${worst.toExponential(1)}, tolerance 1e-9`);
  });

  it('overlapping regions keep the weight of the meshed parts, scaled as a whole to the panel', () => {
    const bag = parseBag({
      slumpline: 1,
      panels: { p: { circle: { diameter: '300 mm' }, regions: { a: { above: '100 mm', stack: 's' }, b: { above: '200 mm', stack: 's' } } } },
      stacks: { s: ['canvas10'] },
    });
    const draft = draftPanels(bag);
    const laminates = layUp(bag, bag.options[0].name, 'mid');
    const [mass] = panelMasses(bag, meshPanels(bag, draft, { edgeLength: 0.015 }), laminates, plain(laminates));
    expect(Math.abs(mass / (laminates[0][0].arealMass * (Math.PI / 4) * 0.09) - 1)).toBeLessThan(1e-9);
  });
});
