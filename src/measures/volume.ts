import { edgeKey } from '../mesh/index.ts';
import { type PanelSheet, SHELL_ROLES } from './sheet.ts';

/** The closed surface of a bag: shell triangles turned to one orientation and a fan over every opening. */
export interface Enclosure {
  /** 3 per triangle, welded vertex numbers. */ readonly tris: Uint32Array;
  /** Closed rim loops in the direction that closes the surface. */ readonly loops: readonly (readonly number[])[];
}

/**
 * The surface that encloses the bag's inside: every wall and base panel. null when it is not one orientable sheet
 * with plain closed openings (three panels in one seam, loose pieces): then there is no volume to speak of.
 */
export function enclosureOf(sheets: readonly PanelSheet[]): Enclosure | null {
  const tris: number[] = [];
  for (const s of sheets) if (SHELL_ROLES.has(s.panel.role)) for (const v of s.tris) tris.push(s.verts[v]);
  const edges = edgeUsers(tris);
  const turned = orient(tris, edges);
  if (turned === null) return null;
  const loops = openings(turned, edges);
  return loops === null ? null : { tris: Uint32Array.from(turned), loops };
}

/** Undirected edge -> offsets (3t) of the triangles that use it, whichever way they are turned. */
type EdgeUsers = ReadonlyMap<number, readonly number[]>;

function edgeUsers(tris: readonly number[]): EdgeUsers {
  const edges = new Map<number, number[]>();
  for (let t = 0; t < tris.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tris[t + k], tris[t + ((k + 1) % 3)]];
      const at = edges.get(edgeKey(a, b));
      if (at === undefined) edges.set(edgeKey(a, b), [t]);
      else at.push(t);
    }
  }
  return edges;
}

/** Panels may be sewn in face out or face in; walk across the seams and turn what disagrees. */
function orient(source: readonly number[], edges: EdgeUsers): number[] | null {
  if (source.length === 0) return null;
  const tris = source.slice();
  const seen = new Uint8Array(tris.length / 3);
  const queue = [0];
  seen[0] = 1;
  for (let head = 0; head < queue.length; head++) {
    const t = queue[head];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tris[t + k], tris[t + ((k + 1) % 3)]];
      const users = edges.get(edgeKey(a, b))!;
      if (users.length > 2) return null;
      for (const u of users) {
        if (u === t || seen[u / 3] === 1) continue;
        const same = [0, 1, 2].some((j) => tris[u + j] === a && tris[u + ((j + 1) % 3)] === b);
        if (same) [tris[u + 1], tris[u + 2]] = [tris[u + 2], tris[u + 1]];
        seen[u / 3] = 1;
        queue.push(u);
      }
    }
  }
  return queue.length === seen.length ? tris : null;
}

/** Loops of the edges that only one triangle uses, run against that triangle. null when an opening pinches to a point. */
function openings(tris: readonly number[], users: EdgeUsers): number[][] | null {
  const next = new Map<number, number>();
  for (let t = 0; t < tris.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tris[t + k], tris[t + ((k + 1) % 3)]];
      if (users.get(edgeKey(a, b))!.length !== 1) continue;
      if (next.has(b)) return null;
      next.set(b, a);
    }
  }
  const loops: number[][] = [];
  const done = new Set<number>();
  for (const start of [...next.keys()].sort((a, b) => a - b)) {
    if (done.has(start)) continue;
    const loop: number[] = [];
    for (let v = start; !done.has(v); v = next.get(v)!) {
      done.add(v);
      loop.push(v);
      if (!next.has(v)) return null;
    }
    loops.push(loop);
  }
  return loops;
}

/**
 * Enclosed volume, m3, positive for faces out. Formula: sum over triangles of a . (b x c) / 6 (divergence theorem), each opening closed
 * by a fan from the mean of its points. Assumes no self-crossing; parts folded through each other would count twice or not at all.
 */
export function enclosedVolume(surface: Enclosure, x: Float64Array): number {
  // Taken about a point of the bag itself: far from the origin the products would swamp the volume.
  const o = [0, 1, 2].map((c) => x[3 * surface.tris[0] + c]);
  const at = (v: number): number[] => [x[3 * v] - o[0], x[3 * v + 1] - o[1], x[3 * v + 2] - o[2]];
  let six = 0;
  for (let t = 0; t < surface.tris.length; t += 3) six += triple(at(surface.tris[t]), at(surface.tris[t + 1]), at(surface.tris[t + 2]));
  for (const loop of surface.loops) {
    const mean = [0, 1, 2].map((c) => loop.reduce((s, v) => s + at(v)[c], 0) / loop.length);
    loop.forEach((v, i) => {
      six += triple(at(v), at(loop[(i + 1) % loop.length]), mean);
    });
  }
  return six / 6;
}

function triple(a: readonly number[], b: readonly number[], c: readonly number[]): number {
  return a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
}

/**
 * Volume kept, settled over drafted; null when nothing is enclosed as drafted (under 1 ml). Never below 0: an inside that has
 * been pushed through itself holds nothing.
 */
export function volumeKept(surface: Enclosure | null, drafted: Float64Array, settled: Float64Array): number | null {
  if (surface === null) return null;
  const v0 = enclosedVolume(surface, drafted);
  if (Math.abs(v0) < 1e-6) return null;
  return Math.max(0, enclosedVolume(surface, settled) / v0);
}
