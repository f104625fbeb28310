import { lists } from '../lists.ts';
import { type BlockPattern, blockAt } from '../sparse/index.ts';
import type { Model } from '../types.ts';
import { addAngleHessians } from './angle-hessians.ts';
import { put } from './block.ts';
import { type CableState, eachCablePair } from './cables.ts';
import type { Elastic } from './elastic.ts';
import { addRods, eachRodPair, placeRods, type RodState } from './rods.ts';
import type { Sheet } from './sheet.ts';

/**
 * The sheet's 3n x 3n stiffness but for what its turning edges resist: constant-strain triangles, their stress, and the moments times the angles' Hessians.
 * The exact action (action.ts) starts from its product, the preconditioner (matrix.ts) from a copy.
 */
export interface Shell {
  readonly pattern: BlockPattern;
  readonly values: Float64Array;
  /** n: block number of each vertex's diagonal */ readonly diagonal: Int32Array;
  /** 6m blocks of each triangle: corners 00 11 22 10 20 21; ~p = transposed */ readonly triBlocks: Int32Array;
  /** 10H blocks of each hinge: 00 11 22 33 10 20 30 21 31 32 */ readonly hingeBlocks: Int32Array;
  /** 6C blocks of each clamped edge: e0 e1 and the corner opposite, as of a triangle */ readonly clampBlocks: Int32Array;
  /** Block of every vertex pair of every cable, in the order of eachCablePair. */ readonly cableBlocks: Int32Array;
}

export const TRI_PAIRS = [0, 0, 1, 1, 2, 2, 1, 0, 2, 0, 2, 1];
export const HINGE_PAIRS = [0, 0, 1, 1, 2, 2, 3, 3, 1, 0, 2, 0, 3, 0, 2, 1, 3, 1, 3, 2];

/** Pattern and block maps of a model. */
export function createShell(model: Model, sheet: Sheet, cables: CableState | null, rods: RodState | null = null): Shell {
  const n = sheet.n;
  const { hingeVerts } = model,
    { triVerts } = sheet;
  const { rowPtr, colIdx, diagonal } = lowerPattern(n, (link) => {
    for (let i = 0; i < n; i++) link(i, i);
    for (let q = 0; q < triVerts.length; q += 3) {
      link(triVerts[q]!, triVerts[q + 1]!);
      link(triVerts[q + 1]!, triVerts[q + 2]!);
      link(triVerts[q]!, triVerts[q + 2]!);
    }
    for (let q = 0; q < hingeVerts.length; q += 4) link(hingeVerts[q + 2]!, hingeVerts[q + 3]!);
    if (cables) eachCablePair(cables, link);
    if (rods) eachRodPair(rods, link);
  });
  const pattern: BlockPattern = { blockCount: n, blockSize: 3, rowPtr, colIdx };
  const block = (a: number, b: number): number => (a >= b ? blockAt(pattern, a, b) : ~blockAt(pattern, b, a));
  const triBlocks = new Int32Array(6 * sheet.m),
    hingeBlocks = new Int32Array(10 * sheet.hinges),
    clampBlocks = new Int32Array(6 * sheet.clamps);
  for (let t = 0; t < sheet.m; t++)
    for (let p = 0; p < 6; p++) triBlocks[6 * t + p] = block(triVerts[3 * t + TRI_PAIRS[2 * p]!]!, triVerts[3 * t + TRI_PAIRS[2 * p + 1]!]!);
  for (let h = 0; h < sheet.hinges; h++)
    for (let p = 0; p < 10; p++) hingeBlocks[10 * h + p] = block(hingeVerts[4 * h + HINGE_PAIRS[2 * p]!]!, hingeVerts[4 * h + HINGE_PAIRS[2 * p + 1]!]!);
  for (let c = 0; c < sheet.clamps; c++)
    for (let p = 0; p < 6; p++) clampBlocks[6 * c + p] = block(model.clampVerts[3 * c + TRI_PAIRS[2 * p]!]!, model.clampVerts[3 * c + TRI_PAIRS[2 * p + 1]!]!);
  const cableBlocks: number[] = [];
  if (cables) eachCablePair(cables, (a, b) => cableBlocks.push(block(a, b)));
  if (rods) placeRods(rods, block);
  return {
    pattern,
    values: new Float64Array(9 * colIdx.length),
    diagonal,
    triBlocks,
    hingeBlocks,
    clampBlocks,
    cableBlocks: Int32Array.from(cableBlocks),
  };
}

/** The lower triangle of a symmetric matrix of n rows whose places `each` names, either way round and as often as it likes; diagonal: where each row ends. */
export function lowerPattern(
  n: number,
  each: (link: (a: number, b: number) => void) => void,
): { rowPtr: Int32Array; colIdx: Int32Array; diagonal: Int32Array } {
  const { start, items: all } = lists(n, (add) => each((a, b) => add(Math.max(a, b), Math.min(a, b))));
  const rowPtr = new Int32Array(n + 1),
    diagonal = new Int32Array(n);
  let p = 0;
  for (let i = 0; i < n; i++) {
    const row = all.subarray(start[i]!, start[i + 1]!).sort();
    for (let k = 0; k < row.length; k++) if (k === 0 || row[k] !== row[k - 1]) all[p++] = row[k]!;
    rowPtr[i + 1] = p;
    diagonal[i] = p - 1;
  }
  return { rowPtr, colIdx: all.slice(0, p), diagonal };
}

/** Fills the matrix for the linearisation of `el`. Mutates el.shell.values. */
export function assembleShell(el: Elastic): void {
  el.shell.values.fill(0);
  addTriangles(el);
  addAngleHessians(el);
  if (el.rods) addRods(el.rods, el.shell.values);
}

/** A (B_a^T C B_b + (b_a . S b_b) I) for the six corner pairs of each triangle. */
function addTriangles(el: Elastic): void {
  const { sheet, F, geoStress, tangent } = el,
    { shape, area } = sheet,
    { values, triBlocks } = el.shell;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      s = 6 * t,
      A = area[t]!,
      c11 = tangent[s]!,
      c22 = tangent[s + 1]!,
      c12 = tangent[s + 2]!,
      c66 = tangent[s + 3]!,
      c16 = tangent[s + 4]!,
      c26 = tangent[s + 5]!;
    const ux = F[s]!,
      uy = F[s + 1]!,
      uz = F[s + 2]!,
      vx = F[s + 3]!,
      vy = F[s + 4]!,
      vz = F[s + 5]!;
    const s0 = A * geoStress[q]!,
      s1 = A * geoStress[q + 1]!,
      s2 = A * geoStress[q + 2]!;
    for (let p = 0; p < 6; p++) {
      const a = s + 2 * TRI_PAIRS[2 * p]!,
        b = s + 2 * TRI_PAIRS[2 * p + 1]!;
      const a0 = shape[a]!,
        a1 = shape[a + 1]!,
        b0 = shape[b]!,
        b1 = shape[b + 1]!;
      // K_ab = uu^T (..) + uv^T (..) + vu^T (..) + vv^T (..)
      const cross = a0 * b1 + a1 * b0,
        both = c16 * a0 * b0 + c26 * a1 * b1,
        uu = c11 * a0 * b0 + c66 * a1 * b1 + c16 * cross,
        vv = c22 * a1 * b1 + c66 * a0 * b0 + c26 * cross,
        uv = c12 * a0 * b1 + c66 * a1 * b0 + both,
        vu = c12 * a1 * b0 + c66 * a0 * b1 + both;
      const g = s0 * a0 * b0 + s1 * a1 * b1 + s2 * cross;
      const px = uu * ux + uv * vx,
        py = uu * uy + uv * vy,
        pz = uu * uz + uv * vz;
      const rx = vu * ux + vv * vx,
        ry = vu * uy + vv * vy,
        rz = vu * uz + vv * vz;
      put(
        values,
        triBlocks[6 * t + p]!,
        ux * px + vx * rx + g,
        ux * py + vx * ry,
        ux * pz + vx * rz,
        uy * px + vy * rx,
        uy * py + vy * ry + g,
        uy * pz + vy * rz,
        uz * px + vz * rx,
        uz * py + vz * ry,
        uz * pz + vz * rz + g,
      );
    }
  }
}
