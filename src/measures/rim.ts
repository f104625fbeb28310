import type { Bag } from '../bag/types.ts';
import { standsOnFeet } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm, UnionFind } from '../numerics/index.ts';
import { SHELL_ROLES, WALL_ROLES } from './sheet.ts';

/**
 * The rim: the outline edges that the walls name as openings. Weights are drafted edge lengths, so a mean does not lean
 * towards the places where the mesh happens to be fine.
 */
export interface Rim {
  /** Vertex numbers, each once, increasing. */ readonly verts: Uint32Array;
  /** Per vertex: half the drafted length of the rim edges that meet there, m. */ readonly weights: Float64Array;
  /** 2 per rim edge: vertex numbers. */ readonly edges: Uint32Array;
  /** Panel name -> its own rim vertices (with weights), only panels that have some. */
  readonly byPanel: ReadonlyMap<string, RimPart>;
  /** Vertices of the panels that enclose the inside, or those with feet where it stands on three or more; heights are read from the lowest of them. */ readonly shell: Uint32Array;
}

export interface RimPart {
  readonly verts: Uint32Array;
  readonly weights: Float64Array;
  readonly edges: Uint32Array;
}

/** An opening wholly lower than this share of the drafted height is what the bag stands on, not its mouth. */
const UNDERSIDE = 0.1;

/**
 * The rim of a bag, or null when no wall names an opening (a plain strip, a closed bag). Of a tube that is open at both ends it is the upper one.
 * drafted: 3n positions, m.
 */
export function rimOf(bag: Bag, mesh: BagMesh, drafted: Float64Array): Rim | null {
  const open = new Map<string, number[]>();
  const shell = new Set<number>();
  mesh.panelNames.forEach((name, index) => {
    const panel = bag.panels.find((p) => p.name === name);
    if (panel === undefined) return;
    if (SHELL_ROLES.has(panel.role)) for (const v of mesh.panelVerts[index].verts) shell.add(v);
    if (!WALL_ROLES.has(panel.role)) return;
    const own: number[] = [];
    for (const opening of panel.openings) {
      // An opening may be named by its chain ("rim" of a scooped top made of three edges).
      for (const edge of panel.chains[opening] ?? [opening]) {
        const line = mesh.outlines[index][edge]?.verts ?? [];
        for (let i = 0; i + 1 < line.length; i++) own.push(line[i], line[i + 1]);
      }
    }
    if (own.length > 0) open.set(name, own);
  });
  const all = [...open.values()].flat(),
    under = underside(all, [...shell], drafted);
  const byPanel = new Map<string, RimPart>();
  const edges: number[] = [];
  for (const [name, ends] of open) {
    const own = ends.filter((_, i) => !under.has(ends[i - (i % 2)]));
    if (own.length === 0) continue;
    byPanel.set(name, partOf(own, drafted));
    edges.push(...own);
  }
  if (edges.length === 0) return null;
  return { ...partOf(edges, drafted), byPanel, shell: standsOnFeet(bag, mesh) ?? Uint32Array.from([...shell].sort((a, b) => a - b)) };
}

/** Vertices of openings on the bag's underside; none where there is no opening above. edges: 2 per edge. */
function underside(edges: readonly number[], shell: readonly number[], drafted: Float64Array): ReadonlySet<number> {
  const low = lowest(drafted, shell),
    limit = low + UNDERSIDE * (shell.reduce((z, v) => Math.max(z, drafted[3 * v + 2]), low) - low);
  const verts = [...new Set(edges)];
  const place = new Map(verts.map((v, i) => [v, i]));
  const joined = new UnionFind(verts.length);
  for (let i = 0; i < edges.length; i += 2) joined.join(place.get(edges[i])!, place.get(edges[i + 1])!);
  const above = new Set(verts.flatMap((v, i) => (drafted[3 * v + 2] > limit ? [joined.find(i)] : [])));
  return new Set(above.size === 0 ? [] : verts.filter((_, i) => !above.has(joined.find(i))));
}

function partOf(edges: readonly number[], drafted: Float64Array): RimPart {
  const weight = new Map<number, number>();
  for (let i = 0; i < edges.length; i += 2) {
    const half = distance(drafted, edges[i], edges[i + 1]) / 2;
    weight.set(edges[i], (weight.get(edges[i]) ?? 0) + half);
    weight.set(edges[i + 1], (weight.get(edges[i + 1]) ?? 0) + half);
  }
  const verts = Uint32Array.from([...weight.keys()].sort((a, b) => a - b));
  return { verts, weights: Float64Array.from(verts, (v) => weight.get(v) ?? 0), edges: Uint32Array.from(edges) };
}

function distance(x: Float64Array, a: number, b: number): number {
  return libm.hypot(x[3 * a] - x[3 * b], x[3 * a + 1] - x[3 * b + 1], x[3 * a + 2] - x[3 * b + 2]);
}

/** Lowest z of the given vertices, m. Infinity for none. */
export function lowest(x: Float64Array, verts: ArrayLike<number>): number {
  let z = Infinity;
  for (let i = 0; i < verts.length; i++) z = Math.min(z, x[3 * verts[i] + 2]);
  return z;
}

/**
 * Mean height of a rim (or of one panel's part of it) above `floor`, m. Formula: sum w_i (z_i - floor) / sum w_i,
 * w_i = drafted rim length at vertex i, i.e. the trapezoid rule along the rim.
 */
export function meanHeight(part: Pick<RimPart, 'verts' | 'weights'>, x: Float64Array, floor: number): number {
  let sum = 0;
  let total = 0;
  for (let i = 0; i < part.verts.length; i++) {
    sum += part.weights[i] * (x[3 * part.verts[i] + 2] - floor);
    total += part.weights[i];
  }
  return sum / total;
}

/** Mean rim height above the lowest point of the shell, m: what a settle watches to know how far the bag has come down. */
export function rimHeight(rim: Rim, x: Float64Array): number {
  return meanHeight(rim, x, lowest(x, rim.shell));
}

/**
 * Top-edge drop, m: max over rim vertices of (drafted height - settled height), each above its own lowest shell point.
 * For a level mouth this is the drafted height less the lowest rim point; for a scooped mouth it is not fooled by the scoop.
 */
export function topEdgeDrop(rim: Rim, drafted: Float64Array, settled: Float64Array): number {
  const z0 = lowest(drafted, rim.shell);
  const z1 = lowest(settled, rim.shell);
  let drop = -Infinity;
  for (const v of rim.verts) drop = Math.max(drop, drafted[3 * v + 2] - z0 - (settled[3 * v + 2] - z1));
  return drop;
}
