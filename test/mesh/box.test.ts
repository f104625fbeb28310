import { describe, expect, it } from 'vitest';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { EDGE_FREE, EDGE_INNER, EDGE_SEAM } from '../../src/mesh/types.ts';
import { boxTote } from './bags.ts';
import { euler, flatArea } from './tools.ts';

const { bag, draft } = boxTote();

describe.each([20, 10, 5])('the box tote 300 x 240 x 100 mm at %i mm', (mm) => {
  const mesh = meshPanels(bag, draft, { edgeLength: mm / 1000 });

  it('has no angle under 25 degrees', () => {
    console.log(
      `h = ${mm} mm: ${mesh.vertexCount} vertices, smallest angle ${mesh.quality.minAngleDeg.toFixed(2)} deg, expected >= 25; edges ${(1000 * mesh.quality.minEdge).toFixed(2)}-${(1000 * mesh.quality.maxEdge).toFixed(2)} mm, mean ${(1000 * mesh.quality.meanEdge).toFixed(2)}`,
    );
    expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(25);
    expect(Math.abs(mesh.quality.meanEdge / (mm / 1000) - 1)).toBeLessThan(0.15);
  });

  it('has the area of its panels to 1e-12', () => {
    const drafted = draft.panels.reduce((sum, p) => sum + p.area, 0);
    expect(drafted).toBeCloseTo(2 * 0.3 * 0.24 + 2 * 0.1 * 0.24 + 0.3 * 0.1, 15);
    const error = Math.abs(flatArea(mesh) / drafted - 1);
    console.log(`area ${flatArea(mesh)} m2, expected ${drafted}, relative error ${error.toExponential(1)}, tolerance 1e-12 (rounding of the sum)`);
    expect(error).toBeLessThan(1e-12);
  });

  it('is a disc (Euler characteristic 1) and every rim vertex but the sewn ones is counted once', () => {
    expect(euler(mesh)).toBe(1);
    const flatCount = mesh.panelVerts.reduce((sum, p) => sum + p.verts.length, 0);
    // Each seam of N segments merges N + 1 pairs; the four base corners join three panels and are counted by two of three seams.
    const onSeams = draft.seams.reduce(
      (sum, s) => sum + mesh.outlines[s.sides[0].runs[0].panel][draft.panels[s.sides[0].runs[0].panel].edges[s.sides[0].runs[0].edge].name].verts.length,
      0,
    );
    expect(flatCount - mesh.vertexCount).toBe(onSeams - 4);
  });

  it('numbers edges by the stated conventions', () => {
    const { triVerts, edgeVerts, edgeTris, edgeLocal, edgeKind, edgeSeam } = mesh;
    const seen = new Set<number>();
    for (let e = 0; e < edgeKind.length; e++) {
      const [a, b] = [edgeVerts[2 * e], edgeVerts[2 * e + 1]];
      expect(a).not.toBe(b);
      for (const side of [0, 1]) {
        const t = edgeTris[2 * e + side];
        const k = edgeLocal[2 * e + side];
        if (t < 0) {
          expect(side).toBe(1);
          expect(k).toBe(-1);
          continue;
        }
        seen.add(3 * t + k);
        const run = [triVerts[3 * t + ((k + 1) % 3)], triVerts[3 * t + ((k + 2) % 3)]];
        expect(run).toEqual(side === 0 ? [a, b] : [b, a]);
      }
      expect(edgeKind[e] === EDGE_FREE).toBe(edgeTris[2 * e + 1] === -1);
      expect(edgeKind[e] === EDGE_SEAM).toBe(edgeSeam[e] >= 0);
      if (edgeKind[e] === EDGE_INNER) expect(mesh.triPanel[edgeTris[2 * e]]).toBe(mesh.triPanel[edgeTris[2 * e + 1]]);
    }
    expect(seen.size).toBe(3 * mesh.triPanel.length);
  });

  it('has no triangle hanging by two outline edges', () => {
    const outline = new Uint8Array(mesh.triPanel.length);
    for (let e = 0; e < mesh.edgeKind.length; e++)
      if (mesh.edgeKind[e] !== EDGE_INNER) for (const side of [0, 1]) if (mesh.edgeTris[2 * e + side] >= 0) outline[mesh.edgeTris[2 * e + side]]++;
    expect(Math.max(...outline)).toBe(1);
  });

  it('is the same to the byte when meshed again', () => {
    const again = meshPanels(bag, draft, { edgeLength: mm / 1000 });
    expect(Buffer.compare(Buffer.from(mesh.triFlat.buffer), Buffer.from(again.triFlat.buffer))).toBe(0);
    expect(again.triVerts).toEqual(mesh.triVerts);
  });
});

describe('row meshes', () => {
  it.each(['structured', 'equilateral', 'irregular'] as const)('%s: the box keeps its area to 1e-12 and stays conforming', (kind) => {
    const mesh = meshPanels(bag, draft, { edgeLength: 0.01, kind, seed: 7 });
    expect(Math.abs(flatArea(mesh) / 0.222 - 1)).toBeLessThan(1e-12);
    expect(euler(mesh)).toBe(1);
    console.log(
      `${kind}: ${mesh.vertexCount} vertices, smallest angle ${mesh.quality.minAngleDeg.toFixed(2)} deg, mean edge ${(1000 * mesh.quality.meanEdge).toFixed(2)} mm`,
    );
    expect(mesh.quality.minAngleDeg).toBeGreaterThan(kind === 'irregular' ? 5 : 25);
  });
});
