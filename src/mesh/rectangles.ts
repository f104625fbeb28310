import { seeded } from '../numerics/index.ts';
import type { DraftPanel } from '../panels/types.ts';
import type { Rim } from './rim.ts';

/** A rectangle with sides along x and y, or null. Lengths m. */
export function rectangleOf(panel: DraftPanel): { x0: number; y0: number; width: number; height: number } | null {
  if (panel.loops.length !== 1 || panel.edges.length !== 4 || panel.edges.some((e) => e.edge.kind !== 'line')) return null;
  const [x0, y0, x1, y1] = panel.bounds;
  const width = x1 - x0;
  const height = y1 - y0;
  return Math.abs(panel.area - width * height) <= 1e-9 * width * height ? { x0, y0, width, height } : null;
}

/**
 * Interior points for an 'irregular' rectangle: a hexagonal lattice, each point moved at random by up to 0.3 h (seeded). Triangles come out
 * of every shape and direction, as a drawn bag's do; nothing is smoothed away. Returns x, y pairs inside, at least 0.5 h from the sides.
 */
export function jitteredPoints(panel: DraftPanel, h: number, seed: number): number[] {
  const box = rectangleOf(panel)!;
  const random = seeded(seed);
  const points: number[] = [];
  const rows = Math.max(1, Math.round(box.height / (h * 0.8660254)));
  const columns = Math.max(1, Math.round(box.width / h));
  for (let r = 1; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const x = box.x0 + ((c + (r % 2 === 0 ? 0.25 : 0.75)) * box.width) / columns + 0.6 * h * (random() - 0.5);
      const y = box.y0 + (r * box.height) / rows + 0.6 * h * (random() - 0.5);
      if (x > box.x0 + 0.5 * h && x < box.x0 + box.width - 0.5 * h && y > box.y0 + 0.5 * h && y < box.y0 + box.height - 0.5 * h) points.push(x, y);
    }
  return points;
}

/** Segments along a side of a rectangle: `structured` about h each way; `equilateral` an even number of rows 0.866 h high along y. */
export function segmentsFor(kind: 'structured' | 'equilateral', alongY: boolean, length: number, h: number): number {
  if (kind === 'equilateral' && alongY) return 2 * Math.max(1, Math.round(length / (1.7320508 * h)));
  return Math.max(1, Math.round(length / h));
}

/**
 * Triangles of a rectangle in rows along x over the given rim (its four edges in any order, unbroken).
 * structured: a grid, every cell cut by the same diagonal (alternating diagonals make mid-edge bending depend on direction).
 * equilateral: odd rows shifted by half an edge, with half triangles at both ends.
 * Returns all coordinates (rim first) and counterclockwise triangles.
 */
export function rowMesh(panel: DraftPanel, rim: Rim, kind: 'structured' | 'equilateral'): { coords: Float64Array; tris: Uint32Array } {
  const box = rectangleOf(panel)!;
  const coords = [...rim.flat];
  const side = (fixed: 0 | 1, value: number): number[] =>
    rim.place
      .map((_, v) => v)
      .filter((v) => Math.abs(rim.flat[2 * v + fixed] - value) < 1e-9)
      .sort((a, b) => rim.flat[2 * a + 1 - fixed] - rim.flat[2 * b + 1 - fixed]);
  const bottom = side(1, box.y0);
  const top = side(1, box.y0 + box.height);
  const left = side(0, box.x0);
  const right = side(0, box.x0 + box.width);
  if (bottom.length !== top.length || left.length !== right.length)
    throw new RangeError(`panel ${panel.name}: opposite sides have different vertex counts, ${kind} rows need equal ones`);
  const rows = left.map((l, j) => {
    if (j === 0) return bottom;
    if (j === left.length - 1) return top;
    const row = [l];
    const y = rim.flat[2 * l + 1];
    const shifted = kind === 'equilateral' && j % 2 === 1;
    for (let i = shifted ? 0 : 1; i + 1 < bottom.length; i++) {
      const x0 = rim.flat[2 * bottom[i]];
      coords.push(shifted ? (x0 + rim.flat[2 * bottom[i + 1]]) / 2 : x0, y);
      row.push(coords.length / 2 - 1);
    }
    row.push(right[j]);
    return row;
  });
  const tris: number[] = [];
  for (let j = 0; j + 1 < rows.length; j++) {
    const low = rows[j];
    const high = rows[j + 1];
    if (low.length === high.length) for (let i = 0; i + 1 < low.length; i++) tris.push(low[i], low[i + 1], high[i + 1], low[i], high[i + 1], high[i]);
    else if (high.length > low.length) {
      for (let i = 0; i + 1 < low.length; i++) tris.push(low[i], low[i + 1], high[i + 1]);
      for (let i = 0; i + 1 < high.length; i++) tris.push(low[i], high[i + 1], high[i]);
    } else {
      for (let i = 0; i + 1 < high.length; i++) tris.push(high[i], low[i + 1], high[i + 1]);
      for (let i = 0; i + 1 < low.length; i++) tris.push(high[i], low[i], low[i + 1]);
    }
  }
  return { coords: Float64Array.from(coords), tris: Uint32Array.from(tris) };
}
