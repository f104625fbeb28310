import type { Bag, PanelRole } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { UnionFind } from '../numerics/index.ts';
import { panelFacing } from './normals.ts';

/** Panels that make the bag's body, most telling first; the rest (flaps, pockets, straps, trim) hang on it. */
const BODY: readonly PanelRole[] = ['base', 'front', 'back', 'side', 'gusset', 'body', 'flat'];

/** The bag's body as one oriented surface: a sphere with holes when all is well. */
export interface Core {
  readonly panels: readonly number[];
  /** 3 welded vertex numbers per triangle, counterclockwise seen from outside. */ readonly tris: Uint32Array;
  /** Closed boundary loops of welded vertices, cloth on the left; longest opening first. */ readonly loops: readonly (readonly number[])[];
  /** true when the loops, closed by discs, leave a sphere: only then is there an inside to inflate. */ readonly sphere: boolean;
}

/**
 * Picks the panels of one sewn group that form a surface with two sheets at most along every seam, in order of role; a panel that would make
 * a third layer somewhere (a divider, a pocket set into a seam) or a handle (a strap sewn at both ends) is left out.
 */
export function findCore(bag: Bag, mesh: BagMesh, group: readonly number[]): Core {
  // Before anything is placed only the seams speak; third layers come out either way round and are left out below.
  const facing = panelFacing(mesh, new Float64Array(3 * mesh.vertexCount));
  const rank = (p: number): number => {
    const r = BODY.indexOf(bag.panels[p].role);
    return r < 0 ? BODY.length : r;
  };
  const order = [...group].sort((a, b) => rank(a) - rank(b) || a - b);
  const ofPanel = new Map<number, number[]>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const p = mesh.triPanel[t];
    const [a, b, c] = [mesh.triVerts[3 * t], mesh.triVerts[3 * t + 1], mesh.triVerts[3 * t + 2]];
    const list = ofPanel.get(p) ?? [];
    if (facing[p] < 0) list.push(a, c, b);
    else list.push(a, b, c);
    ofPanel.set(p, list);
  }
  const n = mesh.vertexCount;
  const used = new Set<number>();
  const panels: number[] = [];
  const waiting = order.filter((p) => rank(p) < BODY.length || order.every((q) => rank(q) === BODY.length));
  // Half-edges: each may be used once in each direction. A panel that wants one twice is a third layer.
  for (const p of waiting) {
    const tris = ofPanel.get(p) ?? [];
    const own: number[] = [];
    for (let i = 0; i < tris.length; i += 3) for (let k = 0; k < 3; k++) own.push(tris[i + k] * n + tris[i + ((k + 1) % 3)]);
    if (own.some((key) => used.has(key))) continue;
    for (const key of own) used.add(key);
    panels.push(p);
  }
  const tris = Uint32Array.from(panels.flatMap((p) => ofPanel.get(p) ?? []));
  const loops = boundaryLoops(tris, n).sort((a, b) => b.length - a.length);
  return { panels, tris, loops, sphere: isSphere(tris, loops.length, n) };
}

/** Loops of half-edges without a partner. Where two loops touch in a vertex, the walk stays on the half-edge's own side by taking any unused one. */
function boundaryLoops(tris: Uint32Array, n: number): number[][] {
  const half = new Set<number>();
  for (let i = 0; i < tris.length; i += 3) for (let k = 0; k < 3; k++) half.add(tris[i + k] * n + tris[i + ((k + 1) % 3)]);
  const leaving = new Map<number, number[]>();
  for (const key of half) {
    const [a, b] = [Math.floor(key / n), key % n];
    if (half.has(b * n + a)) continue;
    leaving.set(a, [...(leaving.get(a) ?? []), b]);
  }
  const loops: number[][] = [];
  for (const start of [...leaving.keys()].sort((p, q) => p - q))
    while ((leaving.get(start)?.length ?? 0) > 0) {
      const loop: number[] = [];
      let at = start;
      while ((leaving.get(at)?.length ?? 0) > 0) {
        loop.push(at);
        at = leaving.get(at)!.pop()!;
      }
      loops.push(loop);
    }
  return loops;
}

/** V - E + F of the surface with its loops closed by discs is 2, and it is in one piece. */
function isSphere(tris: Uint32Array, loops: number, n: number): boolean {
  const edges = new Set<number>();
  const joined = new UnionFind(n);
  for (let i = 0; i < tris.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tris[i + k], tris[i + ((k + 1) % 3)]];
      edges.add(Math.min(a, b) * n + Math.max(a, b));
      joined.join(a, b);
    }
  const verts = new Set(tris);
  const roots = new Set([...verts].map((v) => joined.find(v)));
  return roots.size === 1 && verts.size - edges.size + tris.length / 3 + loops === 2;
}
