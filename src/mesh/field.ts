import { libm } from '../numerics/index.ts';
import { GRADE } from './sizing.ts';

/** Wanted edge length inside a panel: h, less near short outline edges, growing back at GRADE per metre. */
export interface SizeField {
  readonly h: number;
  readonly graded: boolean;
  at(x: number, y: number): number;
}

/**
 * Size field of one panel from its outline vertices: each asks for the mean length of its two outline edges.
 * Only vertices under 0.8 h are kept, so that ordinary panels cost nothing; each is looked up through a coarse grid out to where it fades.
 */
export function sizeField(flat: ArrayLike<number>, loops: readonly (readonly number[])[], h: number): SizeField {
  const xs: number[] = [];
  const ys: number[] = [];
  const sizes: number[] = [];
  for (const loop of loops)
    loop.forEach((v, i) => {
      const a = loop[(i + loop.length - 1) % loop.length];
      const b = loop[(i + 1) % loop.length];
      const size =
        (libm.hypot(flat[2 * v] - flat[2 * a], flat[2 * v + 1] - flat[2 * a + 1]) + libm.hypot(flat[2 * v] - flat[2 * b], flat[2 * v + 1] - flat[2 * b + 1])) /
        2;
      if (size < 0.8 * h) {
        xs.push(flat[2 * v]);
        ys.push(flat[2 * v + 1]);
        sizes.push(size);
      }
    });
  if (sizes.length === 0) return { h, graded: false, at: () => h };
  const reach = h / GRADE;
  const cell = Math.max(reach, 1e-9);
  const grid = new Map<number, number[]>();
  const key = (i: number, j: number): number => i * 65536 + j;
  const x0 = Math.min(...xs) - reach;
  const y0 = Math.min(...ys) - reach;
  for (let k = 0; k < sizes.length; k++) {
    const slot = key(Math.floor((xs[k] - x0) / cell), Math.floor((ys[k] - y0) / cell));
    const list = grid.get(slot);
    if (list) list.push(k);
    else grid.set(slot, [k]);
  }
  return {
    h,
    graded: true,
    at: (x, y) => {
      const ci = Math.floor((x - x0) / cell);
      const cj = Math.floor((y - y0) / cell);
      let size = h;
      for (let i = ci - 1; i <= ci + 1; i++)
        for (let j = cj - 1; j <= cj + 1; j++)
          for (const k of grid.get(key(i, j)) ?? []) {
            const s = sizes[k] + GRADE * libm.hypot(x - xs[k], y - ys[k]);
            if (s < size) size = s;
          }
      return size;
    },
  };
}
