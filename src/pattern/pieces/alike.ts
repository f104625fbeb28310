/** Pieces that are one shape: cut once more, or once more as the mirror image. */

import type { Point2 } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { boxOf } from './plane.ts';
import type { Piece } from './types.ts';

/** Places of two pieces this near are the same, m. */
const SAME = 2e-5;

type Loops = readonly (readonly Point2[])[];

/** Do two sets of loops lie on each other, once both are moved to their box's corner? mirrored: the second is turned over about the upright. */
function lieOn(a: Loops, b: Loops, mirrored: boolean): boolean {
  if (a.length !== b.length) return false;
  const [p, q] = [boxOf(a), boxOf(b)];
  const near = (u: Point2, [x, y]: Point2): boolean =>
    Math.abs(u[0] - p[0] - (mirrored ? q[2] - x : x - q[0])) < SAME && Math.abs(u[1] - p[1] - (y - q[1])) < SAME;
  // Every corner of the one is on the other's outline: corners are few once straight runs are joined, and curves are sampled alike.
  return a.every((loop) => b.some((other) => loop.length === other.length && loop.every((u) => other.some((v) => near(u, v)))));
}

const upright = (warp: number): number => Math.abs(libm.sin(2 * warp));

function alike(a: Piece, b: Piece, mirrored: boolean): boolean {
  if (a.kind !== b.kind || a.material !== b.material || a.thickness !== b.thickness || a.lines.length !== b.lines.length) return false;
  // A warp that leans is not its own mirror image.
  if (Math.abs(libm.sin(a.warp - (mirrored ? Math.PI - b.warp : b.warp))) > 1e-6 && upright(a.warp) > 1e-6) return false;
  if (Math.abs(libm.sin(a.warp - b.warp)) > 1e-6 && !mirrored) return false;
  if (!lieOn(a.cut, b.cut, mirrored)) return false;
  const [p, q] = [boxOf(a.cut), boxOf(b.cut)];
  const inBox = (box: readonly number[], turned: boolean, points: readonly Point2[]): Point2[] =>
    points.map(([x, y]) => [turned ? box[2]! - x : x - box[0]!, y - box[1]!]);
  // The same lines, whichever way each is drawn.
  return a.lines.every((line) =>
    b.lines.some(
      (other) =>
        line.ink === other.ink &&
        line.points.length === other.points.length &&
        inBox(p, false, line.points).every((u) => inBox(q, mirrored, other.points).some((v) => libm.hypot(u[0] - v[0], u[1] - v[1]) < 2 * SAME)),
    ),
  );
}

/** The pieces with those of one shape and one material counted together, in order of their first. */
export function countedTogether(pieces: readonly Piece[]): Piece[] {
  const out: { piece: Piece; names: string[]; notes: readonly string[]; count: number; mirrored: number; panels: string[] }[] = [];
  for (const piece of pieces) {
    const known = out.find((o) => alike(o.piece, piece, false)) ?? out.find((o) => alike(o.piece, piece, true));
    if (!known) {
      out.push({ piece, names: [piece.name], notes: piece.notes, count: piece.count, mirrored: piece.mirrored, panels: [...piece.panels] });
      continue;
    }
    known.count += piece.count;
    if (!alike(known.piece, piece, false)) known.mirrored += piece.count;
    if (!known.names.includes(piece.name)) known.names.push(piece.name);
    known.panels.push(...piece.panels);
  }
  return out.map(({ piece, names, count, mirrored, panels }) => ({ ...piece, name: names.join(', '), count, mirrored, panels }));
}
