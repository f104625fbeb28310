import type { BagMesh } from '../mesh/types.ts';

/** Side of the square of cloth that a strain is averaged over, m: a finger's width (own choice). Figures over a stated length converge as the mesh gets finer, those of points do not. */
const PATCH = 0.02;
/** Patches are laid every half of their side, so that whatever is smaller lies well inside one. */
const CELL = PATCH / 2;
/** Largest side of the pieces that a triangle is shared out in, m. */
const PIECE = CELL / 4;
/** Share of the fullest patch of its panel that a patch must be covered with cloth: at its edge little cloth is no patch. */
const COVERED = 0.5;

/** Squares of cloth of one panel, by columns and rows of its flat frame. */
export interface Patches {
  /** Values of the patches with enough cloth in them; NaN of the others. */ readonly values: Float64Array;
  /** Largest of them, 0 where there is none. */ readonly largest: number;
  /** Largest value of the patches round a place of the panel, m; that of the fullest of them where none has enough cloth. */
  readonly round: (x: number, y: number) => number;
}

/**
 * Averages over square patches of PATCH, laid every half of that in the panel's flat frame, so that they do not depend on the mesh. Formula: each triangle is cut
 * into k^2 alike pieces under 2.5 mm, each of which counts where its middle lies; a patch is the sum of 2 x 2 cells. k numbers a triangle are averaged, by its area.
 * Parameters: panel; of: m x k numbers; area: m rest areas, m2; read: value of k averages. Mutates nothing.
 * Source: averages over a fixed length for quantities that are singular at points (common practice of finite elements, from memory).
 */
export function patchesOf(mesh: BagMesh, panel: number, area: Float64Array, of: Float64Array, k: number, read: (mean: Float64Array) => number): Patches {
  const { flat } = mesh.panelVerts[panel]!;
  let [x0, y0, x1, y1] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < flat.length; i += 2) {
    [x0, x1] = [Math.min(x0, flat[i]!), Math.max(x1, flat[i]!)];
    [y0, y1] = [Math.min(y0, flat[i + 1]!), Math.max(y1, flat[i + 1]!)];
  }
  // Two cells at least: a narrow panel has one patch across.
  const columns = Math.max(2, Math.ceil((x1 - x0) / CELL - 1e-9)),
    rows = Math.max(2, Math.ceil((y1 - y0) / CELL - 1e-9)),
    width = k + 1,
    cells = new Float64Array(width * columns * rows);
  const column = (x: number): number => Math.min(columns - 1, Math.max(0, Math.floor((x - x0) / CELL))),
    row = (y: number): number => Math.min(rows - 1, Math.max(0, Math.floor((y - y0) / CELL)));
  mesh.triPanel.forEach((p, t) => {
    if (p === panel) shareOut(mesh.triFlat, 6 * t, area[t]!, (x, y, a) => add(cells, width * (row(y) * columns + column(x)), a, of, k * t, k));
  });
  const values = new Float64Array((columns - 1) * (rows - 1)).fill(Number.NaN),
    cloth = new Float64Array(values.length),
    all = new Float64Array(values.length),
    mean = new Float64Array(k);
  for (let j = 0; j < rows - 1; j++)
    for (let i = 0; i < columns - 1; i++) {
      const at = j * (columns - 1) + i,
        corners = [j * columns + i, j * columns + i + 1, (j + 1) * columns + i, (j + 1) * columns + i + 1];
      for (const c of corners) cloth[at]! += cells[width * c]!;
      for (let n = 0; n < k; n++) mean[n] = corners.reduce((sum, c) => sum + cells[width * c + 1 + n]!, 0) / cloth[at]!;
      if (cloth[at]! > 0) all[at] = read(mean);
    }
  const enough = COVERED * Math.max(...cloth);
  let largest = 0;
  for (let at = 0; at < values.length; at++)
    if (cloth[at]! >= enough) {
      values[at] = all[at]!;
      largest = Math.max(largest, all[at]!);
    }
  const round = (x: number, y: number): number => {
    let [best, fullest, fall] = [Number.NEGATIVE_INFINITY, 0, 0];
    for (let j = Math.max(0, row(y) - 1); j <= Math.min(rows - 2, row(y)); j++)
      for (let i = Math.max(0, column(x) - 1); i <= Math.min(columns - 2, column(x)); i++) {
        const at = j * (columns - 1) + i;
        if (values[at]! > best) best = values[at]!;
        if (cloth[at]! > fullest) [fullest, fall] = [cloth[at]!, all[at]!];
      }
    return best === Number.NEGATIVE_INFINITY ? fall : best;
  };
  return { values, largest, round };
}

function add(cells: Float64Array, c: number, a: number, of: Float64Array, q: number, k: number): void {
  cells[c]! += a;
  for (let n = 0; n < k; n++) cells[c + 1 + n]! += a * of[q + n]!;
}

/** Middles of the pieces of one triangle, and the area of each. F: its 6 flat coordinates at q. */
function shareOut(F: Float64Array, q: number, area: number, each: (x: number, y: number, a: number) => void): void {
  const [ux, uy, vx, vy] = [F[q + 2]! - F[q]!, F[q + 3]! - F[q + 1]!, F[q + 4]! - F[q]!, F[q + 5]! - F[q + 1]!];
  const n = Math.max(1, Math.ceil(Math.sqrt(Math.max(ux * ux + uy * uy, vx * vx + vy * vy, (ux - vx) * (ux - vx) + (uy - vy) * (uy - vy))) / PIECE));
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n - i; j++) {
      each(F[q]! + ((i + 1 / 3) * ux + (j + 1 / 3) * vx) / n, F[q + 1]! + ((i + 1 / 3) * uy + (j + 1 / 3) * vy) / n, area / (n * n));
      if (j < n - i - 1) each(F[q]! + ((i + 2 / 3) * ux + (j + 2 / 3) * vx) / n, F[q + 1]! + ((i + 2 / 3) * uy + (j + 2 / 3) * vy) / n, area / (n * n));
    }
}
