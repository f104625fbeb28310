import type { Bag } from '../bag/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { type HeldStrip, type Quad, quadsOf } from '../panels/index.ts';
import { sharedArea } from './overlap.ts';

/** A triangle under something stitched on: share of its area, and the directions of the border that crosses it, rad from x, with their weights (sum 1). */
export interface Touched {
  readonly t: number;
  readonly share: number;
  readonly borders: readonly (readonly [along: number, weight: number])[];
}

/** Shares of a triangle: of one wholly covered, and the least that counts. */
export const MOST = 1 - 1e-12;
export const LEAST = 1e-9;

/**
 * A strip is narrower than a triangle, and a row of triangles that hold much and little of it in turn would be too soft along it. So it is spread inward over the
 * height of a triangle, with its own area kept.
 */
const SPREAD = Math.sqrt(3) / 2;

export function underStrip(bag: Bag, mesh: BagMesh, strip: HeldStrip): Touched[] {
  const own = quadsOf(bag, strip, strip.width);
  const wide = quadsOf(bag, strip, Math.max(strip.width, SPREAD * mesh.quality.meanEdge));
  const [xs, ys] = [0, 1].map((k) => [...own, ...wide].flat().map((p) => p[k]!));
  const near = trianglesOf(mesh, strip.panel, [Math.min(...xs!), Math.min(...ys!), Math.max(...xs!), Math.max(...ys!)]);
  const under = (quads: readonly Quad[]) => near.map((t) => ({ t, ...shared(quads, mesh, t) }));
  const total = (all: readonly { readonly area: number }[]): number => all.reduce((sum, u) => sum + u.area, 0);
  const [drawn, spread] = [under(own), under(wide)];
  // Round a curve tighter than the spread the wide strip folds over itself; then the narrow one has to do.
  const areas = total(spread) >= total(drawn) ? spread : drawn;
  const scale = total(drawn) / total(areas);
  return areas.flatMap(({ t, area, along }) => {
    const share = Math.min(MOST, (scale * area) / flatArea(mesh, t));
    return share < LEAST ? [] : [{ t, share, borders: [[along, 1] as const] }];
  });
}

/** Area of a triangle under quadrilaterals, m2, and their mean direction there, rad. */
function shared(quads: readonly Quad[], mesh: BagMesh, t: number): { area: number; along: number } {
  let [area, c, s] = [0, 0, 0];
  for (const quad of quads) {
    const common = sharedArea(quad, mesh.triFlat, 6 * t);
    // Twice the angle: a direction and its opposite are one.
    const twice = 2 * libm.atan2(quad[1][1] - quad[0][1], quad[1][0] - quad[0][0]);
    area += common;
    c += common * libm.cos(twice);
    s += common * libm.sin(twice);
  }
  return { area, along: libm.atan2(s, c) / 2 };
}

/** Triangles of a panel whose boxes meet the box [left, bottom, right, top], in order. */
export function trianglesOf(mesh: BagMesh, panel: string, [left, bottom, right, top]: readonly [number, number, number, number]): number[] {
  const p = mesh.panelNames.indexOf(panel);
  const f = mesh.triFlat;
  const out: number[] = [];
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const q = 6 * t;
    if (
      mesh.triPanel[t] === p &&
      Math.max(f[q]!, f[q + 2]!, f[q + 4]!) > left &&
      Math.min(f[q]!, f[q + 2]!, f[q + 4]!) < right &&
      Math.max(f[q + 1]!, f[q + 3]!, f[q + 5]!) > bottom &&
      Math.min(f[q + 1]!, f[q + 3]!, f[q + 5]!) < top
    )
      out.push(t);
  }
  return out;
}
