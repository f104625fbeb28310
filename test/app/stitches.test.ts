import { describe, expect, it } from 'vitest';
import { type Flat, OnCloth } from '../../src/app/view/on-cloth.ts';
import { clothLook } from '../../src/app/view/palette.ts';
import { threadLine } from '../../src/app/view/programs.ts';
import { linesOf, type StrapEnd } from '../../src/app/view/stitches.ts';
import type { PanelPatch } from '../../src/index.ts';

/** A square of 1 m in n x n cells of two triangles. */
function square(n: number): PanelPatch {
  const flat: number[] = [];
  const tris: number[] = [];
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) {
      flat.push(i / n, j / n);
      const o = i * (n + 1) + j;
      if (i < n && j < n) tris.push(o, o + n + 1, o + n + 2, o, o + n + 2, o + 1);
    }
  return { panel: 0, verts: Uint32Array.from({ length: flat.length / 2 }, (_, i) => i), flat: Float32Array.from(flat), tris: Uint32Array.from(tris) };
}
const placed = (patch: PanelPatch, points: readonly Flat[], at: (x: number, y: number) => number[], normal: (x: number) => number[], lift: number) => {
  const n = patch.flat.length / 2;
  const xy = Array.from({ length: n }, (_, i) => [patch.flat[2 * i], patch.flat[2 * i + 1]]);
  const out = new Float32Array(3 * points.length);
  new OnCloth(patch, points).place(
    xy.flatMap(([x, y]) => at(x, y)),
    xy.flatMap(([x]) => normal(x)),
    lift,
    out,
  );
  return out;
};

describe('points on cloth', () => {
  const points: Flat[] = [
    [0.13, 0.77],
    [0.5, 0.5],
    [1, 0],
    [1.001, 0.4],
  ];
  it('go with a flat panel exactly, in front of it by the lift, and just off its edge as well', () => {
    const out = placed(
      square(7),
      points,
      (x, y) => [3 + x, 0.2, y - 1],
      () => [0, -1, 0],
      0.003,
    );
    points.forEach(([x, y], i) => {
      [3 + x, 0.197, y - 1].forEach((v, k) => {
        expect(Math.abs(out[3 * i + k] - v)).toBeLessThan(1e-6);
      });
    });
  });

  it('on a cylinder of radius r they lie off it by less than the sagitta of a cell, h^2/(8 r)', () => {
    const [r, n, lift] = [0.5, 16, 0.01];
    const out = placed(
      square(n),
      points.slice(0, 3),
      (x, y) => [r * Math.sin(x / r), -r * Math.cos(x / r), y],
      (x) => [Math.sin(x / r), -Math.cos(x / r), 0],
      lift,
    );
    for (let i = 0; i < 3; i++) {
      const off = r + lift - Math.hypot(out[3 * i], out[3 * i + 1]);
      expect(off).toBeGreaterThan(-1e-6);
      expect(off).toBeLessThan(((1 / n) ** 2 * (1 + lift / r)) / (8 * r) + 1e-6);
    }
  });
});

describe("a strap's end", () => {
  const end = (kind: StrapEnd['kind']): StrapEnd => ({
    panel: 'p',
    kind,
    at: [0.1, 0.2],
    width: 0.025,
    height: 0.03,
    look: clothLook(null, null),
    covered: false,
  });
  const length = (line: readonly Flat[]): number => line.slice(1).reduce((sum, b, i) => sum + Math.hypot(b[0] - line[i][0], b[1] - line[i][1]), 0);
  it('is held by a box 2.5 mm inside its edge, a box with both diagonals, a row, or no stitches under a rivet', () => {
    expect(linesOf(end('box')).map(length)).toEqual([expect.closeTo(2 * (0.02 + 0.025), 12)]);
    const cross = Math.hypot(0.02, 0.025);
    expect(linesOf(end('box with cross')).map(length)).toEqual([expect.closeTo(0.09, 12), expect.closeTo(cross, 12), expect.closeTo(cross, 12)]);
    expect(linesOf(end('row')).map(length)).toEqual([expect.closeTo(0.02, 12)]);
    expect(linesOf(end('rivet'))).toEqual([]);
    // Below the ring: half of the loop.
    expect(linesOf(end('ring loop')).map(length)).toEqual([expect.closeTo(2 * (0.02 + 0.0125), 12)]);
  });

  it('thread stands out from every cloth: at least 3 : 1 (contrast of WCAG 2.2, 1.4.11)', () => {
    const light = (c: readonly number[]): number => 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
    const linear = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    for (const family of ['soft cotton', 'canvas and duck', 'leather', 'interlining', 'webbing'])
      for (const material of [null, 'denim11', 'denim14raw', 'waxed10', 'uphfabric', 'suede', 'chrome16', 'chrome20', 'veg12', 'veg20', 'veg32']) {
        const { face } = clothLook(material, family);
        const [a, b] = [light(face), light(threadLine(face, 0.003).colour.slice(0, 3).map(linear))].sort((p, q) => q - p);
        console.log(`${family} ${material}: ${((a + 0.05) / (b + 0.05)).toFixed(2)}`);
        expect((a + 0.05) / (b + 0.05)).toBeGreaterThanOrEqual(3);
      }
  });
});
