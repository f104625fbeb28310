/** Where on a picture the anchors of a strap can lie: what a pointer drags them along. */
import { anchorPlace, anchorRange, strapFamily, withAnchorsAt } from '../../bag/index.ts';
import type { Bag, Point2 } from '../../bag/types.ts';
import { locate } from '../../mesh/index.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { type Frame, project } from './camera.ts';

/** One end of a strap on a picture: its distance from the side that it is measured from, m, and where on the picture that and every other distance lies, px. */
export interface AnchorTrack {
  readonly strap: string;
  readonly panel: string;
  readonly side: 'left' | 'right';
  /** Of the bag that is drawn, m. */ readonly distance: number;
  /** Distance, m, x and y, px; in the order of the distances, at least two. */ readonly line: readonly (readonly [number, number, number])[];
}

/** Places along a track. Between them it is straight: on a wall 400 mm wide that is a chord of 8 mm. */
const PLACES = 24;

/**
 * The ends of a strap (its copies follow, and are not among them) with the places on a picture that they can be moved to, as far as the patches lie on their
 * panels. x: posed positions, 3 per mesh point, of the bag as it is drawn. An end whose panel is not in the mesh is left out.
 */
export function anchorTracks(bag: Bag, name: string, mesh: BagMesh, x: Float64Array, frame: Frame): readonly AnchorTrack[] {
  const strap = strapFamily(bag, name)[0];
  if (!strap) return [];
  const { from, to } = anchorRange(bag, strap);
  if (!(from < to)) return [];
  const drawn = ([0, 1] as const).map((end) => anchorPlace(bag, strap, end));
  const distances = Array.from({ length: PLACES }, (_, i) => (from * (PLACES - 1 - i) + to * i) / (PLACES - 1));
  const moved = distances.map((d) => {
    const there = withAnchorsAt(bag, name, d).bag;
    return there && strapFamily(there, name)[0]!;
  });
  return ([0, 1] as const).flatMap((end) => {
    const { panel } = strap.anchors[end];
    const number = mesh.panelNames.indexOf(panel);
    const line = moved.flatMap((there, i) => {
      const at = there && number >= 0 ? placeOf(mesh, x, number, there.anchors[end].at) : null;
      return at ? [[distances[i]!, ...project(frame, ...at)] as const] : [];
    });
    return line.length < 2 ? [] : [{ strap: strap.name, panel, side: drawn[end]!.side, distance: drawn[end]!.fromSide, line }];
  });
}

/** Slack of the corner weights: a patch at the very edge of a panel lies on it. */
const ON = 0.02;

/** Where a place of a flat panel lies in space; null where no triangle holds it. */
function placeOf(mesh: BagMesh, x: Float64Array, panel: number, at: Point2): [number, number, number] | null {
  const { tri, weights, inside } = locate(mesh, panel, at);
  if (inside < -ON) return null;
  return [0, 1, 2].map((d) => weights.reduce((sum, w, k) => sum + w * x[3 * mesh.triVerts[3 * tri + k]! + d]!, 0)) as [number, number, number];
}
