/** The settled bag panel by panel: corners with place, normal and place on the cloth. */
import type { Bag } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';

/** One panel: n corners that its triangles share, and its triangles by region. */
export interface PanelSurface {
  readonly panel: number;
  readonly name: string;
  /** 3n, m, z up. */ readonly positions: Float64Array;
  /** 3n, unit vectors out of the panel's face, smooth within the panel, with a crease at its seams. */ readonly normals: Float64Array;
  /** 2n, m: across the grain and along it, from the panel's lowest of each. */ readonly uv: Float64Array;
  /** Per region with triangles (0 = the panel's own stack): corners, three a triangle. */
  readonly regions: readonly { readonly region: number; readonly corners: Uint32Array }[];
}

/**
 * Places on the cloth of every triangle corner: 6 per triangle, [across, along] the grain of its panel, m, from the panel's lowest of each. The cut shape: a
 * gathered panel has its full length. Parameters: bag (grains); mesh.
 */
export function clothPlaces(bag: Pick<Bag, 'panels'>, mesh: BagMesh): Float64Array {
  const places = new Float64Array(mesh.triFlat.length);
  const lowest = mesh.panelNames.map((): [number, number] => [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
  for (let c = 0; c < places.length / 2; c++) {
    const panel = mesh.triPanel[Math.floor(c / 3)]!;
    const [cos, sin] = [libm.cos(bag.panels[panel]!.grain), libm.sin(bag.panels[panel]!.grain)];
    const [x, y] = [mesh.triFlat[2 * c]!, mesh.triFlat[2 * c + 1]!];
    // The warp lies at the grain's angle from +y.
    places[2 * c] = x * cos + y * sin;
    places[2 * c + 1] = -x * sin + y * cos;
    for (const k of [0, 1] as const) lowest[panel]![k] = Math.min(lowest[panel]![k], places[2 * c + k]!);
  }
  for (let c = 0; c < places.length / 2; c++)
    for (const k of [0, 1] as const) places[2 * c + k] = places[2 * c + k]! - lowest[mesh.triPanel[Math.floor(c / 3)]!]![k];
  return places;
}

/** The panels of a settled mesh. A corner is a vertex at one place of the cloth: where a panel is sewn to itself it has two. x: 3 per vertex, m. */
export function panelSurfaces(bag: Pick<Bag, 'panels'>, mesh: BagMesh, x: Float64Array): PanelSurface[] {
  const places = clothPlaces(bag, mesh);
  return mesh.panelNames.map((name, panel) => {
    const numbers = new Map<string, number>();
    const [positions, uv, sums]: [number[], number[], number[]] = [[], [], []];
    const regions = new Map<number, number[]>();
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] !== panel) continue;
      const corners = [0, 1, 2].map((k) => {
        const [v, c] = [mesh.triVerts[3 * t + k]!, 3 * t + k];
        const key = `${v}:${Math.round(places[2 * c]! * 1e7)}:${Math.round(places[2 * c + 1]! * 1e7)}`;
        const known = numbers.get(key);
        if (known !== undefined) return known;
        const number = numbers.size;
        numbers.set(key, number);
        positions.push(x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!);
        uv.push(places[2 * c]!, places[2 * c + 1]!);
        sums.push(0, 0, 0);
        return number;
      });
      // Twice the area times the normal: large triangles count for more.
      const [nx, ny, nz] = areaNormal(positions, corners);
      for (const c of corners) {
        sums[3 * c] = sums[3 * c]! + nx;
        sums[3 * c + 1] = sums[3 * c + 1]! + ny;
        sums[3 * c + 2] = sums[3 * c + 2]! + nz;
      }
      const list = regions.get(mesh.triRegion[t]!) ?? [];
      list.push(...corners);
      regions.set(mesh.triRegion[t]!, list);
    }
    return {
      panel,
      name,
      positions: Float64Array.from(positions),
      normals: Float64Array.from(unit(sums)),
      uv: Float64Array.from(uv),
      regions: [...regions].sort((a, b) => a[0] - b[0]).map(([region, corners]) => ({ region, corners: Uint32Array.from(corners) })),
    };
  });
}

/** Cross product of two sides of a triangle: its normal, twice its area long. */
export function areaNormal(p: ArrayLike<number>, [a, b, c]: readonly number[]): [number, number, number] {
  const side = (i: number, k: number): number => p[3 * i + k]! - p[3 * a! + k]!;
  const [ux, uy, uz, vx, vy, vz] = [side(b!, 0), side(b!, 1), side(b!, 2), side(c!, 0), side(c!, 1), side(c!, 2)];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

function unit(sums: readonly number[]): number[] {
  const out: number[] = [];
  for (let i = 0; i < sums.length; i += 3) {
    const l = libm.hypot(sums[i]!, sums[i + 1]!, sums[i + 2]!);
    out.push(...(l > 0 ? [sums[i]! / l, sums[i + 1]! / l, sums[i + 2]! / l] : [0, 0, 1]));
  }
  return out;
}
