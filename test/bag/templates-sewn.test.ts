import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../src/assembly/assemble.ts';
import { placePanels } from '../../src/assembly/place.ts';
import { newBag, parseBag, polygonArea, templates } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';
import { layUp } from '../../src/material/index.ts';
import type { BagLaminates } from '../../src/material/types.ts';
import { meshPanels } from '../../src/mesh/meshPanels.ts';
import type { BagMesh } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/draftPanels.ts';
import type { Draft } from '../../src/panels/types.ts';
import { overridesOf } from './templates-sizes.ts';

const NAMES = templates().map((t) => t.name);
/** Placed without crossings, but its gathers are not laid in waves yet: see the expected failure at the end. */
const GATHERED = 'gathered-tote';

function made(text: string, edgeLength: number): { bag: Bag; draft: Draft; mesh: BagMesh } {
  const bag = parseBag(text);
  const draft = draftPanels(bag);
  return { bag, draft, mesh: meshPanels(bag, draft, { edgeLength }) };
}

/** Sum over panels and regions of area x areal mass, kg, once with the drafted areas and once with those of the triangles. */
function massOf(bag: Bag, draft: Draft, mesh: BagMesh, laminates: BagLaminates): { drafted: number; meshed: number } {
  let [drafted, meshed] = [0, 0];
  bag.panels.forEach((p, i) => {
    const parts = p.regions.map((r) => polygonArea(r.outline));
    const own = parts.reduce((rest, a) => rest - a, draft.panels[i].area);
    drafted += [own, ...parts].reduce((sum, a, r) => sum + a * laminates[i][r].arealMass, 0);
  });
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
    meshed += (((f[2] - f[0]) * (f[5] - f[1]) - (f[3] - f[1]) * (f[4] - f[0])) / 2) * laminates[mesh.triPanel[t]][mesh.triRegion[t]].arealMass;
  }
  return { drafted, meshed };
}

describe('a template as triangles', () => {
  it.each(NAMES.flatMap((name) => [20, 12, 8].map((mm) => [name, mm] as const)))('%s at %i mm has no angle under 20 degrees', (name, mm) => {
    const { mesh } = made(newBag(name), mm / 1000);
    console.log(`${name}, ${mm} mm: ${mesh.vertexCount} vertices, smallest angle ${mesh.quality.minAngleDeg.toFixed(1)} deg, expected >= 20`);
    expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
  });

  it.each(NAMES)('%s keeps 20 degrees through changes of size (25 patterns at 18 mm, fixed seed)', (name) => {
    let least = 90;
    fc.assert(
      fc.property(overridesOf(name), (overrides) => {
        const { mesh } = made(newBag(name, overrides), 0.018);
        least = Math.min(least, mesh.quality.minAngleDeg);
        expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
      }),
      { seed: 20251, numRuns: 25 },
    );
    console.log(`${name}: smallest angle of 25 sizes ${least.toFixed(1)} deg, expected >= 20`);
  });

  it.each(NAMES)('%s weighs the sum of its areas by areal mass: triangles to 1e-9, drafted curves to 0.3 %% at 15 mm', (name) => {
    const { bag, draft, mesh } = made(newBag(name), 0.015);
    const { positions } = placePanels(bag, draft, mesh);
    const curved = bag.panels.some((p) => p.outline.some((e) => e.kind !== 'line'));
    for (const option of bag.options) {
      const laminates = layUp(bag, option.name, 'mid');
      const mass = assemble(bag, mesh, laminates, positions, bag.stances[0]).mass.reduce((a, b) => a + b, 0);
      const { drafted, meshed } = massOf(bag, draft, mesh, laminates);
      // Chords cut h^2/(6 r^2) off the sector of a round edge: 1.5 % at h = 15 mm, r = 50 mm, but sectors are a small part of any of these bags.
      console.log(
        `${name}, ${option.name}: ${(1000 * mass).toFixed(3)} g; off the triangles by ${(mass / meshed - 1).toExponential(1)} (tolerance 1e-9), off the drafted by ${(mass / drafted - 1).toExponential(1)} (tolerance ${curved ? 3e-3 : 1e-9})`,
      );
      expect(Math.abs(mass / meshed - 1)).toBeLessThan(1e-9);
      expect(Math.abs(mass / drafted - 1)).toBeLessThan(curved ? 3e-3 : 1e-9);
    }
  });
});

describe('a template sewn up', () => {
  it.each(NAMES.filter((n) => n !== GATHERED))('%s starts without crossings, its cloth strained by less than 1 %% in the mean (18 mm)', (name) => {
    const { bag, draft, mesh } = made(newBag(name), 0.018);
    const { crossings, strain, ways } = placePanels(bag, draft, mesh);
    console.log(
      `${name}: ${ways.map((w) => w.way).join(', ')}; crossings ${crossings}, expected 0; strain mean ${strain.mean.toExponential(1)}, expected < 1e-2, largest ${strain.max.toExponential(1)}`,
    );
    expect(crossings).toBe(0);
    expect(strain.mean).toBeLessThan(0.01);
  });

  it(`${GATHERED} starts without crossings`, () => {
    const { bag, draft, mesh } = made(newBag(GATHERED), 0.018);
    expect(placePanels(bag, draft, mesh).crossings).toBe(0);
  });

  // Not supported yet: the start shape of a gathered panel is one smooth barrel, pressed together by the gather ratio along its seams, at every mesh size.
  it.fails(`${GATHERED} starts with its gathers laid in waves: mean strain under 1 %`, () => {
    const { bag, draft, mesh } = made(newBag(GATHERED), 0.012);
    const { strain } = placePanels(bag, draft, mesh);
    console.log(`${GATHERED}: strain mean ${strain.mean.toExponential(1)}, largest ${strain.max.toExponential(1)}; wanted < 1e-2`);
    expect(strain.mean).toBeLessThan(0.01);
  });
});
