import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { lone, randomPanel } from './random-panels.ts';
import { flatArea, flaws } from './tools.ts';

const RUNS = 150;

describe('random panels', () => {
  it(`${RUNS} panels with corners of 40 degrees and more: no angle under 20 degrees, no triangle turned over, area kept to the chords`, () => {
    let least = 90;
    let sum = 0;
    fc.assert(
      fc.property(randomPanel((40 * Math.PI) / 180), fc.constantFrom(0.02, 0.01, 0.006), (panel, h) => {
        const { bag, draft } = lone(panel);
        const mesh = meshPanels(bag, draft, { edgeLength: h });
        least = Math.min(least, mesh.quality.minAngleDeg);
        sum += mesh.quality.minAngleDeg;
        expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
        expect(flaws(mesh)).toEqual({ folded: 0, repeated: 0, sharedInner: 0, turned: 0 });
        const [, , x1] = draft.panels[0].bounds;
        // Chords of curves lose up to h^2/8R a metre of outline; straight panels lose nothing.
        const straight = panel.outline.every((e) => e.kind === 'line') && panel.holes.length === 0;
        const error = Math.abs(flatArea(mesh) / draft.panels[0].area - 1);
        expect(error).toBeLessThan(straight ? 1e-12 : 0.06);
        expect(x1).toBeGreaterThan(0);
      }),
      { seed: 20240607, numRuns: RUNS },
    );
    console.log(`smallest angle over ${RUNS} random panels ${least.toFixed(2)} deg, expected >= 20; mean of the smallest ${(sum / RUNS).toFixed(1)} deg`);
  });

  it('60 panels with corners down to 25 degrees: the smallest angle is the corner itself, or 20 degrees', () => {
    fc.assert(
      fc.property(randomPanel((25 * Math.PI) / 180), (panel) => {
        const { bag, draft } = lone(panel);
        const mesh = meshPanels(bag, draft, { edgeLength: 0.01 });
        const corner = (Math.min(...draft.panels[0].cornerAngle.slice(0, panel.outline.length)) * 180) / Math.PI;
        // The chord of a curved side may take a little more off a sharp corner.
        expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(Math.min(20, 0.8 * corner));
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});
