/** Round pieces of several cloths over one disc, their shadows beside one another. */
import { expect, it } from 'vitest';
import { drapedCloth, drapesCsv, drapesPlot, drapesTable, isotropic } from '../../src/swatch/index.ts';

/** Coarse: the figures of these two are far enough apart. */
const MESH = 0.016;
const cloth = (name: string, rigidity: number) => {
  const sheet = isotropic(0.3, rigidity, 5000);
  return { name, story: 'estimate', sheets: [sheet, sheet, sheet] as const };
};
const NOTE = { program: 'slumpline test', unit: 'mm' as const };

it('of two cloths of 300 g/m2 the one ten times as stiff has the larger coefficient; each outline holds the area that its coefficient was read from, within 1 %', () => {
  const draped = [drapedCloth(cloth('soft', 8e-6), MESH), drapedCloth(cloth('stiff', 80e-6), MESH)];
  for (const d of draped) {
    expect(d.settled, d.name).toBe(true);
    const n = d.outline.length;
    const area = Array.from(d.outline, (r, k) => 0.5 * r * d.outline[(k + 1) % n]! * Math.sin((2 * Math.PI) / n)).reduce((a, b) => a + b, 0);
    // The piece's own polygon is 100 %: at 16 mm it is up to 1 % smaller than its circle.
    const ring = (Math.PI * (0.3 ** 2 - 0.18 ** 2)) / 4;
    const own = (100 * (area - (Math.PI * 0.18 ** 2) / 4)) / ring;
    console.log(d.name, 'coefficient', d.coefficient, 'from its outline', own);
    expect(Math.abs(own / d.coefficient - 1), `${own} against ${d.coefficient} %`).toBeLessThan(0.01);
    expect(Math.max(...d.outline)).toBeLessThanOrEqual(0.15 + 1e-6);
    expect(Math.min(...d.outline)).toBeGreaterThan(0.08);
  }
  expect(draped[1]!.coefficient).toBeGreaterThan(draped[0]!.coefficient + 10);
  const svg = drapesPlot(draped, NOTE);
  expect(svg.match(/<path d="M[^"]*Z" fill="none"/g)).toHaveLength(2);
  expect(svg).toContain(`drape ${draped[0]!.coefficient.toFixed(0)} %`);
  const csv = drapesCsv(draped, NOTE.program).trim().split('\r\n');
  expect(csv.map((l) => l.split(',').length)).toEqual([77, 77, 77]);
});

it('a piece stopped on its way is told as not at rest in plot, table and CSV, and has no figure', () => {
  let steps = 0;
  const stopped = drapedCloth(cloth('stopped', 30e-6), MESH, () => ++steps < 3);
  expect(stopped.settled).toBe(false);
  expect(drapesPlot([stopped], NOTE)).toContain('not at rest');
  expect(drapesPlot([stopped], NOTE)).not.toMatch(/drape \d/);
  expect(drapesTable([stopped], 'mm').every((r) => r.values[0] === 'not at rest')).toBe(true);
  expect(drapesCsv([stopped], 'p').split('\r\n')[1]).toBe(`stopped${','.repeat(76)}p`);
});
