import { describe, expect, it } from 'vitest';
import { parseBag, prepare, previewBag, templates } from '../../src/index.ts';
import { countCrossings } from '../../src/mesh/crossings.ts';
import { createFall } from '../../src/solver/index.ts';

const bagOf = (name: string) => parseBag(templates().find((t) => t.name === name)!.text);

// All templates, options and bands: npm run bench:templates.
describe('bags from templates at 20 mm never pass through themselves (exact count, src/mesh/crossings.ts)', () => {
  it('crescent, soft end: 0 crossings after every one of 110 steps of 1/30 s, in which its sheets fall onto one another', () => {
    const s = prepare(bagOf('crescent'), { edgeLength: 0.02, band: 'low' }),
      fall = createFall(s.model, s.start, { selfContact: true, iterations: 3, drag: 3, formulation: 'plain' });
    let worst = 0,
      felt = 0;
    for (let k = 0; k < 110; k++) {
      fall.step(1 / 30);
      worst = Math.max(worst, countCrossings(fall.x, s.mesh.triVerts));
      felt = Math.max(felt, fall.sys.pairs!.active);
    }
    console.log(`crossings ${worst}, expected 0; at most ${felt} pairs felt each other`);
    expect(worst).toBe(0);
    expect(felt).toBeGreaterThan(10);
  }, 60_000);

  it('drafted, stuffed and pressed-in starts of all twelve templates: 0 crossings', () => {
    const found = templates().map((t) => {
      const s = prepare(parseBag(t.text), { edgeLength: 0.02 });
      return [t.name, ...[s.drafted, s.start, s.inward()].map((x) => countCrossings(x, s.mesh.triVerts))] as const;
    });
    expect(found.length).toBe(12);
    for (const row of found) expect(row).toEqual([row[0], 0, 0, 0]);
  }, 60_000);

  it('drawstring pouch, soft end: at rest under 1e-4 of a vertex weight with 0 crossings', () => {
    const run = previewBag(bagOf('drawstring-pouch'), { edgeLength: 0.02, bands: ['low'], skipNudge: true }).runs[0]!;
    console.log(`${run.status}, residual ${run.residual.toExponential(1)}, crossings ${run.contact.crossings}`);
    expect(run.status).toBe('settled');
    expect(run.residual).toBeLessThan(1e-4);
    expect(run.contact.crossings).toBe(0);
  }, 60_000);
});
