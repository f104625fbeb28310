import type { Bag } from '../bag/types.ts';
import { countCrossings } from '../mesh/index.ts';
import { type BagMesh, EDGE_FREE, EDGE_SEAM } from '../mesh/types.ts';
import { libm, seeded, toEnd, type Work } from '../numerics/index.ts';
import { baseVerts, turnsHere } from './base.ts';
import { outwardNormals, panelFacing } from './normals.ts';

/** Waviness as a share of the bulge: enough to break symmetry, too little to choose the branch (bulges of 1-8 mm end alike). */
const WAVINESS = 0.1;
const WAVES = 4;
/** Halvings of the amplitude before the bag is left as it was: walls pressed in meet where a bag is flat from the start. */
const HALVINGS = 6;

/**
 * The stuffed (amplitude > 0) or pressed-in start: see moved(). The amplitude is halved until no more triangles pass through one another
 * than before, because contact keeps sheets on the side it finds them on.
 * @param amplitude m; negative = pressed inward
 * @param held per vertex, 1 = held by a clip or by what the bag stands on: it stays where it was drafted, and cloth is stuffed from a held line as from a seam
 */
export const bulge = (...of: Parameters<typeof bulging>): Float64Array => toEnd(bulging(...of));

/** The same in steps. */
export function* bulging(mesh: BagMesh, bag: Bag, positions: Float64Array, amplitude: number, seed: number, held?: Uint8Array): Work<Float64Array> {
  let before: number | undefined;
  for (let k = 0; k <= HALVINGS; k++) {
    const out = yield* moved(mesh, bag, positions, amplitude / (1 << k), seed, held);
    yield;
    const now = countCrossings(out, mesh.triVerts);
    yield;
    if (now === 0) return out;
    before ??= countCrossings(positions, mesh.triVerts);
    if (now <= before) return out;
  }
  return positions.slice();
}

/**
 * Copy of the positions with every sewn wall moved along its outward normal as if stuffed: amplitude x f(d / dmax), f(s) = s (2 - s), where d is
 * the flat distance to the panel's nearest sewn or held edge and dmax the largest on that panel. Seams stay; free edges (the mouth) bulge with their panel.
 * On top a seeded waviness of a tenth of the amplitude: four cosine waves in flat coordinates, the same for every mesh.
 * Base panels and unsewn panels stay; nothing goes below the table or below where it was.
 */
function* moved(mesh: BagMesh, bag: Bag, positions: Float64Array, amplitude: number, seed: number, held?: Uint8Array): Work<Float64Array> {
  const out = positions.slice();
  const facing = panelFacing(mesh, positions);
  const seamFlat = stayingSegments(mesh, held);
  const onBase = new Uint8Array(mesh.vertexCount);
  for (const v of baseVerts(bag, mesh, bag.panels.keys())) onBase[v] = 1;
  for (const [p, panel] of bag.panels.entries()) {
    const segments = seamFlat[p];
    if (panel.role === 'base' || segments.length === 0) continue;
    yield;
    const { verts, flat } = mesh.panelVerts[p];
    const distance = Float64Array.from(verts, (_, i) => distanceTo(segments, flat[2 * i], flat[2 * i + 1]));
    let most = 0;
    for (const d of distance) most = Math.max(most, d);
    if (most === 0) continue;
    const wave = waves(seed * 1009 + p, flat);
    const normals = outwardNormals(mesh, positions, facing, p);
    for (let i = 0; i < verts.length; i++) {
      const v = verts[i];
      const s = distance[i] / most;
      if (s < 1e-9 || onBase[v] || held?.[v] === 1) continue;
      const move = amplitude * s * (2 - s) * (1 + WAVINESS * wave(flat[2 * i], flat[2 * i + 1]));
      for (let d = 0; d < 3; d++) out[3 * v + d] = positions[3 * v + d] + move * normals[3 * v + d];
      out[3 * v + 2] = Math.max(out[3 * v + 2], Math.min(0, positions[3 * v + 2]));
    }
  }
  return out;
}

/** Per panel, its sewn and held outline segments and the edges on which boxed corners turn it, in flat coordinates, 4 numbers each. */
function stayingSegments(mesh: BagMesh, held?: Uint8Array): number[][] {
  const segments: number[][] = mesh.panelNames.map(() => []);
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    const free = mesh.edgeKind[e] === EDGE_FREE,
      stays = free ? held?.[mesh.edgeVerts[2 * e]] === 1 && held[mesh.edgeVerts[2 * e + 1]] === 1 : mesh.edgeKind[e] === EDGE_SEAM || turnsHere(mesh, e);
    if (!stays) continue;
    for (const side of free ? [0] : [0, 1]) {
      const t = mesh.edgeTris[2 * e + side];
      const k = mesh.edgeLocal[2 * e + side];
      const [a, b] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
      segments[mesh.triPanel[t]].push(mesh.triFlat[a], mesh.triFlat[a + 1], mesh.triFlat[b], mesh.triFlat[b + 1]);
    }
  }
  return segments;
}

function distanceTo(segments: readonly number[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < segments.length; k += 4) {
    // As nearestFraction() has it, without a list a point: asked for every point and every segment of a panel's outline.
    const ax = segments[k],
      ay = segments[k + 1],
      ex = segments[k + 2] - ax,
      ey = segments[k + 3] - ay,
      len2 = ex * ex + ey * ey,
      t = len2 > 0 ? Math.min(1, Math.max(0, ((x - ax) * ex + (y - ay) * ey) / len2)) : 0;
    const dx = x - ax - t * ex;
    const dy = y - ay - t * ey;
    const d = dx * dx + dy * dy;
    if (d < least) least = d;
  }
  return Math.sqrt(least);
}

/** Sum of seeded plane waves, one to three across the panel, in -1..1. The panel's size comes from its outline, so the mesh does not matter. */
function waves(seed: number, flat: Float64Array): (x: number, y: number) => number {
  const random = seeded(seed);
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < flat.length; i++) {
    low[i % 2] = Math.min(low[i % 2], flat[i]);
    high[i % 2] = Math.max(high[i % 2], flat[i]);
  }
  const size = Math.max(high[0] - low[0], high[1] - low[1]);
  const list = Array.from({ length: WAVES }, () => {
    const angle = 2 * Math.PI * random();
    const k = (2 * Math.PI * (1 + 2 * random())) / size;
    return [k * libm.cos(angle), k * libm.sin(angle), 2 * Math.PI * random()];
  });
  return (x, y) => list.reduce((sum, [kx, ky, phase]) => sum + libm.cos(kx * x + ky * y + phase), 0) / WAVES;
}
