import { describe, expect, it } from 'vitest';
import { countCrossings } from '../../src/mesh/crossings.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { bulge, placePanels } from '../../src/placement/place-panels.ts';
import { strainOf } from '../../src/placement/strain.ts';
import { boxTote, sewn } from '../mesh/bags.ts';

describe('the box tote 300 x 240 x 100 mm', () => {
  const { bag, draft } = boxTote();
  const mesh = meshPanels(bag, draft, { edgeLength: 0.01 });
  const placed = placePanels(bag, draft, mesh);

  it('stands exactly: edge lengths to 1e-13, no crossings', () => {
    console.log(
      `strain mean ${placed.strain.mean.toExponential(1)} max ${placed.strain.max.toExponential(1)}, tolerance 1e-13 (rounding); crossings ${placed.crossings}`,
    );
    expect(placed.ways.map((w) => w.way)).toEqual(['box']);
    expect(placed.strain.max).toBeLessThan(1e-13);
    expect(placed.crossings).toBe(0);
  });

  it('fills x +-150, y +-50, z 0..240 mm with the front at -y and the right side at +x', () => {
    const range = (panel: string, d: number): [number, number] => {
      const values = Array.from(mesh.panelVerts[mesh.panelNames.indexOf(panel)].verts, (v) => placed.positions[3 * v + d]);
      return [Math.min(...values), Math.max(...values)];
    };
    const near = (got: [number, number], want: [number, number]) =>
      expect(Math.max(Math.abs(got[0] - want[0]), Math.abs(got[1] - want[1]))).toBeLessThan(1e-12);
    near(range('front', 1), [-0.05, -0.05]);
    near(range('front', 0), [-0.15, 0.15]);
    near(range('front', 2), [0, 0.24]);
    near(range('back', 1), [0.05, 0.05]);
    near(range('right', 0), [0.15, 0.15]);
    near(range('left', 0), [-0.15, -0.15]);
    near(range('base', 2), [0, 0]);
  });

  it('has unit normals that point out of the box', () => {
    for (let v = 0; v < mesh.vertexCount; v++) {
      const [x, y, z] = placed.positions.subarray(3 * v, 3 * v + 3);
      const [nx, ny, nz] = placed.normals.subarray(3 * v, 3 * v + 3);
      expect(Math.hypot(nx, ny, nz)).toBeCloseTo(1, 12);
      expect(x * nx + y * ny + (z - 0.12) * nz).toBeGreaterThan(0);
    }
  });

  it.each([0.004, -0.004])('bulges by %f m at the middle of a wall, seams and base unmoved, the same for two meshes', (amplitude) => {
    const stuffed = bulge(mesh, bag, placed.positions, amplitude, 3);
    const front = mesh.panelNames.indexOf('front');
    const moves = (m: typeof mesh, x: Float64Array) =>
      Math.min(...Array.from(m.panelVerts[front].verts, (v) => x[3 * v + 1] + 0.05)) +
      Math.max(...Array.from(m.panelVerts[front].verts, (v) => x[3 * v + 1] + 0.05));
    const finer = meshPanels(bag, draft, { edgeLength: 0.006 });
    const other = bulge(finer, bag, placePanels(bag, draft, finer).positions, amplitude, 3);
    console.log(
      `bulge ${amplitude}: largest move ${moves(mesh, stuffed).toFixed(5)} m and ${moves(finer, other).toFixed(5)} m; expected ${-amplitude} within 15 % (waviness 10 %)`,
    );
    expect(Math.abs(moves(mesh, stuffed) / -amplitude - 1)).toBeLessThan(0.15);
    expect(Math.abs(moves(mesh, stuffed) - moves(finer, other))).toBeLessThan(0.03 * Math.abs(amplitude));
    for (const v of mesh.panelVerts[mesh.panelNames.indexOf('base')].verts) expect(stuffed[3 * v + 2]).toBe(placed.positions[3 * v + 2]);
    for (const v of mesh.outlines[front].right.verts) expect(stuffed.subarray(3 * v, 3 * v + 3)).toEqual(placed.positions.subarray(3 * v, 3 * v + 3));
    expect(countCrossings(stuffed, mesh.triVerts)).toBe(0);
    expect(strainOf(mesh, stuffed).mean).toBeLessThan(2e-3);
  });
});

describe('an unsewn panel', () => {
  it('lies by its pose to 1e-15', () => {
    const { bag, draft } = sewn({
      strip: { rectangle: { width: '25 mm', height: '200 mm' }, pose: { origin: [0, 0, '300 mm'], x: [0, -1, 0], y: [1, 0, 0] } },
    });
    const mesh = meshPanels(bag, draft, { edgeLength: 0.005 });
    const { positions, normals, strain } = placePanels(bag, draft, mesh);
    const { verts, flat } = mesh.panelVerts[0];
    verts.forEach((v, i) => {
      expect(positions[3 * v]).toBeCloseTo(flat[2 * i + 1], 15);
      expect(positions[3 * v + 1]).toBeCloseTo(-flat[2 * i], 15);
      expect(positions[3 * v + 2]).toBe(0.3);
      expect(normals[3 * v + 2]).toBeCloseTo(1, 12);
    });
    expect(strain.max).toBeLessThan(1e-13);
  });

  it('sewn to another that also states its pose, lies by both to 1e-12; a box with one stated pose is moved to it', () => {
    const half = (x: number) => ({ rectangle: { width: '50 mm', height: '100 mm' }, pose: { origin: [`${x} mm`, 0, '300 mm'], x: [1, 0, 0], y: [0, 1, 0] } });
    const { bag, draft } = sewn({ a: half(0), b: half(50) }, { A: { join: ['a.right', 'b.left'] } });
    const mesh = meshPanels(bag, draft, { edgeLength: 0.01 });
    const { positions, strain, ways } = placePanels(bag, draft, mesh);
    expect(ways[0].way).toBe('flat');
    expect(strain.max).toBeLessThan(1e-12);
    for (let v = 0; v < mesh.vertexCount; v++) expect(positions[3 * v + 2]).toBe(0.3);
    const box = boxTote();
    const posed = {
      ...box.bag,
      panels: box.bag.panels.map((p) => (p.name === 'front' ? { ...p, pose: { origin: [1, 2, 3], x: [0, 1, 0], y: [0, 0, 1] } as const } : p)),
    };
    const boxMesh = meshPanels(posed, box.draft, { edgeLength: 0.02 });
    const moved = placePanels(posed, box.draft, boxMesh);
    expect(moved.strain.max).toBeLessThan(1e-12);
    const front = boxMesh.panelVerts[0];
    front.verts.forEach((v, i) => {
      expect(moved.positions[3 * v]).toBeCloseTo(1, 12);
      expect(moved.positions[3 * v + 1]).toBeCloseTo(2 + front.flat[2 * i], 12);
      expect(moved.positions[3 * v + 2]).toBeCloseTo(3 + front.flat[2 * i + 1], 12);
    });
  });
});
