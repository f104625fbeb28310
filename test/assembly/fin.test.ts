import { describe, expect, it } from 'vitest';
import { sewnOn } from '../../src/assembly/sewn-on.ts';
import { parseBag } from '../../src/bag/index.ts';
import { finRigidity, layUp, rippleCurvature, rippledRigidity, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { flatArea } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { rigidityOf, STRIP, strongCloth } from './sewn-strip.ts';

const { half: HALF, length: LENGTH, D, C } = STRIP;

describe('a fin along a seam (composite beam)', () => {
  // Edges of a meshed fin: four in its height. With one or two the mesh is 7-22 % too stiff; with five it is 2.1, 0.4 and 1.9 % off at 6, 10 and 14 mm.
  it.each([
    [0.006, 0.005 / 3],
    [0.01, 0.0025],
    [0.014, 0.0025],
  ])('as a beam has the rigidity of a meshed fin of %f m (edges %f m) on a strip of 40 mm within 5 %', (height, edge) => {
    const meshed = rigidityOf({ fin: height }, edge) - D * 2 * HALF;
    const beam = finRigidity({ height, inPlane: C, bending: D, flange: 2 * HALF * C });
    const bare = rigidityOf({}, edge) / (2 * HALF);
    console.log(`meshed fin ${(1e3 * meshed).toFixed(3)}, beam ${(1e3 * beam).toFixed(3)} mN.m2; strip without it ${bare.toFixed(5)} N.m of ${D}`);
    expect(Math.abs(bare / D - 1)).toBeLessThan(0.02);
    expect(Math.abs(meshed / beam - 1)).toBeLessThan(0.05);
  });
  it('on cloth that does not stretch is C h^3/3, by itself C h^3/12', () => {
    const fin = { height: 0.01, inPlane: 4e4, bending: 1.2e-3 };
    expect(finRigidity({ ...fin, flange: 1e12 })).toBeCloseTo((4e4 * 1e-6) / 3, 9);
    expect(finRigidity({ ...fin, flange: 0 })).toBeCloseTo((4e4 * 1e-6) / 12, 12);
  });
  it('of two layers of 600 uN.m and 20 kN/m, 10 mm high, ripples at a bend of 8 m; at 200 mm it is worth 2.5 % of its beam', () => {
    const fin = { height: 0.01, inPlane: 4e4, bending: 1.2e-3, flange: 1e12 };
    expect(1 / rippleCurvature(fin)).toBeCloseTo((4e4 * 1e-6) / (0.43 * Math.PI ** 2 * 1.2e-3), 6);
    expect(rippledRigidity(fin) / finRigidity(fin)).toBeCloseTo(0.2 * rippleCurvature(fin), 12);
  });
});

describe('allowances of a seam whose pressing is stated', () => {
  /** Added rigidity along the seam x area over seam length: N.m2 per side. */
  const gain = (more: object, stack: object | readonly unknown[] = { ...strongCloth, D11: '4 mN.m', D22: '1 mN.m' }): readonly number[] => {
    const bag = parseBag({
      slumpline: 1,
      panels: { p: { rectangle: { width: '80 mm', height: '160 mm' } }, q: { copy: 'p' } },
      seams: { s: { join: ['p.right', 'q.left'], allowance: '10 mm', ...more } },
      stacks: { cloth: stack },
      options: { o: { 'every panel': 'cloth' } },
    });
    const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: 0.02, kind: 'structured' });
    const lams = layUp(bag, 'o', 'mid');
    const sum = [0, 0];
    for (const [t, { bending }] of sewnOn(bag, mesh, lams, sewnLayers(bag, lams, 'mid')))
      sum[mesh.triPanel[t]!] += (bending[0] - lams[0]![0]!.bending[0]) * flatArea(mesh, t);
    return sum.map((g) => g / LENGTH);
  };
  it.each([
    [{}, 0, 0],
    [{ pressed: 'open' }, 1, 1],
    [{ pressed: 'creased' }, 1, 1],
    [{ pressed: 'to one side' }, 0, 2],
    [{ pressed: 'open', allowance: '6 mm' }, 0.6, 0.6],
  ])('%j: %f and %f layers of 4 mN.m over 10 mm on the two panels, to 1e-9', (more, p, q) => {
    const got = gain(more);
    expect(got[0]).toBeCloseTo(p * 4e-5, 11);
    expect(got[1]).toBeCloseTo(q * 4e-5, 11);
  });
  it('unpressed: both sides together get half of the rippled fin', () => {
    const fin = { height: 0.01, inPlane: 2 * C, bending: 8e-3, flange: 2 * C * 0.01 };
    const got = gain({ pressed: 'unpressed' });
    expect(got[0]! + got[1]!).toBeCloseTo(rippledRigidity(fin) / 2, 9);
  });
  it('count what is caught: a lining said to be caught adds its own rigidity, one of which nothing is said does not', () => {
    const of = (lining: object) => gain({ pressed: 'open' }, ['canvas10', lining])[0]!;
    const bare = gain({ pressed: 'open' }, ['canvas10'])[0]!;
    expect(of({ loose: 'poplin' })).toBeCloseTo(bare, 12);
    expect(of({ loose: 'poplin', 'in seams': 'caught' })).toBeGreaterThan(bare * 1.02);
  });
});
