import type { PanelPatch } from '../core.ts';

export type Flat = readonly [number, number];

/** Points that go with a panel's cloth, each held by the nearest triangle's corners. */
export class OnCloth {
  /** 3 local vertex numbers a point, and their weights (sum 1). */
  private readonly corners: Uint32Array;
  private readonly weights: Float32Array;
  readonly count: number;

  /** points: panel frame, m. One just off the mesh (an edge's chord cuts it off) is held by the triangle it is least outside of. */
  constructor({ flat, tris }: PanelPatch, points: readonly Flat[]) {
    this.count = points.length;
    this.corners = new Uint32Array(3 * points.length);
    this.weights = new Float32Array(3 * points.length);
    points.forEach(([x, y], i) => {
      let best = Number.NEGATIVE_INFINITY;
      for (let t = 0; t < tris.length && best < 0; t += 3) {
        const [a, b, c] = [2 * tris[t], 2 * tris[t + 1], 2 * tris[t + 2]];
        const area = (flat[b] - flat[a]) * (flat[c + 1] - flat[a + 1]) - (flat[c] - flat[a]) * (flat[b + 1] - flat[a + 1]);
        const u = ((x - flat[a]) * (flat[c + 1] - flat[a + 1]) - (flat[c] - flat[a]) * (y - flat[a + 1])) / area;
        const v = ((flat[b] - flat[a]) * (y - flat[a + 1]) - (x - flat[a]) * (flat[b + 1] - flat[a + 1])) / area;
        const least = Math.min(1 - u - v, u, v);
        if (!(least > best)) continue;
        best = least;
        this.corners.set([tris[t], tris[t + 1], tris[t + 2]], 3 * i);
        this.weights.set([1 - u - v, u, v], 3 * i);
      }
    });
  }

  /** Writes the points' places (3 each, m) from the panel's own vertices and unit normals; lift: how far in front of the face, m. */
  place(position: ArrayLike<number>, normal: ArrayLike<number>, lift: number, out: Float32Array): void {
    for (let i = 0; i < this.count; i++)
      for (let c = 0; c < 3; c++) {
        let sum = 0;
        for (let k = 0; k < 3; k++) {
          const v = 3 * this.corners[3 * i + k] + c;
          sum += this.weights[3 * i + k] * (position[v] + lift * normal[v]);
        }
        out[3 * i + c] = sum;
      }
  }
}
