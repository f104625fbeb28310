import type { Bag } from '../../bag/types.ts';
import type { SeamPoint } from '../../measures/index.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { words } from './words.ts';

type Point2 = readonly [number, number];
const { place } = words;

/** A point this near to a sewn-on patch is told by it, m. */
const BY_ANCHOR = 0.03;
/** Share of a lying panel's size within which a point is by its edge. */
const BY_EDGE = 0.15;
/** Roles whose panels have a left, a right and a top as the bag stands. */
const UPRIGHT: ReadonlySet<string> = new Set(['front', 'back', 'side', 'gusset', 'body']);

const standsUp = (bag: Bag, panel: string): boolean => UPRIGHT.has(bag.panels.find((b) => b.name === panel)?.role ?? '');

/** How far a flat point is from a patch, m: 0 on it. */
const fromPatch = (p: Point2, at: Point2, width: number, height: number): number =>
  libm.hypot(Math.max(0, Math.abs(p[0] - at[0]) - width / 2), Math.max(0, Math.abs(p[1] - at[1]) - height / 2));

/** By which anchor the point lies, in words; null when by none. Left and right as seen from the panel's face. */
function byAnchor(bag: Bag, panel: string, p: Point2): string | null {
  const own = bag.straps.flatMap((strap) => strap.anchors.filter((a) => a.panel === panel).map((a) => ({ strap: strap.name, ...a })));
  const near = own
    .map((a) => ({ ...a, far: fromPatch(p, a.at, a.width, a.height) }))
    .filter((a) => a.far < BY_ANCHOR)
    .sort((a, b) => a.far - b.far)[0];
  if (!near) return null;
  const others = own.filter((a) => a.strap === near.strap && a.at[0] !== near.at[0]);
  if (others.length === 0) return place.onlyAnchor(near.strap);
  return place.anchor(near.at[0] < others[0].at[0] ? place.left : place.right, near.strap);
}

/** The outline edge that the point is nearest to, in words (by the panel sewn on there, else by its own name), and how far, m. */
function nearestEdge(mesh: BagMesh, panel: number, p: Point2): readonly [where: string, far: number] {
  const { verts, flat } = mesh.panelVerts[panel];
  const local = new Map(Array.from(verts, (v, i) => [v, i] as const));
  let best: [string, number, number] = ['', Number.POSITIVE_INFINITY, -1];
  for (const [name, edge] of Object.entries(mesh.outlines[panel]))
    for (const v of edge.verts) {
      const i = local.get(v);
      if (i === undefined) continue;
      const far = libm.hypot(flat[2 * i] - p[0], flat[2 * i + 1] - p[1]);
      if (far < best[1]) best = [name, far, v];
    }
  const sewn = mesh.panelVerts.findIndex((other, q) => q !== panel && other.verts.includes(best[2]));
  return [sewn >= 0 ? place.by(mesh.panelNames[sewn]) : place.edge(best[0]), best[1]];
}

/** Where on a panel a mesh point lies, in a maker's words: by an anchor, else by thirds of an upright panel, else by the edge of a lying one. */
export function placeOnPanel(bag: Bag, mesh: BagMesh, panel: number, vertex: number): string {
  const name = mesh.panelNames[panel];
  const { verts, flat } = mesh.panelVerts[panel];
  const i = verts.indexOf(vertex);
  const p: Point2 = [flat[2 * i], flat[2 * i + 1]];
  const [low, high] = [
    [Infinity, Infinity],
    [-Infinity, -Infinity],
  ];
  for (let q = 0; q < flat.length; q++) [low[q % 2], high[q % 2]] = [Math.min(low[q % 2], flat[q]), Math.max(high[q % 2], flat[q])];
  const anchor = byAnchor(bag, name, p);
  if (anchor) return place.in(name, anchor);
  if (standsUp(bag, name)) {
    const third = (k: 0 | 1): number => Math.min(2, Math.floor((3 * (p[k] - low[k])) / (high[k] - low[k] || 1)));
    return place.in(name, `${place.rows[third(1)]}, ${place.columns[third(0)]}`);
  }
  const [edge, far] = nearestEdge(mesh, panel, p);
  return place.in(name, far < BY_EDGE * Math.min(high[0] - low[0], high[1] - low[1]) ? edge : place.middle);
}

/** A panel that the mesh point lies on: the first of the bag's. */
export const panelOf = (mesh: BagMesh, vertex: number): number => mesh.panelVerts.findIndex(({ verts }) => verts.includes(vertex));

/** Where on its seam a point lies: by the upright panel of the seam where there is one. */
export function placeOnSeam(bag: Bag, mesh: BagMesh, { seam, panel, vertex }: SeamPoint): string {
  const upright = joinedBy(mesh, seam).find((name) => standsUp(bag, name));
  const own = standsUp(bag, mesh.panelNames[panel]) || upright === undefined ? panel : mesh.panelNames.indexOf(upright);
  return placeOnPanel(bag, mesh, own, vertex);
}

/** Panels that a seam joins, in the mesh's order of names. */
export function joinedBy(mesh: BagMesh, seam: number): string[] {
  const panels = new Set<number>();
  mesh.edgeSeam.forEach((s, e) => {
    if (s !== seam) return;
    for (const t of [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1]]) if (t >= 0) panels.add(mesh.triPanel[t]);
  });
  return [...panels].sort((a, b) => a - b).map((p) => mesh.panelNames[p]);
}
