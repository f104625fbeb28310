import { describe, expect, it } from 'vitest';
import { foldsAlong, turningPoints } from '../../src/measures/folds.ts';
import { convexHull, hullArea } from '../../src/measures/footprint.ts';
import { leastSquares, symmetricEigen } from '../../src/measures/linear.ts';
import { markPositions } from '../../src/measures/measure.ts';
import { rimLoop } from '../../src/measures/mouth.ts';
import { rimHeight, rimOf } from '../../src/measures/rim.ts';
import { sheetsOf } from '../../src/measures/sheet.ts';
import { enclosedVolume, enclosureOf } from '../../src/measures/volume.ts';
import { box, grid, sew, strip, tube } from './shapes.ts';

describe('symmetricEigen', () => {
  it('finds 1, 3 and the 45-degree axes of [2 1; 1 2] to 1e-14', () => {
    const { values, vectors } = symmetricEigen([
      [2, 1],
      [1, 2],
    ]);
    expect(values[0]).toBeCloseTo(1, 14);
    expect(values[1]).toBeCloseTo(3, 14);
    expect(Math.abs(vectors[1][0])).toBeCloseTo(Math.SQRT1_2, 14);
  });
  it('satisfies A v = lambda v to 1e-12 on a 4 x 4 matrix', () => {
    const A = [
      [4, 1, -2, 0.5],
      [1, 3, 0, 1],
      [-2, 0, 5, 2],
      [0.5, 1, 2, -1],
    ];
    const { values, vectors } = symmetricEigen(A);
    vectors.forEach((v, k) => {
      for (const [i, row] of A.entries()) expect(row.reduce((s, a, j) => s + a * v[j], 0)).toBeCloseTo(values[k] * v[i], 12);
    });
  });
});

describe('leastSquares', () => {
  it('gives back 2 - 3 u + 5 u^2 from its own samples to 1e-12, and null for a single sample', () => {
    const us = [-1, -0.3, 0.2, 0.7, 1];
    const c = leastSquares(
      us.map((u) => [1, u, u * u]),
      us.map((u) => 2 - 3 * u + 5 * u * u),
    )!;
    expect(c[0]).toBeCloseTo(2, 12);
    expect(c[1]).toBeCloseTo(-3, 12);
    expect(c[2]).toBeCloseTo(5, 12);
    expect(leastSquares([[1, 2, 4]], [1])).toBeNull();
  });
});

describe('hullArea', () => {
  it('is 12 for a 4 x 3 rectangle with points inside and on its edges', () => {
    expect(hullArea([[0, 0], [4, 0], [4, 3], [0, 3], [2, 1], [2, 0], [4, 1]])).toBeCloseTo(12, 14); // biome-ignore format: one shape, one line
    expect(convexHull([[0, 0], [4, 0], [4, 3], [0, 3], [2, 0]])).toHaveLength(4); // biome-ignore format: one shape, one line
  });
  it('is 0 for points on a line and for two points', () => {
    expect(hullArea([[0, 0], [1, 1], [2, 2], [3, 3]])).toBe(0); // biome-ignore format: one shape, one line
    expect(hullArea([[0, 0], [1, 1]])).toBe(0); // biome-ignore format: one shape, one line
  });
});

describe('enclosedVolume', () => {
  it('is 300 x 240 x 100 mm = 7.2 l for the box and n/2 sin(2 pi/n) R^2 H for the tube, to 1e-12', () => {
    const b = box(0.3, 0.24, 0.1);
    expect(enclosedVolume(enclosureOf(sheetsOf(b.bag, b.mesh))!, b.drafted)).toBeCloseTo(0.0072, 12);
    const t = tube(0.09, 0.25, 32);
    expect(enclosedVolume(enclosureOf(sheetsOf(t.bag, t.mesh))!, t.drafted)).toBeCloseTo(16 * Math.sin(Math.PI / 16) * 0.0081 * 0.25, 12);
  });
  it('turns a panel that was sewn in face inwards: the volume stays 7.2 l in size', () => {
    const b = box(0.3, 0.24, 0.1);
    for (let t = 0; t < b.mesh.triPanel.length; t++) {
      if (b.mesh.triPanel[t] !== 1) continue;
      const v = b.mesh.triVerts;
      [v[3 * t + 1], v[3 * t + 2]] = [v[3 * t + 2], v[3 * t + 1]];
    }
    expect(Math.abs(enclosedVolume(enclosureOf(sheetsOf(b.bag, b.mesh))!, b.drafted))).toBeCloseTo(0.0072, 12);
  });
  it('has no surface for two loose walls', () => {
    const loose = sew('loose', [
      grid('front', 'front', 1, 1, 2, 2, (u, v) => [u, 0, v], ['top']),
      grid('back', 'back', 1, 1, 2, 2, (u, v) => [1 - u, 1, v], ['top']),
    ]);
    expect(enclosureOf(sheetsOf(loose.bag, loose.mesh))).toBeNull();
  });
});

describe('the rim', () => {
  it('of the box is one loop of 4 x 8 vertices, weighed 2 (300 + 100) mm in all', () => {
    const b = box(0.3, 0.24, 0.1, 8);
    const rim = rimOf(b.bag, b.mesh, b.drafted)!;
    expect(rim.verts).toHaveLength(32);
    expect(rim.weights.reduce((s, w) => s + w, 0)).toBeCloseTo(0.8, 12);
    expect(rimLoop(rim.edges)).toHaveLength(32);
    expect(rimHeight(rim, b.drafted)).toBeCloseTo(0.24, 12);
  });
  it('of a strip is null', () => {
    const s = strip(0.2, 0.025);
    expect(rimOf(s.bag, s.mesh, s.drafted)).toBeNull();
  });
});

describe('folds', () => {
  it('of a sine of k waves turn 2k times; one step up turns never', () => {
    for (const k of [1, 2, 5]) {
      const wave = Array.from({ length: 200 }, (_, i) => 0.01 * Math.sin((2 * Math.PI * k * i) / 199));
      expect(turningPoints(wave, 0.005), `${k} waves`).toBe(2 * k);
    }
    expect(turningPoints([0, 0, 0.01, 0.01], 0.005)).toBe(0);
  });
  it('ignore a parabola of 40 mm and noise of 2 mm on it', () => {
    const samples = Array.from({ length: 61 }, (_, i) => ({ s: i / 60, d: 0.16 * (i / 60) * (1 - i / 60) + (i % 2 === 0 ? 0.001 : -0.001) }));
    expect(foldsAlong(samples)).toBe(0);
  });
});

describe('markPositions', () => {
  it('is the barycentric mean of the corners, and a second mark of the same name is filed under its panel', () => {
    const b = box(0.3, 0.24, 0.1, 2);
    const weights = [0.2, 0.3, 0.5] as const;
    const mesh = { ...b.mesh, marks: [0, 8].map((tri) => ({ name: 'm', panel: b.mesh.triPanel[tri], tri, weights })) };
    const marks = markPositions(mesh, b.drafted);
    expect(Object.keys(marks)).toEqual(['m', 'back.m']);
    const corners = [0, 1, 2].map((k) => b.drafted.subarray(3 * mesh.triVerts[k], 3 * mesh.triVerts[k] + 3));
    for (let c = 0; c < 3; c++) expect(marks.m[c]).toBeCloseTo(0.2 * corners[0][c] + 0.3 * corners[1][c] + 0.5 * corners[2][c], 15);
  });
});
