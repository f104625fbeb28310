import type { OutlineEdge, Point2, Seam } from '../bag/types.ts';
import { stripRigidity } from '../material/index.ts';
import { meshPanels } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { draftPanels } from '../panels/index.ts';
import { GRAVITY } from '../units/index.ts';
import { type MeshKind, type Sheet, swatchBag } from './sheet.ts';

export interface StripSpec {
  readonly sheet: Sheet;
  /** m, clear length */ readonly length: number;
  /** m; default 25 mm, the strip of the cantilever and loop standards */ readonly width?: number;
  /** Target edge length, m */ readonly mesh: number;
  /** Default 'irregular': what a drawn bag's mesh is like. */ readonly kind?: MeshKind;
  /** Angle of the strip's length from the warp, rad. Default 0. */ readonly cut?: number;
  readonly seed?: number;
  /** Ends sewn together to a tube. */ readonly closed?: boolean;
}

/** A cut strip, flat: u = 0..length along it, v = 0..width across. */
export interface Strip {
  readonly spec: StripSpec;
  readonly length: number;
  readonly width: number;
  readonly mesh: BagMesh;
  /** 2n flat coordinates [u v], m. In a tube the sewn vertices carry u = 0 or length, whichever came first. */ readonly flat: Float64Array;
  /** Vertices of the end u = 0 and of the end u = length, in order across. */ readonly first: Uint32Array;
  readonly last: Uint32Array;
  /** Angle of the warp from u, rad, for sheetModel. */ readonly warp: number;
  /** Rigidity of the narrow strip, N*m. */ readonly B: number;
  /** N/m2 */ readonly w: number;
}

/** Width of strip in the cantilever and loop standards, m. Source: ASTM D1388 / ISO 9073-7 (from memory). */
export const STANDARD_WIDTH = 0.025;

/**
 * Cuts and meshes a strip. B is that of a narrow strip free to twist and curl (stripRigidity); it holds for widths well under the length.
 * Throws RangeError for lengths, width or mesh that are not positive.
 */
export function cutStrip(spec: StripSpec): Strip {
  const width = spec.width ?? STANDARD_WIDTH;
  const { length } = spec;
  if (!(length > 0 && width > 0 && spec.mesh > 0))
    throw new RangeError(`invalid strip ${length} x ${width} m at mesh ${spec.mesh} m; expected positive lengths`);
  const corners: Point2[] = [
    [0, 0],
    [length, 0],
    [length, width],
    [0, width],
  ];
  const outline = ['near', 'last', 'far', 'first'].map((name, i): OutlineEdge => ({ name, kind: 'line', from: corners[i], to: corners[(i + 1) % 4] }));
  const run = (edge: string) => [{ panel: 'swatch', edge, from: 0, to: 1 }];
  const seam: Seam = { name: 'tube', sides: [run('first'), run('last')], reversed: true, type: 'fold', allowance: 0, gather: null, hinge: null };
  const bag = swatchBag(outline, [], spec.closed ? [seam] : []);
  const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: spec.mesh, kind: spec.kind ?? 'irregular', seed: spec.seed ?? 1 });
  const flat = new Float64Array(2 * mesh.vertexCount);
  const panel = mesh.panelVerts[0];
  panel.verts.forEach((v, i) => {
    flat[2 * v] = panel.flat[2 * i];
    flat[2 * v + 1] = panel.flat[2 * i + 1];
  });
  const cut = spec.cut ?? 0;
  return {
    spec,
    length,
    width,
    mesh,
    flat,
    first: mesh.outlines[0].first.verts,
    last: mesh.outlines[0].last.verts,
    warp: -cut,
    B: stripRigidity(spec.sheet.bending, cut),
    w: spec.sheet.arealMass * GRAVITY,
  };
}

/** Length of strip at which w L^3/B has the value K, m. */
export const lengthFor = (sheet: Sheet, K: number, cut = 0): number => libm.cbrt((K * stripRigidity(sheet.bending, cut)) / (sheet.arealMass * GRAVITY));

/** w L^3/B of a strip. */
export const loadOf = (s: Strip): number => (s.w * libm.cube(s.length)) / s.B;

/** 3n positions from flat ones: `at(u, v)` gives the place of a point of the strip. */
export function place(s: Strip, at: (u: number, v: number) => readonly [number, number, number]): Float64Array {
  const x = new Float64Array(3 * s.mesh.vertexCount);
  for (let v = 0; v < s.mesh.vertexCount; v++) x.set(at(s.flat[2 * v], s.flat[2 * v + 1]), 3 * v);
  return x;
}

/** Mean position of a set of vertices weighted to the middle of the width by the trapezoid rule: what a ruler at the end's centre reads. */
export function middleOf(s: Strip, verts: Uint32Array, x: Float64Array): [number, number, number] {
  const order = [...verts].sort((a, b) => s.flat[2 * a + 1] - s.flat[2 * b + 1]);
  const out: [number, number, number] = [0, 0, 0];
  for (let i = 0; i + 1 < order.length; i++) {
    const [a, b] = [order[i], order[i + 1]];
    const share = (s.flat[2 * b + 1] - s.flat[2 * a + 1]) / s.width / 2;
    for (let k = 0; k < 3; k++) out[k] += share * (x[3 * a + k] + x[3 * b + k]);
  }
  return out;
}

/**
 * Parabola c0 + c1 d + c2 d^2 of coordinate k along the strip about u, by least squares over the vertices within `reach`: a vertex need not lie at
 * the place that is read, and the sagitta of one edge (h^2/8R) is more than a bar's worth.
 */
function parabola(s: Strip, x: Float64Array, u: number, k: 0 | 1 | 2, reach: number): readonly [number, number, number] {
  let [n, a1, a2, a3, a4, b0, b1, b2] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let v = 0; v < s.mesh.vertexCount; v++) {
    let d = s.flat[2 * v] - u;
    if (s.spec.closed) d -= s.length * Math.round(d / s.length);
    d /= reach;
    if (Math.abs(d) > 1 + 1e-9) continue;
    const z = x[3 * v + k];
    n++;
    a1 += d;
    a2 += d * d;
    a3 += d * d * d;
    a4 += d * d * d * d;
    b0 += z;
    b1 += z * d;
    b2 += z * d * d;
  }
  // Cramer's rule on the normal equations.
  const det = n * (a2 * a4 - a3 * a3) - a1 * (a1 * a4 - a3 * a2) + a2 * (a1 * a3 - a2 * a2);
  const c0 = b0 * (a2 * a4 - a3 * a3) - a1 * (b1 * a4 - a3 * b2) + a2 * (b1 * a3 - a2 * b2);
  const c1 = n * (b1 * a4 - a3 * b2) - b0 * (a1 * a4 - a3 * a2) + a2 * (a1 * b2 - b1 * a2);
  const c2 = n * (a2 * b2 - b1 * a3) - a1 * (a1 * b2 - b1 * a2) + b0 * (a1 * a3 - a2 * a2);
  return [c0 / det, c1 / det, c2 / det];
}

/** Highest (sign 1) or lowest (sign -1) height of the strip's middle surface along its length, m: the peak of the parabola through the extreme vertex's surroundings. */
export function extremeHeight(s: Strip, x: Float64Array, sign: 1 | -1): number {
  let best = 0;
  for (let v = 0; v < s.mesh.vertexCount; v++) if (sign * x[3 * v + 2] > sign * x[3 * best + 2]) best = v;
  const [c0, c1, c2] = parabola(s, x, s.flat[2 * best], 2, 2.5 * s.spec.mesh);
  const peak = -c1 / (2 * c2);
  return sign * c2 < 0 && Math.abs(peak) < 1 ? c0 - (c1 * c1) / (4 * c2) : x[3 * best + 2];
}

/** Height, m, of the upper side of a closed strip at the middle of its plan (x): heavy tubes sink there, and round ones may have rolled a little. */
export function crownHeight(s: Strip, x: Float64Array): number {
  let [least, most, low, high] = [x[0], x[0], x[2], x[2]];
  for (let i = 0; i < x.length; i += 3) {
    least = Math.min(least, x[i]);
    most = Math.max(most, x[i]);
    low = Math.min(low, x[i + 2]);
    high = Math.max(high, x[i + 2]);
  }
  const centre = (least + most) / 2;
  let best = -1;
  for (let v = 0; v < s.mesh.vertexCount; v++)
    if (x[3 * v + 2] > (low + high) / 2 && (best < 0 || Math.abs(x[3 * v] - centre) < Math.abs(x[3 * best] - centre))) best = v;
  const reach = 2.5 * s.spec.mesh;
  const [x0, x1] = parabola(s, x, s.flat[2 * best], 0, reach);
  return parabola(s, x, s.flat[2 * best] + ((centre - x0) / x1) * reach, 2, reach)[0];
}

/** Slope angle at the free end u = length in the plane of coordinates [a, z], rad from the +a axis: from a parabola over the last two or three rows, which reach the end straight. */
export function endSlope(s: Strip, x: Float64Array, a: 0 | 1): number {
  const reach = 2.5 * s.spec.mesh;
  const fit = (k: 0 | 1 | 2) => parabola(s, x, s.length, k, reach);
  return libm.atan2(fit(2)[1], fit(a)[1]);
}
