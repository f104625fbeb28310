/** Panels that a fold joins are cut as one piece. */

import type { Bag, BagOption, Point2 } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import type { Draft } from '../../panels/types.ts';
import type { Stretch } from './types.ts';

/** A turn and a shift: places of a panel's own frame in that of the piece. */
export interface Placed {
  readonly panel: number;
  /** rad, counterclockwise. */ readonly turn: number;
  readonly shift: Point2;
}

/** Sides of a fold this unlike in length, m, are not one piece. */
const SAME = 5e-4;
/** Grains this far apart, rad, are not one piece. */
const ALIGNED = (1 * Math.PI) / 180;

const spun = ([x, y]: Point2, turn: number): Point2 =>
  turn === 0 ? [x, y] : [x * libm.cos(turn) - y * libm.sin(turn), x * libm.sin(turn) + y * libm.cos(turn)];

/** A place of a panel in the frame of its piece. */
export const placedPoint = (at: Placed, p: Point2): Point2 => {
  const [x, y] = spun(p, at.turn);
  return [x + at.shift[0], y + at.shift[1]];
};

/** A fold whose two sides are whole straight edges. */
interface Fold {
  readonly seam: string;
  readonly ends: readonly [{ readonly panel: number; readonly edge: number }, { readonly panel: number; readonly edge: number }];
}

function foldsOf(bag: Bag, draft: Draft, option: BagOption): Fold[] {
  return draft.seams.flatMap((seam, i): Fold[] => {
    const runs = seam.sides.map((s) => s.runs);
    if (bag.seams[i]!.type !== 'fold' || runs.some((r) => r.length !== 1)) return [];
    const [a, b] = [runs[0]![0]!, runs[1]![0]!];
    const whole = [a, b].every((r) => r.from < 1e-9 && r.to > 1 - 1e-9 && draft.panels[r.panel]!.edges[r.edge]!.edge.kind === 'line');
    const cloth = option.stacks[draft.panels[a.panel]!.name] === option.stacks[draft.panels[b.panel]!.name];
    if (!whole || !cloth || a.panel === b.panel || a.forward === b.forward || Math.abs(a.length - b.length) > SAME) return [];
    return [
      {
        seam: seam.name,
        ends: [
          { panel: a.panel, edge: a.edge },
          { panel: b.panel, edge: b.edge },
        ],
      },
    ];
  });
}

/** Panels of one piece, the first in its own frame, and its folds by "panel:edge" on both sides. */
export interface Group {
  readonly placed: readonly Placed[];
  readonly folds: ReadonlyMap<string, string>;
  /** Names of the fold seams inside. */ readonly seams: readonly string[];
}

/**
 * The panels of an option in groups that are cut in one: those that a fold joins along a whole straight edge, in the same stack, with their grains in line.
 * Ring folds and a second fold to the same panel stay seams.
 */
export function joinedPanels(bag: Bag, draft: Draft, option: BagOption): Group[] {
  const folds = foldsOf(bag, draft, option);
  const taken = new Set<number>();
  return draft.panels.flatMap((_, p): Group[] => {
    if (taken.has(p)) return [];
    taken.add(p);
    const placed: Placed[] = [{ panel: p, turn: 0, shift: [0, 0] }];
    const inside = new Map<string, string>();
    const seams: string[] = [];
    for (let i = 0; i < placed.length; i++)
      for (const fold of folds)
        for (const k of [0, 1] as const) {
          const [own, other] = [fold.ends[k], fold.ends[1 - k]!];
          if (own.panel !== placed[i]!.panel || taken.has(other.panel)) continue;
          const next = alongside(bag, draft, placed[i]!, own.edge, other);
          if (!next) continue;
          taken.add(other.panel);
          placed.push(next);
          inside.set(`${own.panel}:${own.edge}`, `${other.panel}:${other.edge}`);
          inside.set(`${other.panel}:${other.edge}`, `${own.panel}:${own.edge}`);
          seams.push(fold.seam);
        }
    return [{ placed, folds: inside, seams }];
  });
}

/** Where the other panel lies when its edge is laid on this one's, running against it; null where the grains disagree. */
function alongside(bag: Bag, draft: Draft, at: Placed, edge: number, other: { panel: number; edge: number }): Placed | null {
  const [e, f] = [draft.panels[at.panel]!.edges[edge]!.edge, draft.panels[other.panel]!.edges[other.edge]!.edge];
  const [from, to] = [placedPoint(at, e.from), placedPoint(at, e.to)];
  const turn = libm.atan2(from[1] - to[1], from[0] - to[0]) - libm.atan2(f.to[1] - f.from[1], f.to[0] - f.from[0]);
  const grains = bag.panels[at.panel]!.grain + at.turn - (bag.panels[other.panel]!.grain + turn);
  if (Math.abs(libm.sin(grains)) > libm.sin(ALIGNED)) return null;
  const start = spun(f.from, turn);
  return { panel: other.panel, turn: Math.abs(libm.sin(turn)) < 1e-12 && libm.cos(turn) > 0 ? 0 : turn, shift: [to[0] - start[0], to[1] - start[1]] };
}

/** A stretch in the frame of its piece. */
const placedStretch = (at: Placed, s: Stretch): Stretch => ({
  ...s,
  points: s.points.map((p) => placedPoint(at, p)),
  tangents: s.tangents.map((t) => spun(t, at.turn)),
});

/**
 * The loops of a group: the outline of the first panel, and at each fold on into the joined panel's outline and back; then all holes.
 * own: loops of stretches of each panel in its own frame.
 */
export function joinedLoops(draft: Draft, group: Group, own: (panel: number) => readonly (readonly Stretch[])[]): Stretch[][] {
  const place = new Map(group.placed.map((at) => [at.panel, at]));
  const loops = new Map(group.placed.map((at) => [at.panel, own(at.panel).map((loop) => loop.map((s) => placedStretch(at, s)))]));
  const edgeOf = (panel: number, s: Stretch): string => `${panel}:${draft.panels[panel]!.edges.findIndex((e) => e.name === s.run.edge)}`;
  const outline: Stretch[] = [];
  const walk = (panel: number, start: number, count: number): void => {
    const loop = loops.get(panel)![0]!;
    for (let i = 0; i < count; i++) {
      const s = loop[(start + i) % loop.length]!;
      const across = group.folds.get(edgeOf(panel, s));
      if (across === undefined) {
        outline.push(s);
        continue;
      }
      const other = Number(across.split(':')[0]);
      const there = loops.get(other)![0]!;
      walk(other, there.findIndex((o) => edgeOf(other, o) === across) + 1, there.length - 1);
    }
  };
  const first = group.placed[0]!.panel;
  walk(first, 0, loops.get(first)![0]!.length);
  return [outline, ...[...place.keys()].flatMap((p) => loops.get(p)!.slice(1))];
}
