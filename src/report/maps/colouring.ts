import type { BagMesh } from '../../mesh/types.ts';
import type { Colouring } from '../picture/paint.ts';
import { cssColour, mapColours, TIGHT_CURVATURE } from './colours.ts';
import { type Scale, stepColours } from './scale.ts';
import { bendOf, type PanelPatch, panelPatches, pose } from './surface.ts';
import type { MapKind, SettledMaps } from './types.ts';

/** Half width of a seam's line at the two ends of the scale, px. */
export const LINE_WIDTH = [1.8, 7] as const;

/** Colour at a place on a scale, 0 to 1. */
const step = (colours: readonly string[], at: number): string => colours[Math.min(colours.length - 1, Math.floor(at * colours.length))];

/** Colour of each triangle: the mean of what its corners have on the scale. value: of local vertex i of a patch, 0 to 1. */
function facesOf(mesh: BagMesh, patches: readonly PanelPatch[], colours: readonly string[], value: (patch: PanelPatch, i: number) => number): string[] {
  // A patch has its panel's triangles in the mesh's order.
  const next = patches.map(() => 0);
  return Array.from(mesh.triPanel, (panel) => {
    let sum = 0;
    for (let k = 0; k < 3; k++) sum += value(patches[panel], patches[panel].tris[next[panel]++]) / 3;
    return step(colours, sum);
  });
}

/** A map as a drawing shows it: one step of colour a triangle, or lines on the seams. */
export function flatMap(kind: MapKind, mesh: BagMesh, maps: SettledMaps, scale: Scale): Colouring {
  const colours = stepColours();
  if (kind !== 'seams') {
    const value = ({ panel, verts }: PanelPatch, i: number): number => scale.at(kind === 'strain' ? maps.strain.values[panel][i] : maps.gap.values[verts[i]]);
    return { faces: facesOf(mesh, panelPatches(mesh), colours, value), lines: [] };
  }
  const { edgeVerts, edgeSeam, values } = maps.seams;
  // A value stands at each end of an edge; its line has the mean of the two.
  const lines = Array.from(edgeSeam, (_, e) => {
    const at = scale.at((values[2 * e] + values[2 * e + 1]) / 2);
    const width = 2 * (LINE_WIDTH[0] + at * (LINE_WIDTH[1] - LINE_WIDTH[0]));
    return { a: edgeVerts[2 * e], b: edgeVerts[2 * e + 1], colour: step(colours, at), width };
  });
  return { faces: [], lines };
}

/** The curvature map as a drawing shows it: with the root of curvature, as shaders/cloth.frag has it. positions: 3n, m. */
export function flatCurvature(mesh: BagMesh, positions: ArrayLike<number>): Colouring {
  const patches = panelPatches(mesh);
  const bends = patches.map((patch) => {
    const [position, normal, bend] = [3, 3, 1].map((k) => new Float32Array(k * patch.verts.length));
    pose(patch, positions, position, normal);
    bendOf(patch, position, normal, bend);
    return bend;
  });
  const value = ({ panel }: PanelPatch, i: number): number => Math.min(1, Math.sqrt(bends[panel][i] / TIGHT_CURVATURE));
  return { faces: facesOf(mesh, patches, mapColours().map(cssColour), value), lines: [] };
}
