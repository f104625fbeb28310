import type { Bag, OutlineEdge, Panel, PanelRole, Wanted } from '../../src/bag/types.ts';
import type { BagMesh } from '../../src/mesh/types.ts';

/** Sewn bags made by hand from little grids, so that measuring is tested against shapes known in closed form. */
export interface Piece {
  readonly name: string;
  readonly role: PanelRole;
  readonly flat: readonly (readonly [number, number])[];
  readonly tris: readonly (readonly [number, number, number])[];
  readonly xyz: readonly (readonly [number, number, number])[];
  readonly outline: Readonly<Record<string, readonly number[]>>;
  readonly openings: readonly string[];
}

export interface Sewn {
  readonly bag: Bag;
  readonly mesh: BagMesh;
  readonly drafted: Float64Array;
}

type Map3 = (u: number, v: number) => readonly [number, number, number];

/** A w x h rectangle of nu x nv cells; edges bottom, right, top, left counterclockwise seen from the face. */
export function grid(name: string, role: PanelRole, w: number, h: number, nu: number, nv: number, map: Map3, openings: readonly string[] = []): Piece {
  const flat: [number, number][] = [];
  for (let j = 0; j <= nv; j++) for (let i = 0; i <= nu; i++) flat.push([(w * i) / nu, (h * j) / nv]);
  const at = (i: number, j: number) => j * (nu + 1) + i;
  const tris: [number, number, number][] = [];
  for (let j = 0; j < nv; j++) {
    for (let i = 0; i < nu; i++) {
      tris.push([at(i, j), at(i + 1, j), at(i + 1, j + 1)], [at(i, j), at(i + 1, j + 1), at(i, j + 1)]);
    }
  }
  const run = (n: number, f: (k: number) => number) => Array.from({ length: n + 1 }, (_, k) => f(k));
  const outline = {
    bottom: run(nu, (k) => at(k, 0)),
    right: run(nv, (k) => at(nu, k)),
    top: run(nu, (k) => at(nu - k, nv)),
    left: run(nv, (k) => at(0, nv - k)),
  };
  return { name, role, flat, tris, xyz: flat.map(([u, v]) => map(u, v)), outline, openings };
}

/** A flat disc, face down, of rings of n points. */
function disc(name: string, radius: number, rings: number, n: number): Piece {
  const flat: [number, number][] = [[0, 0]];
  for (let r = 1; r <= rings; r++) for (let k = 0; k < n; k++) flat.push([r, (2 * Math.PI * k) / n]);
  const pts = flat.map(([r, a]): [number, number] => [((radius * r) / rings) * Math.cos(a), ((radius * r) / rings) * Math.sin(a)]);
  const at = (r: number, k: number) => (r === 0 ? 0 : 1 + (r - 1) * n + (k % n));
  const tris: [number, number, number][] = [];
  for (let k = 0; k < n; k++) {
    tris.push([0, at(1, k + 1), at(1, k)]);
    for (let r = 1; r < rings; r++) tris.push([at(r, k), at(r + 1, k + 1), at(r + 1, k)], [at(r, k), at(r, k + 1), at(r + 1, k + 1)]);
  }
  return {
    name,
    role: 'base',
    // Seen from the face (below) x runs the other way.
    flat: pts.map(([x, y]): [number, number] => [-x, y]),
    tris,
    xyz: pts.map(([x, y]): [number, number, number] => [x, y, 0]),
    outline: { round: Array.from({ length: n + 1 }, (_, k) => at(rings, n - k)) },
    openings: [],
  };
}

/** Welds pieces whose corners meet within 1 um and fills in the records. */
export function sew(name: string, pieces: readonly Piece[], wanted: Wanted = 'structured'): Sewn {
  const numbers = new Map<string, number>();
  const points: (readonly [number, number, number])[] = [];
  const weld = (p: readonly [number, number, number]): number => {
    const key = p.map((c) => Math.round(c * 1e6)).join(',');
    const old = numbers.get(key);
    if (old !== undefined) return old;
    numbers.set(key, points.length);
    points.push(p);
    return points.length - 1;
  };
  const welded = pieces.map((p) => p.xyz.map(weld));
  const triVerts: number[] = [];
  const triPanel: number[] = [];
  const triFlat: number[] = [];
  pieces.forEach((piece, index) => {
    for (const t of piece.tris) {
      triPanel.push(index);
      for (const v of t) {
        triVerts.push(welded[index][v]);
        triFlat.push(...piece.flat[v]);
      }
    }
  });
  const edges = edgesOf(triVerts, triPanel);
  const mesh: BagMesh = {
    vertexCount: points.length,
    triVerts: Uint32Array.from(triVerts),
    triPanel: Uint16Array.from(triPanel),
    triRegion: new Uint16Array(triPanel.length),
    triPart: new Uint8Array(triPanel.length),
    areaScale: pieces.map(() => [1]),
    triFlat: Float64Array.from(triFlat),
    ...edges,
    edgeLine: new Int32Array(edges.edgeKind.length).fill(-1),
    panelNames: pieces.map((p) => p.name),
    seamNames: [],
    panelVerts: pieces.map((p, index) => panelVertsOf(p, welded[index])),
    outlines: pieces.map((p, index) =>
      Object.fromEntries(
        Object.entries(p.outline).map(([edge, verts]) => [
          edge,
          { verts: Uint32Array.from(verts, (v) => welded[index][v]), at: Float64Array.from(verts, (_, k) => k / (verts.length - 1)) },
        ]),
      ),
    ),
    marks: [],
    quality: { minAngleDeg: 45, meanEdge: 0.02, minEdge: 0.02, maxEdge: 0.03 },
  };
  const bag: Bag = {
    version: 1,
    name,
    note: '',
    wanted,
    parameters: [],
    panels: pieces.map(panelOf),
    seams: [],
    straps: [],
    topstitch: [],
    materials: [],
    stacks: [
      { name: 'stack', kind: 'direct', arealMass: 0.34, thickness: 0.001, bending: [1e-4, 1e-4, 0, 5e-5], inPlane: [2e4, 2e4, 0, 1e4], angle: 0, source: null },
    ],
    options: [{ name: 'A', stacks: Object.fromEntries(pieces.map((p) => [p.name, 'stack'])), regions: {} }],
    stances: [{ name: 'empty', kind: 'standing', load: null, friction: 0.4 }],
  };
  return { bag, mesh, drafted: Float64Array.from(points.flat()) };
}

function panelVertsOf(piece: Piece, welded: readonly number[]): { verts: Uint32Array; flat: Float64Array } {
  // A tube's seam puts two flat points on one vertex; the first one stands for it.
  const flatOf = new Map<number, readonly [number, number]>();
  welded.forEach((v, i) => {
    if (!flatOf.has(v)) flatOf.set(v, piece.flat[i]);
  });
  const verts = [...flatOf.keys()].sort((a, b) => a - b);
  return { verts: Uint32Array.from(verts), flat: Float64Array.from(verts.flatMap((v) => [...flatOf.get(v)!])) };
}

function panelOf(p: Piece): Panel {
  const outline = Object.entries(p.outline).map(
    ([name, verts]): OutlineEdge => ({ name, kind: 'line', from: p.flat[verts[0]], to: p.flat[verts[verts.length - 1]] }),
  );
  return {
    name: p.name,
    role: p.role,
    outline,
    holes: [],
    grain: 0,
    marks: [],
    clips: [],
    regions: [],
    lines: [],
    chains: {},
    openings: p.openings,
    pose: null,
  };
}

function edgesOf(triVerts: readonly number[], triPanel: readonly number[]): Pick<BagMesh, 'edgeVerts' | 'edgeTris' | 'edgeLocal' | 'edgeKind' | 'edgeSeam'> {
  const found = new Map<string, { verts: [number, number]; tris: [number, number]; local: [number, number] }>();
  for (let t = 0; t < triPanel.length; t++) {
    for (let k = 0; k < 3; k++) {
      const a = triVerts[3 * t + ((k + 1) % 3)];
      const b = triVerts[3 * t + ((k + 2) % 3)];
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      const old = found.get(key);
      if (old === undefined) found.set(key, { verts: [a, b], tris: [t, -1], local: [k, -1] });
      else {
        old.tris[1] = t;
        old.local[1] = k;
      }
    }
  }
  const all = [...found.values()];
  return {
    edgeVerts: Uint32Array.from(all.flatMap((e) => e.verts)),
    edgeTris: Int32Array.from(all.flatMap((e) => e.tris)),
    edgeLocal: Int8Array.from(all.flatMap((e) => e.local)),
    edgeKind: Uint8Array.from(all, (e) => (e.tris[1] < 0 ? 1 : triPanel[e.tris[0]] === triPanel[e.tris[1]] ? 0 : 2)),
    edgeSeam: Int32Array.from(all, (e) => (e.tris[1] >= 0 && triPanel[e.tris[0]] !== triPanel[e.tris[1]] ? 0 : -1)),
  };
}

/** An open box W x D x H, front towards -y, n cells along each edge. */
export function box(W: number, H: number, D: number, n = 8, wanted: Wanted = 'structured'): Sewn {
  return sew(
    'Harbour tote',
    [
      grid('front', 'front', W, H, n, n, (u, v) => [u - W / 2, -D / 2, v], ['top']),
      grid('back', 'back', W, H, n, n, (u, v) => [W / 2 - u, D / 2, v], ['top']),
      grid('right', 'side', D, H, n, n, (u, v) => [W / 2, u - D / 2, v], ['top']),
      grid('left', 'side', D, H, n, n, (u, v) => [-W / 2, D / 2 - u, v], ['top']),
      grid('base', 'base', W, D, n, n, (u, v) => [u - W / 2, D / 2 - v, 0]),
    ],
    wanted,
  );
}

/** An open tube of one body panel on a round base. */
export function tube(radius: number, H: number, n = 32): Sewn {
  const around = (u: number) => u / radius;
  return sew('Bucket', [
    grid('body', 'body', 2 * Math.PI * radius, H, n, 12, (u, v) => [radius * Math.cos(around(u)), radius * Math.sin(around(u)), v], ['top']),
    disc('base', radius, 4, n),
  ]);
}

/** A plain strip held level, 1 panel, nothing to stand on. */
export function strip(L: number, W: number, n = 10): Sewn {
  return sew('Strip', [grid('strip', 'flat', L, W, n, 4, (u, v) => [u, v, 0])]);
}

/** The drafted positions moved by f. */
export function moved(drafted: Float64Array, f: (x: number, y: number, z: number) => readonly [number, number, number]): Float64Array {
  const out = new Float64Array(drafted.length);
  for (let i = 0; i < drafted.length; i += 3) out.set(f(drafted[i], drafted[i + 1], drafted[i + 2]), i);
  return out;
}
