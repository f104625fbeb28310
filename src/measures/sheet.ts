import type { Bag, Panel, PanelRole } from '../bag/types.ts';
import { type BagMesh, PART_WALL } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/**
 * The bag's panels as measuring needs them: local vertex numbers, local triangles, area weights.
 * Weights come from the flat rest shape, so one weight serves the drafted and the settled state alike.
 */
export interface PanelSheet {
  readonly panel: Panel;
  /** Index in mesh.panelNames. */ readonly index: number;
  /** Welded vertex numbers; everything below counts in this local order. */ readonly verts: Uint32Array;
  /** 2 per vertex: flat coordinates, m. */ readonly flat: Float64Array;
  /** 3 per triangle, local numbers, counterclockwise seen from the face. */ readonly tris: Uint32Array;
  /** Mesh triangle numbers of `tris`. */ readonly triNumbers: Uint32Array;
  /** Per vertex: a third of the flat area round it, m2. */ readonly area: Float64Array;
  /** Per vertex: 1 on the outline or a hole of the panel. */ readonly border: Uint8Array;
}

/** Panels that stand: they have a height, a lean and a bulge. */
export const WALL_ROLES: ReadonlySet<PanelRole> = new Set(['front', 'back', 'side', 'gusset', 'body']);
/** Panels that enclose the bag's inside. Flaps, pockets, straps and trim hang on it. */
export const SHELL_ROLES: ReadonlySet<PanelRole> = new Set([...WALL_ROLES, 'base']);

/** One PanelSheet per mesh panel, in mesh order. Throws when the mesh names a panel that the bag does not have. */
export function sheetsOf(bag: Bag, mesh: BagMesh): PanelSheet[] {
  const trisOf: number[][] = mesh.panelNames.map(() => []);
  mesh.triPanel.forEach((p, t) => {
    trisOf[p].push(t);
  });
  const local = new Int32Array(mesh.vertexCount);
  return mesh.panelNames.map((name, index) => {
    const panel = bag.panels.find((p) => p.name === name);
    if (panel === undefined) throw new Error(`unknown panel ${name} in the mesh`);
    const { verts, flat } = mesh.panelVerts[index];
    verts.forEach((v, i) => {
      local[v] = i;
    });
    const triNumbers = Uint32Array.from(trisOf[index]);
    const tris = new Uint32Array(3 * triNumbers.length);
    const area = new Float64Array(verts.length);
    triNumbers.forEach((t, i) => {
      const f = mesh.triFlat;
      const a = (f[6 * t + 2] - f[6 * t]) * (f[6 * t + 5] - f[6 * t + 1]) - (f[6 * t + 4] - f[6 * t]) * (f[6 * t + 3] - f[6 * t + 1]);
      for (let k = 0; k < 3; k++) {
        const v = local[mesh.triVerts[3 * t + k]];
        tris[3 * i + k] = v;
        area[v] += Math.abs(a) / 6;
      }
    });
    return { panel, index, verts, flat, tris, triNumbers, area, border: borderOf(tris, verts.length) };
  });
}

/**
 * What of a sheet stands as one wall: all of it, or for a panel with boxed corners the part above its base line and between its uprights
 * (the rest lies under the bag or turns round its side). Weights come from that part alone.
 */
export function wallPart(sheet: PanelSheet, mesh: BagMesh): PanelSheet {
  const kept = [...sheet.triNumbers.keys()].filter((i) => mesh.triPart[sheet.triNumbers[i]] === PART_WALL);
  if (kept.length === sheet.triNumbers.length) return sheet;
  const used = new Map<number, number>();
  const tris = Uint32Array.from(
    kept.flatMap((i) => [0, 1, 2].map((k) => sheet.tris[3 * i + k])),
    (v) => {
      if (!used.has(v)) used.set(v, used.size);
      return used.get(v)!;
    },
  );
  const locals = [...used.keys()];
  const flat = Float64Array.from(locals.flatMap((v) => [sheet.flat[2 * v], sheet.flat[2 * v + 1]]));
  const area = new Float64Array(locals.length);
  for (let i = 0; i < tris.length; i += 3) {
    const [a, b, c] = [2 * tris[i], 2 * tris[i + 1], 2 * tris[i + 2]];
    const twice = (flat[b] - flat[a]) * (flat[c + 1] - flat[a + 1]) - (flat[c] - flat[a]) * (flat[b + 1] - flat[a + 1]);
    for (let k = 0; k < 3; k++) area[tris[i + k]] += Math.abs(twice) / 6;
  }
  return {
    panel: sheet.panel,
    index: sheet.index,
    verts: Uint32Array.from(locals, (v) => sheet.verts[v]),
    flat,
    tris,
    triNumbers: Uint32Array.from(kept, (i) => sheet.triNumbers[i]),
    area,
    border: borderOf(tris, locals.length),
  };
}

/** Share of a panel's area that must lie nearer to level than to upright for it to be no wall, whatever its role (a zip strip over the top). */
const LEVEL_SHARE = 0.6;

/** Is the panel drafted level, so that it has no height, lean or bulge of a wall? x: 3n drafted positions. */
export function liesLevel(sheet: PanelSheet, x: Float64Array): boolean {
  let [level, total] = [0, 0];
  for (let i = 0; i < sheet.tris.length; i += 3) {
    const n = triangleNormal(x, sheet.verts[sheet.tris[i]], sheet.verts[sheet.tris[i + 1]], sheet.verts[sheet.tris[i + 2]]);
    const twice = libm.norm(n);
    total += twice;
    if (Math.abs(n[2]) > Math.SQRT1_2 * twice) level += twice;
  }
  return level > LEVEL_SHARE * total;
}

/** 1 for vertices on an edge that only one of the panel's own triangles uses. */
function borderOf(tris: Uint32Array, count: number): Uint8Array {
  const uses = new Map<number, number>();
  const key = (a: number, b: number) => (a < b ? a * count + b : b * count + a);
  for (let i = 0; i < tris.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const e = key(tris[i + k], tris[i + ((k + 1) % 3)]);
      uses.set(e, (uses.get(e) ?? 0) + 1);
    }
  }
  const border = new Uint8Array(count);
  for (const [e, n] of uses) {
    if (n !== 1) continue;
    border[Math.floor(e / count)] = 1;
    border[e % count] = 1;
  }
  return border;
}

/** Unit vertex normals (3 per local vertex), area-weighted over the panel's own triangles only: a seam is a crease, not a curve. */
export function vertexNormals(sheet: PanelSheet, x: Float64Array): Float64Array {
  const { tris, verts } = sheet;
  const normals = new Float64Array(3 * verts.length);
  for (let i = 0; i < tris.length; i += 3) {
    const n = triangleNormal(x, verts[tris[i]], verts[tris[i + 1]], verts[tris[i + 2]]);
    for (let k = 0; k < 3; k++) for (let c = 0; c < 3; c++) normals[3 * tris[i + k] + c] += n[c];
  }
  for (let v = 0; v < verts.length; v++) {
    const l = libm.hypot(normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]);
    if (l > 0) for (let c = 0; c < 3; c++) normals[3 * v + c] /= l;
  }
  return normals;
}

/** (b - a) x (c - a): twice the area, pointing out of the face. a, b, c: vertex numbers into x. */
export function triangleNormal(x: Float64Array, a: number, b: number, c: number): [number, number, number] {
  const ux = x[3 * b] - x[3 * a];
  const uy = x[3 * b + 1] - x[3 * a + 1];
  const uz = x[3 * b + 2] - x[3 * a + 2];
  const vx = x[3 * c] - x[3 * a];
  const vy = x[3 * c + 1] - x[3 * a + 1];
  const vz = x[3 * c + 2] - x[3 * a + 2];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}
