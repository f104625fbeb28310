import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newBag, parseBag, parseBagDocument, printBag, withValue } from '../../src/bag/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { faultsOf, file, panel, RECTANGLE } from './made.ts';

const strip = (shape: object, along: string | string[], width: string) => {
  const made = panel({ ...shape, regions: { tape: { along, width, stack: 'plain' } } }).regions[0].outline;
  return { area: polygonArea(made), points: made };
};
const W = 0.3;
const H = 0.24;
const ROUNDED = { rectangle: { width: '300 mm', height: '240 mm', radius: ['50 mm', '50 mm', 0, 0] } };

describe('a region along an edge', () => {
  it.each([
    // Straight edge between square corners: length x width.
    ['top of a rectangle', RECTANGLE, 'top', W * 0.012],
    ['a stretch of it', RECTANGLE, 'top[25%..75%]', (W / 2) * 0.012],
    // Two edges round a square corner share the square between them once.
    ['two edges round a corner', RECTANGLE, ['right', 'top'], (W + H - 0.012) * 0.012],
    // At slanted sides the strip is a trapezoid of its own: mean of both lengths x width.
    ['foot of a trapezoid', { trapezoid: { bottom: '300 mm', top: '400 mm', height: '240 mm' } }, 'bottom', (0.3 + (0.012 * 0.1) / 0.24 / 2) * 0.012],
    // A quarter circle of radius R: pi/2 (R w - w^2/2).
    [
      'left, bottom and right with round corners between',
      ROUNDED,
      ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'],
      (0.19 + 0.2 + 0.19) * 0.012 + Math.PI * (0.05 * 0.012 - 0.012 ** 2 / 2),
    ],
    ['left only, cut square where the rounding begins', ROUNDED, 'left', 0.19 * 0.012],
  ] as const)('%s has the area of its closed form to 0.2 %%', (_, shape, along, want) => {
    const { area } = strip(shape, along as string | string[], '12 mm');
    console.log(`area ${area} m2, expected ${want}, off by ${(area / want - 1).toExponential(1)}, tolerance 2e-3 (arcs flattened to 0.1 mm of 12 mm)`);
    expect(Math.abs(area / want - 1)).toBeLessThan(2e-3);
  });

  it('stays inside the panel and as wide as stated for 200 random widths and stretches of a curved rim', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 25 }), fc.integer({ min: 0, max: 40 }), fc.integer({ min: 60, max: 100 }), (mm, from, to) => {
        const { area } = strip({ circle: { diameter: '180 mm' } }, `rim2[${from}%..${to}%]`, `${mm} mm`);
        const w = mm / 1000;
        const want = (Math.PI / 2) * ((to - from) / 100) * (0.09 * w - (w * w) / 2);
        expect(Math.abs(area / want - 1)).toBeLessThan(0.01);
      }),
      { seed: 20252, numRuns: 200 },
    );
  });

  it('is meshed with no angle under 20 degrees along a scooped mouth, and prints back as written', () => {
    const { document } = parseBagDocument(newBag('crescent'));
    const taped = withValue(document, ['panels', 'front', 'regions'], { tape: { along: 'mouth', width: '12 mm', stack: 'leather' } });
    const text = printBag(taped);
    expect(printBag(parseBagDocument(text).document)).toBe(text);
    const bag = parseBag(text);
    for (const edgeLength of [0.02, 0.01]) {
      const mesh = meshPanels(bag, draftPanels(bag), { edgeLength });
      let area = 0;
      mesh.triRegion.forEach((r, t) => {
        const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
        if (r === 1) area += ((f[2] - f[0]) * (f[5] - f[1]) - (f[3] - f[1]) * (f[4] - f[0])) / 2;
      });
      const want = polygonArea(bag.panels[0].regions[0].outline);
      console.log(
        `${edgeLength * 1000} mm: smallest angle ${mesh.quality.minAngleDeg.toFixed(1)} deg, expected >= 20; tape ${(area * 1e4).toFixed(2)} cm2 of triangles, drawn ${(want * 1e4).toFixed(2)}`,
      );
      expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
      expect(Math.abs(area / want - 1)).toBeLessThan(0.03);
    }
  });

  const r = (region: object) => faultsOf(file({ ...ROUNDED, regions: { r: { stack: 'plain', ...region } } }, { q: RECTANGLE }));
  it.each([
    [{ along: 'top' }, 'panels.p.regions.r.width', 'more than 0'],
    [{ along: 'topp', width: '9 mm' }, 'panels.p.regions.r.along', 'did you mean "top"'],
    [{ along: [], width: '9 mm' }, 'panels.p.regions.r.along', 'at least one edge'],
    [{ along: ['left', 'right'], width: '9 mm' }, 'panels.p.regions.r.along', 'follow each other'],
    [{ along: 'q.top', width: '9 mm' }, 'panels.p.regions.r.along', 'panel p itself'],
    [{ along: 'top', width: '300 mm' }, 'panels.p.regions.r.along', 'inside the outline'],
    [{ along: 'left-bottom', width: '70 mm' }, 'panels.p.regions.r.along', ''],
    [{ above: '200 mm', width: '9 mm' }, 'panels.p.regions.r.width', 'only with "along"'],
    [{ along: 'top', width: '9 mm', above: '9 mm' }, 'panels.p.regions.r', 'exactly one of'],
    [{ along: ['left', 'left-bottom', 'bottom', 'bottom-right', 'right', 'top'], width: '9 mm' }, 'panels.p.regions.r.along', '"inside"'],
  ])('%j is refused at %s', (region, path, expected) => {
    const faults = r(region);
    expect(faults.map((f) => f.path)).toContain(path);
    expect(faults.find((f) => f.path === path)?.expected).toContain(expected);
  });
});
