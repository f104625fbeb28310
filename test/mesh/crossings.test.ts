import { describe, expect, it } from 'vitest';
import { countCrossings, findCrossings } from '../../src/mesh/crossings.ts';

/** A flat grid of n x n cells spanning 1 m, mapped into space. */
function sheet(n: number, place: (u: number, v: number) => [number, number, number], offset = 0): { x: number[]; tris: number[] } {
  const x: number[] = [];
  const tris: number[] = [];
  for (let j = 0; j <= n; j++) for (let i = 0; i <= n; i++) x.push(...place(i / n, j / n));
  for (let j = 0; j < n; j++)
    for (let i = 0; i < n; i++) {
      const a = offset + j * (n + 1) + i;
      tris.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1);
    }
  return { x, tris };
}

function both(n: number, p: (u: number, v: number) => [number, number, number], q: (u: number, v: number) => [number, number, number]): number {
  const a = sheet(n, p);
  const b = sheet(n, q, (n + 1) * (n + 1));
  return countCrossings([...a.x, ...b.x], [...a.tris, ...b.tris]);
}

describe('crossings of triangles', () => {
  it('two triangles stuck through each other are 1 crossing; moved apart by 1 nm, 0', () => {
    const x = [0, 0, 0, 1, 0, 0, 0, 1, 0, 0.2, 0.2, -1, 0.2, 0.2, 1, 3, 3, 0];
    expect(countCrossings(x, [0, 1, 2, 3, 4, 5])).toBe(1);
    expect(findCrossings(x, [0, 1, 2, 3, 4, 5])).toEqual([0, 1]);
    // The needle's point 1 nm above the plane.
    expect(countCrossings([...x.slice(0, 9), 0.2, 0.2, 1e-9, 0.2, 0.2, 1, 3, 3, 0.5], [0, 1, 2, 3, 4, 5])).toBe(0);
    expect(countCrossings([...x.slice(0, 9), 0.2, 0.2, -1e-9, 0.2, 0.2, 1, 3, 3, 0.5], [0, 1, 2, 3, 4, 5])).toBe(1);
  });

  it('a flat sheet, tilted at any angle, does not cross itself: 0', () => {
    for (const angle of [0, 0.1, 0.7, 1.234]) {
      const { x, tris } = sheet(20, (u, v) => [u * Math.cos(angle) - 0.3 * v, v, u * Math.sin(angle) + 0.1 * v]);
      expect(countCrossings(x, tris)).toBe(0);
    }
  });

  it('two parallel sheets 1e-12 m apart, or lying exactly on one another, do not cross: 0', () => {
    const tilt =
      (z: number) =>
      (u: number, v: number): [number, number, number] => [u, v, 0.37 * u + z];
    expect(both(10, tilt(0), tilt(1e-12))).toBe(0);
    expect(both(10, tilt(0), tilt(0))).toBe(0);
  });

  it('two sheets crossing along a line are found in every cell the line passes, at any mesh: >= n', () => {
    for (const n of [4, 16, 40]) {
      const found = both(
        n,
        (u, v) => [u, v, 0],
        (u, v) => [0.503, v, u - 0.497],
      );
      console.log(`crossing sheets, n = ${n}: ${found} pairs, expected at least ${n}`);
      expect(found).toBeGreaterThanOrEqual(n);
    }
  });

  it('a crossing through a mesh line counts (no gap between two triangles)', () => {
    // A needle through the middle of a square cut in two along its diagonal.
    const x = [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0.5, 0.5, -1, 0.5, 0.5, 1, 3, 3.5, 0];
    expect(countCrossings(x, [0, 1, 2, 0, 2, 3, 4, 5, 6])).toBeGreaterThanOrEqual(1);
  });

  it('triangles that share a vertex cross when one cuts through the other: 1; when they only meet there: 0', () => {
    const base = [0, 0, 0, 1, 0, 0, 0, 1, 0];
    expect(countCrossings([...base, 0.5, 0.2, 0.3, 0.2, 0.5, -0.3], [0, 1, 2, 0, 3, 4])).toBe(1);
    expect(countCrossings([...base, 0.5, 0.2, 0.3, 0.2, 0.5, 0.3], [0, 1, 2, 0, 3, 4])).toBe(0);
  });

  it('counts are the same after a rigid move of 10 m', () => {
    const p = sheet(12, (u, v) => [u, v, 0.2 * Math.sin(7 * u) * Math.sin(5 * v)]);
    const q = sheet(12, (u, v) => [u, v, 0.1 * Math.cos(6 * u + v)], 169);
    const x = [...p.x, ...q.x];
    const tris = [...p.tris, ...q.tris];
    const moved = x.map((c) => c + 10);
    expect(countCrossings(x, tris)).toBeGreaterThan(20);
    expect(countCrossings(moved, tris)).toBe(countCrossings(x, tris));
  });
});
