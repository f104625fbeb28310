import type { HeatShade } from '../store.ts';
import { cssColour, mapColours } from '../view/palette.ts';
import { TIGHT_CURVATURE } from '../view/stage.ts';
import { bendOf, type PanelPatch, panelPatches, pose } from '../view/surface.ts';
import type { BagMesh, Colouring, SettledMaps } from './core.ts';
import { LINE_WIDTH } from './paint.ts';
import { type Scale, stepColours } from './scale.ts';

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

/** A map as the drawing without WebGL shows it: the same steps and the same widths of seams as on the mat. */
export function flatMap(shade: HeatShade, mesh: BagMesh, maps: SettledMaps, scale: Scale): Colouring {
  const colours = stepColours();
  if (shade !== 'seams') {
    const value = ({ panel, verts }: PanelPatch, i: number): number => scale.at(shade === 'strain' ? maps.strain.values[panel][i] : maps.gap.values[verts[i]]);
    return { faces: facesOf(mesh, panelPatches(mesh), colours, value), lines: [] };
  }
  const { edgeVerts, values } = maps.seams;
  const lines = Array.from(values, (v, e) => {
    const at = scale.at(v);
    const width = 2 * (LINE_WIDTH[0] + at * (LINE_WIDTH[1] - LINE_WIDTH[0]));
    return { a: edgeVerts[2 * e], b: edgeVerts[2 * e + 1], colour: step(colours, at), width };
  });
  return { faces: [], lines };
}

/** The curvature map as the drawing without WebGL shows it: with the root of curvature, as shaders/cloth.frag has it. positions: 3n, m. */
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
