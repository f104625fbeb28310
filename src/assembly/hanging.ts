import type { HungStrap } from '../measures/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { distance } from '../solver/index.ts';
import { patchCentre } from './patch.ts';
import type { Rig, RiggedStrap } from './rig.ts';

/** Middle line of a carrying strap at x (mesh and strap points), patch, edge above it, points, edge, patch: 3 per point. */
function lineOf(s: RiggedStrap, x: Float64Array): Float64Array {
  const points = s.nodes.flatMap((v) => [x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!]);
  const end = (e: 0 | 1) => [patchCentre(s.patches[e], x), patchCentre(s.edges[e], x)];
  return Float64Array.from([...end(0).flat(), ...points, ...end(1).reverse().flat()]);
}

/** Carrying straps as drawn lines. */
export const strapLines = (rig: Rig, x: Float64Array): { name: string; width: number; line: Float64Array }[] =>
  rig.straps.filter((s) => s.nodes.length > 0).map((s) => ({ name: s.strap.name, width: s.strap.width, line: lineOf(s, x) }));

/** Carrying straps as measureHung reads them. start: all points before anything moved; tension: the solver's pull per cable, N. */
export const hungStraps = (rig: Rig, mesh: BagMesh, start: Float64Array, x: Float64Array, tension: Float64Array): HungStrap[] =>
  rig.straps
    .filter((s) => s.nodes.length > 0)
    .map((s) => {
      const own = tension.slice(s.firstCable, s.firstCable + s.nodes.length + 1);
      return {
        name: s.strap.name,
        wantedDrop: s.strap.drop,
        length: s.strap.length,
        line: lineOf(s, x),
        laid: lineOf(s, start),
        // One pull from the patch through the edge above it to the strap's first point.
        tension: Float64Array.from([own[0]!, ...own, own.at(-1)!]),
        legs: legsOf(s, rig, x),
        friction: Math.max(0, ...rig.supports.map((bar) => bar.friction)),
        patches: [under(s, mesh, 0), under(s, mesh, 1)],
      };
    });

/** Pieces of either leg: from the patch to the last point that what the bag hangs from does not touch. */
function legsOf({ nodes }: RiggedStrap, { supports }: Rig, x: Float64Array): [number, number] {
  const out = new Float64Array(4);
  const touched = nodes.map((v) =>
    supports.some(({ sdf, offset }) => {
      distance(sdf, x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!, out);
      return out[0]! < offset;
    }),
  );
  const [first, last] = [touched.indexOf(true), touched.lastIndexOf(true)],
    half = Math.floor(nodes.length / 2);
  // The patch's own piece, and the one from the edge above it to the strap's first point, come before the points.
  return first < 0 ? [half, nodes.length - half] : [first + 2, nodes.length + 1 - last];
}

/** Triangles of the panel whose every corner carries a share of the patch. */
function under(s: RiggedStrap, mesh: BagMesh, end: 0 | 1): { panel: string; triangles: number[] } {
  const { panel, verts, anchor } = s.patches[end];
  const own = new Set(verts);
  const triangles: number[] = [];
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (mesh.triPanel[t] === panel && [0, 1, 2].every((k) => own.has(mesh.triVerts[3 * t + k]!))) triangles.push(t);
  return { panel: anchor.panel, triangles };
}
