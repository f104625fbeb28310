import type { SeamStretches } from '../panels/index.ts';
import type { Draft } from '../panels/types.ts';
import type { Rim } from './rim.ts';
import { EDGE_FOLD, EDGE_FREE, EDGE_INNER, EDGE_SEAM, type EdgeTables } from './types.ts';

/** One panel as meshed flat: the rim's vertices first, counterclockwise triangles. */
export interface PanelMesh {
  readonly rim: Rim;
  /** 2 per local vertex, m. */ readonly coords: Float64Array;
  /** 3 local vertices per triangle. */ readonly tris: Uint32Array;
  /** Region of each triangle, 0 = the panel's own stack. */ readonly region: Uint16Array;
  /** Part of each triangle (boxed corners). */ readonly part: Uint8Array;
  /** Line of the panel that an inner edge lies on, by its two local vertices (edgeKey). */ readonly lines: ReadonlyMap<number, number>;
}

/** One number for an edge of a panel mesh, by its local vertices in either order. */
export const edgeKey = (a: number, b: number): number => Math.min(a, b) * 1048576 + Math.max(a, b);

export interface Welded {
  readonly vertexCount: number;
  /** Per panel: welded number of each local vertex. */ readonly numbers: readonly Uint32Array[];
  readonly firstTri: readonly number[];
  readonly triVerts: Uint32Array;
  readonly triPanel: Uint16Array;
  readonly triRegion: Uint16Array;
  readonly triPart: Uint8Array;
  readonly triFlat: Float64Array;
}

/** Sews panel meshes together: rim vertices of one sewn place get one number. Numbers run panel by panel, in order of first use. */
export function weldPanels(meshes: readonly PanelMesh[]): Welded {
  const ofPlace = new Map<number, number>();
  let vertexCount = 0;
  const numbers = meshes.map(({ rim, coords }) => {
    const own = new Uint32Array(coords.length / 2);
    for (let v = 0; v < own.length; v++) {
      if (v >= rim.place.length) {
        own[v] = vertexCount++;
        continue;
      }
      let number = ofPlace.get(rim.place[v]);
      if (number === undefined) {
        number = vertexCount++;
        ofPlace.set(rim.place[v], number);
      }
      own[v] = number;
    }
    return own;
  });
  const total = meshes.reduce((sum, m) => sum + m.tris.length / 3, 0);
  const out = {
    vertexCount,
    numbers,
    firstTri: [] as number[],
    triVerts: new Uint32Array(3 * total),
    triPanel: new Uint16Array(total),
    triRegion: new Uint16Array(total),
    triPart: new Uint8Array(total),
    triFlat: new Float64Array(6 * total),
  };
  let t = 0;
  meshes.forEach((mesh, p) => {
    out.firstTri.push(t);
    for (let k = 0; k < mesh.tris.length; k += 3, t++) {
      for (let c = 0; c < 3; c++) {
        const v = mesh.tris[k + c];
        out.triVerts[3 * t + c] = numbers[p][v];
        out.triFlat[6 * t + 2 * c] = mesh.coords[2 * v];
        out.triFlat[6 * t + 2 * c + 1] = mesh.coords[2 * v + 1];
      }
      out.triPanel[t] = p;
      out.triRegion[t] = mesh.region[k / 3];
      out.triPart[t] = mesh.part[k / 3];
    }
  });
  return out;
}

/**
 * Edges of the sewn bag: inner edges panel by panel (found over LOCAL vertices, so that a tube's own seam is not taken for an inner edge),
 * then for every seam stretch one seam edge per pair of the panels that meet there, or a free edge.
 * A pair joined by no seam of its own (the outer two of three layers) carries the later of the seams that join them.
 */
export function edgeTables(draft: Draft, seamStretches: SeamStretches, meshes: readonly PanelMesh[], welded: Welded): EdgeTables {
  const verts: number[] = [];
  const tris: number[] = [];
  const local: number[] = [];
  const kind: number[] = [];
  const seams: number[] = [];
  const lines: number[] = [];
  const push = (t: number, k: number, u: number, q: number, what: number, seam: number, line = -1): void => {
    verts.push(welded.triVerts[3 * t + ((k + 1) % 3)], welded.triVerts[3 * t + ((k + 2) % 3)]);
    tris.push(t, u);
    local.push(k, q);
    kind.push(what);
    seams.push(seam);
    lines.push(line);
  };
  // Outline half-edges still to be matched: key of the two local vertices -> triangle and local edge.
  const border: Map<number, number>[] = meshes.map((mesh, p) => {
    const n = mesh.coords.length / 2;
    const open = new Map<number, number>();
    for (let t = 0; 3 * t < mesh.tris.length; t++)
      for (let k = 0; k < 3; k++) {
        const a = mesh.tris[3 * t + ((k + 1) % 3)];
        const b = mesh.tris[3 * t + ((k + 2) % 3)];
        const key = Math.min(a, b) * n + Math.max(a, b);
        const other = open.get(key);
        if (other === undefined) open.set(key, 3 * t + k);
        else {
          open.delete(key);
          const first = welded.firstTri[p];
          const line = mesh.lines.get(edgeKey(a, b)) ?? -1;
          push(first + Math.floor(other / 3), other % 3, first + t, k, draft.lines[p][line]?.fold ? EDGE_FOLD : EDGE_INNER, -1, line);
        }
      }
    return open;
  });
  const seamOf = seamNumbers(draft, seamStretches);
  seamStretches.list.forEach((stretch, s) => {
    const stretches = stretch.members.map((m) => {
      const list = outlineSlice(meshes[m.panel].rim, m.edge, m.interval);
      return m.forward ? list : list.reverse();
    });
    for (let i = 0; i + 1 < stretches[0].length; i++) {
      const sides = stretch.members.map((m, k) => {
        const mesh = meshes[m.panel];
        const n = mesh.coords.length / 2;
        const [a, b] = [stretches[k][i], stretches[k][i + 1]];
        const found = border[m.panel].get(Math.min(a, b) * n + Math.max(a, b));
        if (found === undefined) throw new Error(`panel ${draft.panels[m.panel].name}: outline edge ${a}-${b} is missing from its mesh`);
        return 3 * welded.firstTri[m.panel] + found;
      });
      if (sides.length === 1) push(Math.floor(sides[0] / 3), sides[0] % 3, -1, -1, EDGE_FREE, -1);
      for (let p = 0; p < sides.length; p++)
        for (let q = p + 1; q < sides.length; q++) {
          const [x, y] = sides[p] < sides[q] ? [sides[p], sides[q]] : [sides[q], sides[p]];
          push(Math.floor(x / 3), x % 3, Math.floor(y / 3), y % 3, EDGE_SEAM, seamOf(s, p, q));
        }
    }
  });
  return {
    edgeVerts: Uint32Array.from(verts),
    edgeTris: Int32Array.from(tris),
    edgeLocal: Int8Array.from(local),
    edgeKind: Uint8Array.from(kind),
    edgeSeam: Int32Array.from(seams),
    edgeLine: Int32Array.from(lines),
  };
}

/** Local vertices of one stretch of an edge, in the edge's direction: breakpoints carry corner = 1. */
function outlineSlice(rim: Rim, edge: number, interval: number): number[] {
  const { verts } = rim.edges[edge];
  let start = 0;
  for (let seen = -1, i = 0; i < verts.length; i++) {
    if (rim.corner[verts[i]] === 1) seen++;
    if (seen === interval) {
      start = i;
      break;
    }
  }
  let end = start + 1;
  while (end < verts.length - 1 && rim.corner[verts[end]] === 0) end++;
  return verts.slice(start, end + 1);
}

/** Which seam joins members p and q of a seam stretch. */
function seamNumbers(draft: Draft, seamStretches: SeamStretches): (stretch: number, p: number, q: number) => number {
  const id = (m: { panel: number; edge: number; interval: number }): string => `${m.panel}:${m.edge}:${m.interval}`;
  const direct = new Map<string, number>();
  const latest = new Map<string, number>();
  draft.seams.forEach((_, s) => {
    for (const [a, b] of seamStretches.pairs[s]) {
      direct.set(`${id(a)}|${id(b)}`, s);
      direct.set(`${id(b)}|${id(a)}`, s);
      latest.set(id(a), s);
      latest.set(id(b), s);
    }
  });
  return (stretch, p, q) => {
    const a = id(seamStretches.list[stretch].members[p]);
    const b = id(seamStretches.list[stretch].members[q]);
    return direct.get(`${a}|${b}`) ?? Math.max(latest.get(a) ?? -1, latest.get(b) ?? -1);
  };
}
