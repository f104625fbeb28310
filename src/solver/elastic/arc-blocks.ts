import { analysing, type BlockPattern, blockAt, type Factor, type Symbolic } from '../sparse/index.ts';
import type { Work } from '../work.ts';
import { arcReach } from './arc-stencil.ts';
import type { Elastic } from './elastic.ts';
import { lowerPattern } from './shell.ts';

/**
 * The preconditioner's matrix with what arcs add to it, in a pattern of its own: a triangle's strain follows its corners and the angles on all sides of its own and of its neighbours,
 * (B + sum_k M_k phi'_k W_k J) dx, W the rows of arc-stencil.ts. Without it CG takes as many iterations as edges bend together (tens to hundreds where a hung wall buckles),
 * with it a handful; a factorisation takes three times the operations. Filled by arc-values.ts.
 */
export interface ArcBlocks {
  readonly pattern: BlockPattern;
  readonly symbolic: Symbolic;
  /** Where each block of the sheet's own pattern lies. */ readonly place: Int32Array;
  readonly values: Float64Array;
  factor: Factor | undefined;
  readonly reach: ArcReach;
  /** Lower triangle of the blocks of each triangle's vertices, row by row, one triangle after another; ~p = transposed. */ readonly blocks: Int32Array;
  /** m + 1 */ readonly blockStart: Int32Array;
}

/** What each triangle's strain follows, from the rest shape alone. */
export interface ArcReach {
  /** The vertices of triangle t stand at vertStart[t] .. of `verts`, its own corners first. */ readonly vertStart: Int32Array;
  readonly verts: Int32Array;
  /** The turns of its side k's arc, from termStart[3t + k]: angle, weight, and which of its vertices the angle's four are. */ readonly termStart: Int32Array;
  readonly termAngle: Int32Array;
  readonly termWeight: Float64Array;
  readonly termSlots: Uint8Array;
  /** 3m: 1 on the first of the sides that share an edge. */ readonly first: Uint8Array;
  /** Most vertices of a triangle. */ readonly most: number;
}

/** In steps: pattern, analysis and room for the numbers. */
export function* creatingArcBlocks(el: Elastic): Work<ArcBlocks> {
  const { n, m } = el.sheet,
    own = el.shell.pattern,
    reach = yield* arcReach(el),
    { vertStart, verts } = reach;
  const { rowPtr, colIdx } = lowerPattern(n, (link) => {
    for (let i = 0; i < n; i++) for (let p = own.rowPtr[i]!; p < own.rowPtr[i + 1]!; p++) link(i, own.colIdx[p]!);
    for (let t = 0; t < m; t++) for (let i = vertStart[t]!; i < vertStart[t + 1]!; i++) for (let j = vertStart[t]!; j < i; j++) link(verts[i]!, verts[j]!);
  });
  yield;
  const pattern: BlockPattern = { blockCount: n, blockSize: 3, rowPtr, colIdx };
  const blockStart = new Int32Array(m + 1);
  for (let t = 0; t < m; t++) {
    const k = vertStart[t + 1]! - vertStart[t]!;
    blockStart[t + 1] = blockStart[t]! + (k * (k + 1)) / 2;
  }
  const blocks = new Int32Array(blockStart[m]!);
  for (let t = 0, b = 0; t < m; t++) {
    if (t % SLICE === 0) yield;
    for (let i = vertStart[t]!; i < vertStart[t + 1]!; i++)
      for (let j = vertStart[t]!; j <= i; j++) {
        const u = verts[i]!,
          v = verts[j]!;
        blocks[b++] = u >= v ? blockAt(pattern, u, v) : ~blockAt(pattern, v, u);
      }
  }
  const place = new Int32Array(own.colIdx.length);
  for (let i = 0; i < n; i++) for (let p = own.rowPtr[i]!; p < own.rowPtr[i + 1]!; p++) place[p] = blockAt(pattern, i, own.colIdx[p]!);
  yield;
  return { pattern, symbolic: yield* analysing(pattern), place, values: new Float64Array(9 * colIdx.length), factor: undefined, reach, blocks, blockStart };
}

/** Triangles gone through before others may look in. */
const SLICE = 3000;
