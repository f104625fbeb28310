import { describe, expect, it } from 'vitest';
import { type BagError, isotropic, parseReadings, swatchMaterial, swatchTest, swatchText } from '../../src/index.ts';
import { hangingStrip } from '../../src/material/index.ts';
import { cornerHinge, cornerStrip, readHinge } from '../../src/swatch/corner-theory.ts';

const RIGHT = Math.PI / 2;
/** 459 g/m2 with 600 uN.m, nu = 0: w = 4.50 N/m2. */
const cloth = isotropic(0.459, 6e-4, 2e4);
const WEIGHT = 0.459 * 9.80665;

describe('the strip of a corner, by the elastica with an end hinge', () => {
  it('with a hinge that does not give it is the clamped heavy strip: drop within 1e-6 of the cantilever at K = 0.5, 8, 40', () => {
    for (const K of [0.5, 8, 40]) expect(Math.abs(cornerStrip(K, 1e9, RIGHT).drop / hangingStrip(K).drop - 1), `K ${K}`).toBeLessThan(1e-6);
  });
  it('with a stiff piece it is a rigid bar on a spring: k (psi - 90 deg) = w L^2/2 cos, solved by hand, within 1e-4 at K = 1e-4', () => {
    // kappa q = (K/2) cos q.
    const [K, kappa] = [1e-4, 1e-4];
    let q = 0.4;
    for (let i = 0; i < 100; i++) q -= (kappa * q - (K / 2) * Math.cos(q)) / (kappa + (K / 2) * Math.sin(q));
    expect(Math.abs(cornerStrip(K, kappa, RIGHT).drop / Math.sin(q) - 1)).toBeLessThan(1e-4);
  });
  it('a free hinge hangs straight down: drop 1 within 1e-6', () => {
    expect(cornerStrip(1, 0, RIGHT).drop).toBeCloseTo(1, 6);
  });
  it('both drops give back stiffness and rest angle to 1e-6: kappa 0.5 to 30, rest 30 to 110 deg', () => {
    for (const kappa of [0.5, 4, 30])
      for (const deg of [30, 60, 90, 110]) {
        const rest = (deg * Math.PI) / 180;
        const [up, down] = [false, true].map((seamDown) => cornerStrip(1, kappa, rest, seamDown).drop);
        const [k, r] = cornerHinge(1, up!, down!)!;
        expect(Math.abs(k / kappa - 1), `${kappa}, ${deg} deg`).toBeLessThan(1e-6);
        expect(Math.abs(r - rest)).toBeLessThan(1e-6);
      }
  });
  it('drops of a seam that does not give have no hinge: two cantilevers give null', () => {
    const { drop } = hangingStrip(1);
    expect(cornerHinge(1, drop, drop * (1 - 1e-9))).toBeNull();
  });
});

describe('swatch corner', () => {
  it.each([
    [0.02, 60, false],
    [0.02, 60, true],
    [0.12, 90, false],
    [0.12, 45, true],
    [0.86, 90, false],
  ] as const)('a seam of %f N at rest at %f deg, seam down %s: tip within 0.002 of the length of theory at 4 mm', (stiffness, deg, seamDown) => {
    const r = swatchTest('corner', { sheet: cloth, length: 0.06, mesh: 0.004, hinge: { stiffness, restAngle: (deg * Math.PI) / 180 }, seamDown });
    console.log(`k ${stiffness}, rest ${deg}, down ${seamDown}: drop ${r.reading.toFixed(5)}, theory ${r.theory!.toFixed(5)}`);
    expect(r.status).toBe('settled');
    expect(Math.abs(r.error!)).toBeLessThan(0.002);
  });
  it('creased is the default and sags by a tenth or less; unpressed runs on upright, open hangs straight down', () => {
    const drop = (pressed?: 'unpressed' | 'open') => swatchTest('corner', { sheet: cloth, length: 0.04, mesh: 0.005, pressed }).reading;
    const [creased, unpressed, open] = [drop(), drop('unpressed'), drop('open')];
    console.log(`creased ${creased}, unpressed ${unpressed}, open ${open}`);
    expect(creased).toBeGreaterThan(0.03);
    expect(creased).toBeLessThan(0.1);
    expect(unpressed).toBeLessThan(-0.99);
    expect(open).toBeGreaterThan(0.99);
  });
});

describe('readings of a corner', () => {
  it('of a bench seam of 0.05 N at 75 deg come back with it in their error bars, its middle within 5 %', () => {
    const rest = (75 * Math.PI) / 180;
    const [up, down] = [false, true].map(
      (seamDown) => 0.03 * swatchTest('corner', { sheet: cloth, length: 0.03, mesh: 0.003, hinge: { stiffness: 0.05, restAngle: rest }, seamDown }).reading,
    );
    const read = readHinge({ length: 0.03, up: up!, down: down!, error: 5e-4 }, WEIGHT, [5.4e-4, 6e-4, 6.6e-4])!;
    console.log(JSON.stringify({ up, down, read }));
    expect(Math.abs(read.stiffness[1] / 0.05 - 1)).toBeLessThan(0.05);
    expect(read.stiffness[0]).toBeLessThan(0.05);
    expect(read.stiffness[2]).toBeGreaterThan(0.05);
    expect(Math.abs(read.rest[1] - rest)).toBeLessThan(0.02);
    expect(read.rest[0]).toBeLessThan(rest);
    expect(read.rest[2]).toBeGreaterThan(rest);
  });

  const file = (corner: unknown) =>
    JSON.stringify({
      name: 'my cloth',
      like: 'canvas10',
      piece: { mass: '41.3 g', length: '30 cm', width: '30 cm' },
      overhang: { warp: ['102 mm'], weft: ['102 mm'] },
      corner,
    });
  it('of a file: 7 mm below the seam one way and 11 mm the other over 40 mm give a hinge with its error bars, and the entry for a bag file', () => {
    const made = swatchMaterial(parseReadings(file({ length: '40 mm', 'seam up': ['7 mm', '7 mm'], 'seam down': '11 mm' })));
    const [line] = swatchText(made).filter((l) => l.includes('corner seam'));
    console.log(line);
    expect(line).toMatch(/"hinge": \{"stiffness": "[\d.]+ N", "rest": "\d+ deg"\}/);
    const { stiffness, rest } = made.corner!.hinge!;
    expect(stiffness[0]).toBeLessThan(stiffness[1]);
    expect(stiffness[1]).toBeLessThan(stiffness[2]);
    expect(rest[0]).toBeLessThan(rest[1]);
  });
  it('faults with their paths: no unit, a drop as long as the piece, one way up alone, an unknown entry', () => {
    const faults = (corner: unknown) => {
      try {
        parseReadings(file(corner));
        return [];
      } catch (error) {
        return (error as BagError).faults.map((f) => f.path);
      }
    };
    expect(faults({ length: '40 mm', 'seam up': '7', 'seam down': '40 mm' })).toEqual(['corner.seam up', 'corner.seam down']);
    expect(faults({ length: '40 mm', 'seam up': '7 mm' })).toEqual(['corner.seam down']);
    expect(faults({ length: '40 mm', 'seam up': '7 mm', 'seam down': '-7 mm', tip: '3 mm' })).toEqual(['corner.tip']);
    expect(faults('7 mm')).toEqual(['corner']);
  });
});
