import type { BagMesh } from '../mesh/types.ts';

/**
 * Carries positions from a coarse mesh of the same bag to a fine one, panel by panel in flat coordinates: inside a panel through the coarse
 * triangle a fine vertex lies in, on an outline along the coarse outline by arc-length fraction, so that sewn vertices agree from both sides.
 * Writes the fine vertices of the listed panels (3n, mutated).
 */
export function prolong(coarse: BagMesh, from: Float64Array, fine: BagMesh, to: Float64Array, panels: readonly number[]): void {
  const done = new Uint8Array(fine.vertexCount);
  for (const p of panels)
    for (const [name, outline] of Object.entries(fine.outlines[p])) {
      const guide = coarse.outlines[p][name];
      let i = 0;
      outline.at.forEach((t, k) => {
        const v = outline.verts[k];
        if (done[v]) return;
        done[v] = 1;
        while (i + 2 < guide.at.length && guide.at[i + 1] < t) i++;
        const w = Math.min(1, Math.max(0, (t - guide.at[i]) / (guide.at[i + 1] - guide.at[i])));
        for (let d = 0; d < 3; d++) to[3 * v + d] = (1 - w) * from[3 * guide.verts[i] + d] + w * from[3 * guide.verts[i + 1] + d];
      });
    }
  for (const p of panels) {
    const finder = new TriangleFinder(coarse, p);
    const { verts, flat } = fine.panelVerts[p];
    for (let i = 0; i < verts.length; i++) {
      const v = verts[i];
      if (done[v]) continue;
      const { tri, weights } = finder.find(flat[2 * i], flat[2 * i + 1]);
      for (let d = 0; d < 3; d++)
        to[3 * v + d] =
          weights[0] * from[3 * coarse.triVerts[3 * tri] + d] +
          weights[1] * from[3 * coarse.triVerts[3 * tri + 1] + d] +
          weights[2] * from[3 * coarse.triVerts[3 * tri + 2] + d];
    }
  }
}

/** Which triangle of a panel holds a flat point, by a grid of boxes; the least outside one for points beyond a chord of the outline. */
class TriangleFinder {
  private readonly cells = new Map<number, number[]>();
  private readonly all: number[] = [];
  private readonly cell: number;

  constructor(
    private readonly mesh: BagMesh,
    panel: number,
  ) {
    this.cell = 2 * mesh.quality.meanEdge;
    const f = mesh.triFlat;
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] !== panel) continue;
      this.all.push(t);
      const [x0, x1] = [Math.min(f[6 * t], f[6 * t + 2], f[6 * t + 4]), Math.max(f[6 * t], f[6 * t + 2], f[6 * t + 4])];
      const [y0, y1] = [Math.min(f[6 * t + 1], f[6 * t + 3], f[6 * t + 5]), Math.max(f[6 * t + 1], f[6 * t + 3], f[6 * t + 5])];
      for (let i = Math.floor(x0 / this.cell); i <= Math.floor(x1 / this.cell); i++)
        for (let j = Math.floor(y0 / this.cell); j <= Math.floor(y1 / this.cell); j++) {
          const key = i * 1048576 + j;
          const list = this.cells.get(key);
          if (list) list.push(t);
          else this.cells.set(key, [t]);
        }
    }
  }

  find(x: number, y: number): { tri: number; weights: [number, number, number] } {
    const near = this.best(this.cells.get(Math.floor(x / this.cell) * 1048576 + Math.floor(y / this.cell)) ?? [], x, y);
    return near && near.least > -1e-9 ? near : (this.best(this.all, x, y) ?? { tri: this.all[0], weights: [1, 0, 0] });
  }

  private best(list: readonly number[], x: number, y: number): { tri: number; weights: [number, number, number]; least: number } | null {
    const f = this.mesh.triFlat;
    let found: { tri: number; weights: [number, number, number]; least: number } | null = null;
    for (const t of list) {
      const k = 6 * t;
      const area = (f[k + 2] - f[k]) * (f[k + 5] - f[k + 1]) - (f[k + 3] - f[k + 1]) * (f[k + 4] - f[k]);
      const w0 = ((f[k + 2] - x) * (f[k + 5] - y) - (f[k + 3] - y) * (f[k + 4] - x)) / area;
      const w1 = ((f[k + 4] - x) * (f[k + 1] - y) - (f[k + 5] - y) * (f[k] - x)) / area;
      const least = Math.min(w0, w1, 1 - w0 - w1);
      if (!found || least > found.least) found = { tri: t, weights: [w0, w1, 1 - w0 - w1], least };
      if (least > -1e-12) break;
    }
    return found;
  }
}
