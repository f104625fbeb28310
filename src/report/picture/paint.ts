import { convexHull } from '../../measures/index.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { EDGE_FREE } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { depthOf, type Frame, faceNormal, project } from './camera.ts';
import { chain, facing, shapeEdges } from './lines.ts';
import { BAG, INK, mix } from './tokens.ts';

/** Towards the lamp: above, to the left, in front. */
const LAMP = unit([-0.5, -0.62, 0.72]);

function unit(v: [number, number, number]): [number, number, number] {
  const l = libm.norm(v);
  return [v[0] / l, v[1] / l, v[2] / l];
}

/**
 * SVG of the settled bag: painter's algorithm, far things first. Triangles are shaded by their corners' normals within the panel, bent ones in four parts,
 * so that cloth looks smooth and seams and folds stay creases; outside and inside have their own cloth. Edge lines are sorted in with the triangles,
 * a little nearer, so the wall in front covers the seam behind.
 * Assumes triangles small against the bag: centre depth decides, which errs where long triangles cross.
 */
export function paintBag(
  mesh: BagMesh,
  x: Float64Array,
  frame: Frame,
  straps: readonly Strip[] = [],
  beside: readonly Piece[] = [],
  colouring: Colouring = { faces: [], lines: [] },
): string {
  const parts: Piece[] = [...beside];
  const seen = facing(mesh, x);
  const normals = cornerNormals(mesh, x);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const corners = [0, 1, 2].map((k) => mesh.triVerts[3 * t + k]);
    const depth = corners.reduce((s, v) => s + depthOf(x, v), 0) / 3;
    const colour = colouring.faces[t];
    parts.push({ depth, svg: colour ? triangle(frame, x, corners, colour) : smooth(frame, x, corners, normals(t), seen[t] === 1) });
  }
  for (const e of shapeEdges(mesh, x)) {
    const [a, b] = [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]];
    const rim = mesh.edgeKind[e] === EDGE_FREE;
    parts.push({ depth: (depthOf(x, a) + depthOf(x, b)) / 2 - 0.004, svg: segment(frame, x, a, b, `class="${rim ? 'rim' : 'sew'}"`) });
  }
  for (const { a, b, colour, width } of colouring.lines) {
    const look = `fill="none" stroke="${colour}" stroke-width="${px(width)}" stroke-linecap="round"`;
    parts.push({ depth: (depthOf(x, a) + depthOf(x, b)) / 2 - 0.0045, svg: segment(frame, x, a, b, look) });
  }
  for (const s of straps) for (let i = 0; i + 3 < s.line.length; i += 3) parts.push(strapPiece(frame, s, i));
  // Depths equal to the bit keep mesh order: Array.sort is stable.
  return parts
    .sort((p, q) => q.depth - p.depth)
    .map((p) => p.svg)
    .join('');
}

/** A map on a settled bag: what it makes of the cloth. */
export interface Colouring {
  /** CSS colour of each triangle; null or missing: lit as cloth. */ readonly faces: readonly (string | null)[];
  /** Lines between two vertices, px wide. */
  readonly lines: readonly { readonly a: number; readonly b: number; readonly colour: string; readonly width: number }[];
}

/** Seams and rims in ink on paper. scope: class of the picture's svg, because a page takes in several and a style would reach all of them. */
export const inkLines = (scope: string): string =>
  `.${scope} .sew{fill:none;stroke:${INK};stroke-opacity:.6;stroke-width:1.1;stroke-linecap:round}` +
  `.${scope} .rim{fill:none;stroke:${INK};stroke-width:1.5;stroke-linecap:round}`;

/** One stroke or face, and how far into the picture it lies, m. */
export interface Piece {
  readonly depth: number;
  readonly svg: string;
}

/** A strap as it is drawn: its middle line (3 per point, posed) and its width, m. */
export interface Strip {
  readonly line: Float64Array;
  readonly width: number;
}

/** A strap's width is seen slantwise nearly everywhere, so it is drawn at this share of it. */
export const SLANT = 0.45;

function strapPiece(frame: Frame, s: Strip, i: number): Piece {
  const v = i / 3,
    [x1, y1] = project(frame, s.line[i], s.line[i + 1], s.line[i + 2]),
    [x2, y2] = project(frame, s.line[i + 3], s.line[i + 4], s.line[i + 5]);
  const width = Math.max(2, SLANT * s.width * frame.scale);
  return {
    depth: (depthOf(s.line, v) + depthOf(s.line, v + 1)) / 2 - 0.005,
    svg: `<path class="strap" stroke="${mix(BAG.dark, BAG.light, 0.35)}" stroke-width="${px(width)}" d="M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}"/>`,
  };
}

const px = (v: number): string => (Math.round(v * 10) / 10).toString();

/** Corners drawn a pixel further out than they are: neighbours then overlap and nothing behind shines through between them. */
export function triangle(frame: Frame, x: Float64Array, corners: readonly number[], fill: string): string {
  const p = corners.map((v) => project(frame, x[3 * v], x[3 * v + 1], x[3 * v + 2]));
  const cx = (p[0][0] + p[1][0] + p[2][0]) / 3;
  const cy = (p[0][1] + p[1][1] + p[2][1]) / 3;
  const grown = p.map(([a, b]) => {
    const l = libm.hypot(a - cx, b - cy);
    const f = l > 0 ? 1 + 1 / l : 1;
    return `${px(cx + (a - cx) * f)} ${px(cy + (b - cy) * f)}`;
  });
  return `<path fill="${fill}" d="M${grown.join('L')}Z"/>`;
}

/** A line from vertex a to vertex b; `look`: its attributes. */
function segment(frame: Frame, x: Float64Array, a: number, b: number, look: string): string {
  const [p, q] = [a, b].map((v) =>
    project(frame, x[3 * v], x[3 * v + 1], x[3 * v + 2])
      .map(px)
      .join(' '),
  );
  return `<path ${look} d="M${p}L${q}"/>`;
}

/** Cloth colour under the lamp. */
function shade(n: readonly [number, number, number], outside: boolean): string {
  const side = outside ? 1 : -1;
  const facing: [number, number, number] = [side * n[0], side * n[1], side * n[2]];
  return outside ? lampOn(facing, BAG.dark, BAG.light) : lampOn(facing, BAG.insideDark, BAG.insideLight);
}

/** Colour between dark and light of a surface with unit normal n under the lamp. */
export function lampOn(n: readonly [number, number, number], dark: string, light: string): string {
  // 64 steps: fine enough for the eye, and equal colours pack well.
  return mix(dark, light, Math.round(lightOn(n) * 64) / 64);
}

/** How much of the lamp's light a surface with unit normal n has, 0 dark to 1 light. */
export const lightOn = (n: Normal): number => Math.min(1, Math.max(0, 0.36 + 0.6 * (n[0] * LAMP[0] + n[1] * LAMP[1] + n[2] * LAMP[2])));

export type Normal = readonly [number, number, number];

/** Faces that meet at more than 40 degrees meet in a crease, and are lit apart: its cosine. */
const CREASE = 0.766;
/** Corners whose normals are within 3.6 degrees are lit as one face: its cosine. */
const FLAT = 0.998;

const dot = (a: Normal, b: Normal): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Unit normals at the corners of a triangle: the mean over the faces of its panel round each corner that no crease parts from it. crease: its cosine. */
export function cornerNormals(mesh: BagMesh, x: Float64Array, crease = CREASE): (t: number) => readonly [Normal, Normal, Normal] {
  const faces: { readonly sized: Normal; readonly unit: Normal }[] = [];
  const round = new Map<number, number[]>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const sized = faceNormal(x, mesh.triVerts, t);
    faces.push({ sized, unit: libm.norm(sized) > 0 ? unit(sized) : [0, 0, 1] });
    for (let k = 0; k < 3; k++) {
      const key = mesh.triPanel[t] * mesh.vertexCount + mesh.triVerts[3 * t + k];
      const list = round.get(key);
      if (list) list.push(t);
      else round.set(key, [t]);
    }
  }
  const at = (t: number, k: number): Normal => {
    const sum: [number, number, number] = [0, 0, 0];
    for (const other of round.get(mesh.triPanel[t] * mesh.vertexCount + mesh.triVerts[3 * t + k])!) {
      if (dot(faces[other].unit, faces[t].unit) < crease) continue;
      for (let c = 0; c < 3; c++) sum[c] += faces[other].sized[c];
    }
    return libm.norm(sum) > 0 ? unit(sum) : faces[t].unit;
  };
  return (t) => [at(t, 0), at(t, 1), at(t, 2)];
}

const middle = (a: Normal, b: Normal): Normal => {
  const sum: [number, number, number] = [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
  return libm.norm(sum) > 0 ? unit(sum) : a;
};

/** A triangle of cloth under the lamp: one face where it is flat, four of their own light where it bends. */
function smooth(frame: Frame, x: Float64Array, corners: readonly number[], n: readonly [Normal, Normal, Normal], outside: boolean): string {
  const lit = (a: Normal, b: Normal, c: Normal): string => shade(unit([a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]]), outside);
  if (dot(n[0], n[1]) > FLAT && dot(n[1], n[2]) > FLAT && dot(n[2], n[0]) > FLAT) return triangle(frame, x, corners, lit(...n));
  // Corners, then the middles of the sides behind each.
  const six = new Float64Array(18);
  for (let k = 0; k < 3; k++)
    for (let c = 0; c < 3; c++) {
      six[3 * k + c] = x[3 * corners[k] + c];
      six[9 + 3 * k + c] = (x[3 * corners[k] + c] + x[3 * corners[(k + 1) % 3] + c]) / 2;
    }
  const m = [middle(n[0], n[1]), middle(n[1], n[2]), middle(n[2], n[0])] as const;
  return [
    triangle(frame, six, [0, 3, 5], lit(n[0], m[0], m[2])),
    triangle(frame, six, [3, 1, 4], lit(m[0], n[1], m[1])),
    triangle(frame, six, [5, 4, 2], lit(m[2], m[1], n[2])),
    triangle(frame, six, [3, 4, 5], lit(m[0], m[1], m[2])),
  ].join('');
}

/** Dashed outline of the bag as drafted. */
export function paintDrafted(mesh: BagMesh, x: Float64Array, frame: Frame): string {
  const lines = chain(mesh, shapeEdges(mesh, x), x);
  const d = lines.map(
    (line) =>
      `M${line
        .map((v) =>
          project(frame, x[3 * v], x[3 * v + 1], x[3 * v + 2])
            .map(px)
            .join(' '),
        )
        .join('L')}`,
  );
  return `<path class="drafted" d="${d.join('')}"/>`;
}

/** Shadow on the table: the outline of the bag cast away from the lamp, and a darker one where it stands. */
export function paintShadow(x: Float64Array, frame: Frame): string {
  const cast: [number, number][] = [];
  const foot: [number, number][] = [];
  for (let i = 0; i < x.length; i += 3) {
    const z = x[i + 2];
    cast.push(project(frame, x[i] + 0.3 * z, x[i + 1] + 0.38 * z, 0));
    if (z < 0.012) foot.push(project(frame, x[i], x[i + 1], 0));
  }
  const shape = (points: [number, number][]) => convexHull(points).map(([a, b]) => `${px(a)} ${px(b)}`);
  const path = (points: [number, number][], cls: string) => (points.length < 3 ? '' : `<path class="${cls}" d="M${shape(points).join('L')}Z"/>`);
  return path(cast, 'cast') + path(foot, 'foot');
}
