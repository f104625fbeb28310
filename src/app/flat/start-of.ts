import {
  type AnchorTrack,
  anchorTracks,
  type Bag,
  type BagMesh,
  memberLines,
  prepareScene,
  type StartPicture,
  sew,
  standingHandle,
  startPicture,
  strapsAt,
  usualHung,
} from '../../index.ts';
import { openingStance } from '../page/opening-stance.ts';

/** Mesh of the small pictures, m: coarse enough that all ten are drawn in a moment. */
const START_EDGE = 0.022;

/** A small picture of a sewn bag, and where on it the anchors of the strap that was asked for can lie. */
export type Drafted = Pick<StartPicture, 'svg' | 'size'> & { readonly tracks: readonly AnchorTrack[] };

/** What stiffens a bag's edges, as lines of a small picture, m: at least so wide that one sees it. */
const membersDrawn = (bag: Bag, mesh: BagMesh, x: ArrayLike<number>): { width: number; line: Float64Array }[] =>
  (bag.members ?? []).flatMap((member) =>
    memberLines(bag, mesh, member).map(({ verts }) => ({
      width: Math.max(member.size ?? 0, 0.006),
      line: Float64Array.from(verts.flatMap((v) => [x[3 * v], x[3 * v + 1], x[3 * v + 2]])),
    })),
  );

/** A bag as it is drafted, with its straps: hanging by them where it has no base, with its handles up where it stands. */
export function startOf(asked: Bag, strap?: string): Drafted {
  const hangs = asked.stances.some((s) => s.kind === 'hung');
  // One that is to be hung is drawn with its straps, whether or not its file says that it hangs.
  const bag =
    strap === undefined || hangs
      ? asked
      : {
          ...asked,
          stances: [
            ...asked.stances,
            usualHung(
              'hung',
              'hook',
              asked.straps.map((s) => s.name),
            ),
          ],
        };
  const on = bag.stances.find((s) => s.kind === 'hung');
  const small = ({ svg, size, posed, frame }: StartPicture, mesh: BagMesh): Drafted => ({
    svg,
    size,
    tracks: strap === undefined ? [] : anchorTracks(bag, strap, mesh, posed, frame),
  });
  if (!on || bag.straps.length === 0) {
    const { mesh, drafted } = sew(bag, START_EDGE);
    return small(startPicture(mesh, drafted, 168, 132, membersDrawn(bag, mesh, drafted)), mesh);
  }
  const scene = prepareScene(bag, { option: bag.options[0].name, band: 'mid', stance: on.name, edgeLength: START_EDGE });
  const { mesh, drafted } = scene;
  const hung = openingStance(bag) === on.name;
  const straps = strapsAt(scene, scene.start).flatMap(({ name, width, line }) => {
    const own = bag.straps.find((s) => s.name === name);
    if (!own || line.length < 6) return [];
    const lying = hung ? Float64Array.from(line) : standingHandle(Array.from(line).slice(0, 3), Array.from(line).slice(-3), own.length);
    return [{ width, line: lying }];
  });
  return small(startPicture(mesh, drafted, 168, 132, [...straps, ...membersDrawn(bag, mesh, drafted)], hung), mesh);
}
