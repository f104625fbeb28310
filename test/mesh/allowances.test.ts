/** What seam allowances weigh, against sums by hand: width of the allowance times length of the edges times areal mass of the shell. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { panelMasses } from '../../src/assembly/assemble.ts';
import { parseBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { prepare } from '../../src/run/index.ts';

type Plain = Record<string, unknown>;

/** Two squares of 100 mm joined along one side, heavy (1 kg/m2) and light (0.4 kg/m2); kg of each panel beyond its own area. */
function beyondArea(seam: Plain, more: Plain = {}): number[] {
  const sheet = (mass: number): Plain => ({
    mass: `${mass} kg/m2`,
    D11: '1 mN.m',
    D22: '1 mN.m',
    D66: '0.4 mN.m',
    C11: '20 kN/m',
    C22: '20 kN/m',
    C66: '7 kN/m',
  });
  const square = { rectangle: { width: '100 mm', height: '100 mm' } };
  const bag = parseBag({
    slumpline: 1,
    panels: { a: square, b: square, ...((more.panels as Plain) ?? {}) },
    seams: { s: seam },
    stacks: { heavy: sheet(1), light: sheet(0.4) },
    options: { o: { 'every panel': 'heavy', b: 'light' } },
  });
  const laminates = layUp(bag, 'o', 'mid'),
    masses = panelMasses(bag, meshPanels(bag, draftPanels(bag), { edgeLength: 0.02 }), laminates, sewnLayers(bag, laminates, 'mid'));
  return [...masses].map((m, p) => m - 0.01 * laminates[p]![0]!.arealMass);
}

describe('allowances weigh', () => {
  const join = ['a.right', 'b.left'];
  const [heavy, light] = [0.1 * 0.01 * 1, 0.1 * 0.01 * 0.4];
  it.each([
    ['plain', heavy, light],
    ['turned', heavy, light],
    ['lapped', heavy / 2, light / 2],
    ['topstitched', heavy / 2, light / 2],
    ['bound', heavy + light, light + light],
    ['fold', 0, 0],
  ])('%s, 10 mm along 100 mm', (type, a, b) => {
    const [x, y] = beyondArea({ join, type, allowance: '10 mm' });
    expect(Math.abs(x! - a)).toBeLessThan(1e-12);
    expect(Math.abs(y! - b)).toBeLessThan(1e-12);
  });

  it('once each where three panels meet in one seam', () => {
    const third = { c: { rectangle: { width: '100 mm', height: '100 mm' } } };
    const all = beyondArea({ join: [...join, 'c.left'], type: 'plain', allowance: '10 mm' }, { panels: third });
    [heavy, light, heavy].forEach((kg, p) => {
      expect(Math.abs(all[p]! - kg)).toBeLessThan(1e-12);
    });
  });

  it('the harbour tote in canvas and poplin: its panels, and 2 x 1.76 m of seam with 10 mm of its shell, and 0.8 m of hem turned twice, 30 mm and 10 mm of it, to 1e-9', () => {
    const bag = parseBag(JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8')));
    const { model, laminates } = prepare(bag, { option: 'canvas and poplin', edgeLength: 0.03 }),
      shell = sewnLayers(bag, laminates, 'mid').allowances[0]![0]!.arealMass;
    // Two walls 300 x 240, two ends 100 x 240, base 300 x 100; round the base 0.8 m, up the corners 4 x 0.24 m.
    const area = 2 * 0.3 * 0.24 + 2 * 0.1 * 0.24 + 0.3 * 0.1,
      expected = area * laminates[0]![0]!.arealMass + (2 * (0.8 + 0.96) * 0.01 + 0.8 * (0.03 + 0.01)) * shell;
    const mass = model.mass.reduce((s, m) => s + m, 0);
    console.log(`${(1000 * mass).toFixed(2)} g, of it allowances ${(2 * 1.76 * 10 * shell).toFixed(2)} g`);
    expect(Math.abs(mass / expected - 1)).toBeLessThan(1e-9);
  });
});
