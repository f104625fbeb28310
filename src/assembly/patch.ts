import type { Anchor } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';

/** Where a strap's end is sewn on: a weighted mean of the panel's vertices, shares by area of the patch. */
export interface Patch {
  readonly anchor: Anchor;
  readonly panel: number;
  /** Vertices and their shares (sum 1). */ readonly verts: readonly number[];
  readonly weights: readonly number[];
}

/** Points per side of the grid that a patch's area is read on. */
const GRID = 8;
/** Step in which the edge above a patch is looked for, m. */
const STEP = 2e-4;

interface Located {
  readonly tri: number;
  readonly weights: readonly [number, number, number];
}

/** Triangle of panel p that holds the flat point, with barycentric weights; null when none does. */
function locate(mesh: BagMesh, p: number, at: readonly [number, number]): Located | null {
  const f = mesh.triFlat;
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== p) continue;
    const q = 6 * t;
    const [ax, ay, bx, by, cx, cy] = [f[q]!, f[q + 1]!, f[q + 2]!, f[q + 3]!, f[q + 4]!, f[q + 5]!];
    const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
    const u = ((at[0] - ax) * (cy - ay) - (cx - ax) * (at[1] - ay)) / area;
    const v = ((bx - ax) * (at[1] - ay) - (at[0] - ax) * (by - ay)) / area;
    if (u >= -1e-9 && v >= -1e-9 && u + v <= 1 + 1e-9) return { tri: t, weights: [1 - u - v, u, v] };
  }
  return null;
}

/** The patch of an anchor. Throws when it does not lie on its panel's mesh at all (parseBag refuses such files). */
export function patchOf(mesh: BagMesh, anchor: Anchor): Patch {
  const panel = mesh.panelNames.indexOf(anchor.panel);
  const shares = new Map<number, number>();
  let found = 0;
  for (let i = 0; i < GRID; i++)
    for (let j = 0; j < GRID; j++) {
      const here = locate(mesh, panel, [anchor.at[0] + ((i + 0.5) / GRID - 0.5) * anchor.width, anchor.at[1] + ((j + 0.5) / GRID - 0.5) * anchor.height]);
      // Points that a chord of a curved edge cuts off carry nothing.
      if (here === null) continue;
      found++;
      here.weights.forEach((w, k) => {
        const v = mesh.triVerts[3 * here.tri + k]!;
        shares.set(v, (shares.get(v) ?? 0) + w);
      });
    }
  if (found === 0) throw new Error(`an anchor off the mesh of panel ${anchor.panel}`);
  const verts = [...shares.keys()].sort((a, b) => a - b);
  return { anchor, panel, verts, weights: verts.map((v) => shares.get(v)! / found) };
}

/** Where the strap of an anchor leaves its panel: the last of the cloth straight above the patch, as wide as the strap. */
export function edgeAbove(mesh: BagMesh, patch: Patch): Patch {
  const { anchor, panel } = patch;
  const shares = new Map<number, number>();
  let found = 0;
  for (let i = 0; i < GRID; i++) {
    const x = anchor.at[0] + ((i + 0.5) / GRID - 0.5) * anchor.width;
    let last: Located | null = null;
    for (let y = anchor.at[1]; ; y += STEP) {
      const here = locate(mesh, panel, [x, y]);
      if (here === null) break;
      last = here;
    }
    if (last === null) continue;
    found++;
    last.weights.forEach((w, k) => {
      const v = mesh.triVerts[3 * last.tri + k]!;
      shares.set(v, (shares.get(v) ?? 0) + w);
    });
  }
  if (found === 0) return patch;
  const verts = [...shares.keys()].sort((a, b) => a - b);
  return { anchor, panel, verts, weights: verts.map((v) => shares.get(v)! / found) };
}

/** Weighted mean of the patch's vertices at x (3n). */
export function patchCentre(patch: Patch, x: ArrayLike<number>): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  patch.verts.forEach((v, i) => {
    for (let k = 0; k < 3; k++) out[k] = out[k]! + patch.weights[i]! * x[3 * v + k]!;
  });
  return out;
}
