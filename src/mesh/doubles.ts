import { raiseAngles } from './improve.ts';
import type { Flat } from './triangulate.ts';
import { edgeKey, type PanelMesh } from './weld.ts';

/**
 * Two sheets sewn together must not share an inner edge: where both run a chord between the same two outline places (a sharp corner
 * sewn to a sharp corner, a strap of one triangle's width sewn to its lining) the triangles beside it would be the same ones twice, folded flat.
 * Each such chord is split at its middle in the later panel, and the points round it are moved until the angles are as large as they get.
 * Returns the meshes, changed ones replaced.
 */
export function partDoubles(meshes: readonly PanelMesh[]): PanelMesh[] {
  const taken = new Set<string>();
  return meshes.map((mesh) => {
    const rimCount = mesh.rim.place.length;
    const chords: [number, number][] = [];
    const own: string[] = [];
    for (const [a, b] of innerEdges(mesh)) {
      if (a >= rimCount || b >= rimCount) continue;
      const [p, q] = [mesh.rim.place[a], mesh.rim.place[b]];
      const key = p < q ? `${p},${q}` : `${q},${p}`;
      if (taken.has(key) || own.includes(key)) chords.push([a, b]);
      else own.push(key);
    }
    for (const key of own) taken.add(key);
    return chords.length === 0 ? mesh : splitChords(mesh, chords);
  });
}

function innerEdges(mesh: PanelMesh): [number, number][] {
  const n = mesh.coords.length / 2;
  const seen = new Set<number>();
  const inner: [number, number][] = [];
  for (let i = 0; i < mesh.tris.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [mesh.tris[i + k], mesh.tris[i + ((k + 1) % 3)]];
      const key = Math.min(a, b) * n + Math.max(a, b);
      if (seen.has(key)) inner.push([a, b]);
      seen.add(key);
    }
  return inner;
}

function splitChords(mesh: PanelMesh, chords: readonly (readonly [number, number])[]): PanelMesh {
  const coords = Array.from(mesh.coords);
  let tris = Array.from(mesh.tris);
  let region = Array.from(mesh.region);
  const lines = new Map(mesh.lines);
  let part = Array.from(mesh.part);
  for (const [a, b] of chords) {
    const m = coords.length / 2;
    coords.push((coords[2 * a] + coords[2 * b]) / 2, (coords[2 * a + 1] + coords[2 * b + 1]) / 2);
    const out: number[] = [];
    const where: number[] = [];
    const which: number[] = [];
    for (let t = 0; 3 * t < tris.length; t++) {
      const corners = tris.slice(3 * t, 3 * t + 3);
      const k = [0, 1, 2].find((i) => (corners[i] === a && corners[(i + 1) % 3] === b) || (corners[i] === b && corners[(i + 1) % 3] === a));
      where.push(region[t]);
      which.push(part[t]);
      if (k === undefined) {
        out.push(...corners);
        continue;
      }
      const [p, q, o] = [corners[k], corners[(k + 1) % 3], corners[(k + 2) % 3]];
      out.push(p, m, o, m, q, o);
      where.push(region[t]);
      which.push(part[t]);
    }
    const line = lines.get(edgeKey(a, b));
    if (line !== undefined) for (const end of [a, b]) lines.set(edgeKey(end, m), line);
    tris = out;
    region = where;
    part = which;
  }
  const flat: Flat = { tris: Uint32Array.from(tris), half: halfEdges(tris) };
  const moved = Float64Array.from(coords);
  // Only the new points move: everything else keeps the shape it was given.
  raiseAngles(moved, flat, mesh.coords.length / 2, 0.6, () => true, 6);
  return { rim: mesh.rim, coords: moved, tris: flat.tris, region: Uint16Array.from(region), part: Uint8Array.from(part), lines };
}

function halfEdges(tris: readonly number[]): Int32Array {
  const half = new Int32Array(tris.length).fill(-1);
  const open = new Map<string, number>();
  for (let h = 0; h < tris.length; h++) {
    const [a, b] = [tris[h], tris[h % 3 === 2 ? h - 2 : h + 1]];
    const twin = open.get(`${b},${a}`);
    if (twin === undefined) open.set(`${a},${b}`, h);
    else {
      half[h] = twin;
      half[twin] = h;
    }
  }
  return half;
}
