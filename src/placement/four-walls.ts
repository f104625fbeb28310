import type { Bag } from '../bag/types.ts';
import type { Draft, DraftPanel, SideRun } from '../panels/types.ts';
import { standOn } from './box.ts';
import type { Frame, Vec } from './flat.ts';
import { joinsOf } from './graph.ts';

/** Widths and corners that agree this well, as a share or in rad, make an exact box. */
const SAME = 1e-6;

/**
 * Four upright walls sewn into a ring, without a base: a box open below, exact (rigid panels) where opposite walls are of one width and every wall has
 * straight sides square to its foot, each sewn whole to the next. The front stands at -y, faces look out.
 * Returns frames per panel, or null when the group is not of this kind; nothing is written.
 */
export function fourWallFrames(bag: Bag, draft: Draft, group: readonly number[]): Map<number, Frame> | null {
  if (group.length !== 4 || group.some((p) => bag.panels[p].role === 'base')) return null;
  const joins = joinsOf(draft);
  const ring: { panel: number; foot: number }[] = [];
  let panel = group.find((p) => bag.panels[p].role === 'front') ?? group[0];
  let foot = lowestEdge(draft.panels[panel]);
  for (let k = 0; k < 4; k++) {
    const { edges, cornerAngle } = draft.panels[panel];
    const right = edges[foot].next;
    if (ring.some((w) => w.panel === panel) || !group.includes(panel)) return null;
    const sides = [foot, right, edges[foot].previous];
    if (sides.some((e) => edges[e].edge.kind !== 'line' || !edges[e].clothOnLeft)) return null;
    if (![foot, right].every((e) => Math.abs(cornerAngle[e] - Math.PI / 2) < SAME)) return null;
    ring.push({ panel, foot });
    const met = joins[panel].filter((j) => j.own.edge === right);
    if (met.length !== 1 || !whole(met[0].own) || !whole(met[0].other)) return null;
    panel = met[0].other.panel;
    foot = draft.panels[panel].edges[met[0].other.edge].next;
  }
  if (panel !== ring[0].panel || foot !== ring[0].foot) return null;
  const width = ring.map((w) => draft.panels[w.panel].edges[w.foot].length);
  const [x, y] = [width[0] / 2, width[1] / 2];
  if (Math.abs(width[2] / width[0] - 1) > SAME || Math.abs(width[3] / width[1] - 1) > SAME) return null;
  const corners: readonly Vec[] = [[-x, -y, 0], [x, -y, 0], [x, y, 0], [-x, y, 0]]; // biome-ignore format: one shape, one line
  return new Map(ring.map((w, k) => [w.panel, standOn(draft.panels[w.panel], w.foot, corners[k], corners[(k + 1) % 4])]));
}

const whole = (run: SideRun): boolean => run.to - run.from > 1 - 1e-9;

/** The outline edge whose middle lies lowest on the drawn panel. */
function lowestEdge({ edges, loops }: DraftPanel): number {
  const height = (e: number): number => edges[e].curve.at(0.5)[1];
  return loops[0].reduce((low, e) => (height(e) < height(low) ? e : low));
}
