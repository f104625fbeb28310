import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../src/assembly/assemble.ts';
import { edgeLength, newBag, parseBag, templates } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';
import { hardwareFigures, layUp, memberFigures, sewnLayers } from '../../src/material/index.ts';
import type { BagLaminates } from '../../src/material/types.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import type { BagMesh } from '../../src/mesh/types.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import type { Draft } from '../../src/panels/types.ts';
import { placePanels } from '../../src/placement/place-panels.ts';
import { allowanceMass } from '../run/allowance-mass.ts';
import { overridesOf } from './templates-sizes.ts';

const NAMES = templates().map((t) => t.name);
/** Placed without crossings, but its gathers are not laid in waves yet: see the expected failure at the end. */
const GATHERED = 'gathered-tote';

function made(text: string, edgeLength: number): { bag: Bag; draft: Draft; mesh: BagMesh } {
  const bag = parseBag(text);
  const draft = draftPanels(bag);
  return { bag, draft, mesh: meshPanels(bag, draft, { edgeLength }) };
}

/** Sum over panels and regions of drafted area x areal mass, kg. */
function draftedMass(bag: Bag, draft: Draft, laminates: BagLaminates): number {
  return bag.panels.reduce((total, p, i) => {
    const parts = p.regions.map((r) => polygonArea(r.outline));
    const own = parts.reduce((rest, a) => rest - a, draft.panels[i].area);
    return [own, ...parts].reduce((sum, a, r) => sum + a * laminates[i][r].arealMass, total);
  }, 0);
}

/** Members by the drawn lengths they are cut to, and hardware by the piece, kg. */
const partsMass = (bag: Bag): number =>
  (bag.members ?? []).reduce((sum, m) => {
    const along = m.runs.reduce((l, r) => {
      const edge = bag.panels.find((p) => p.name === r.panel)!.outline.find((e) => e.name === r.edge)!;
      return l + (r.to - r.from) * edgeLength(edge);
    }, -2 * m.stopsShort);
    return sum + along * memberFigures(m).lineMass;
  }, 0) + (bag.hardware ?? []).reduce((sum, h) => sum + h.at.length * hardwareFigures(h).mass, 0);

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

  it.each(NAMES)(
    '%s weighs the sum of its drafted areas by areal mass, its allowances, its members by their lengths and its hardware, to 1e-9 at 15 mm, curved edges included',
    (name) => {
      const { bag, draft, mesh } = made(newBag(name), 0.015);
      const { positions } = placePanels(bag, draft, mesh);
      for (const option of bag.options) {
        const laminates = layUp(bag, option.name, 'mid');
        const mass = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), positions, bag.stances[0]).mass.reduce((a, b) => a + b, 0);
        const drafted = draftedMass(bag, draft, laminates) + allowanceMass(bag, mesh, laminates) + partsMass(bag);
        console.log(`${name}, ${option.name}: ${(1000 * mass).toFixed(3)} g; off the drafted by ${(mass / drafted - 1).toExponential(1)} (tolerance 1e-9)`);
        expect(Math.abs(mass / drafted - 1)).toBeLessThan(1e-9);
      }
    },
  );
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

  it(`${GATHERED} starts with its gathers laid in waves: mean strain under 1 %`, () => {
    const { bag, draft, mesh } = made(newBag(GATHERED), 0.012);
    const { strain } = placePanels(bag, draft, mesh);
    console.log(`${GATHERED}: strain mean ${strain.mean.toExponential(1)}, largest ${strain.max.toExponential(1)}; wanted < 1e-2`);
    expect(strain.mean).toBeLessThan(0.01);
  });
});
