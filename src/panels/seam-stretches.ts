import { UnionFind } from '../numerics/index.ts';
import type { Breakpoints } from './breakpoints.ts';
import type { Draft, DraftSeam, SeamSide } from './types.ts';

/** One panel edge between two breakpoints, as a member of a seam stretch. */
export interface StretchMember {
  readonly panel: number;
  readonly edge: number;
  /** It runs from breakpoints[panel][edge][interval] to the next. */ readonly interval: number;
  /** false: the seam stretch runs against the edge's own direction. */ forward: boolean;
}

/** A stretch of seam (or of free edge): all the pieces of panel edges that share its vertices. One member: unsewn. */
interface SeamStretch {
  readonly members: StretchMember[];
}

/** stretchOf[panel][edge][interval] = number of the seam stretch. */
export interface SeamStretches {
  readonly list: readonly SeamStretch[];
  readonly stretchOf: readonly (readonly (readonly number[])[])[];
  /** pairs[seam]: members of side a and of side b that are sewn together, in pairing order. */
  readonly pairs: readonly (readonly (readonly [StretchMember, StretchMember])[])[];
}

/** A ring of seams whose lengths disagree: carried round it, no place comes back to itself. */
export class RingOpen extends Error {
  /** seam: number of the seam whose sides were cut into different numbers of stretches. */
  constructor(
    readonly seam: number,
    message: string,
  ) {
    super(message);
    this.name = 'RingOpen';
  }
}

/**
 * Groups pieces of panel edges that are sewn together, through any number of seams.
 * Throws RingOpen when the two sides of a seam were cut into different numbers of stretches, which spreadBreakpoints rules out short of a
 * ring of seams whose lengths disagree.
 */
export function findSeamStretches(draft: Draft, breakpoints: Breakpoints): SeamStretches {
  const first: number[][] = [];
  const all: StretchMember[] = [];
  draft.panels.forEach((panel, p) => {
    first.push([]);
    panel.edges.forEach((_, e) => {
      first[p].push(all.length);
      for (let i = 0; i + 1 < breakpoints[p][e].length; i++) all.push({ panel: p, edge: e, interval: i, forward: true });
    });
  });
  const together = new UnionFind(all.length);
  const pairs = draft.seams.map((seam, s) =>
    pairUp(seam, s, breakpoints).map(([a, b]): readonly [StretchMember, StretchMember] => {
      together.join(first[a.panel][a.edge] + a.interval, first[b.panel][b.edge] + b.interval, a.forward !== b.forward);
      return [a, b];
    }),
  );
  const list: SeamStretch[] = [];
  const number = new Map<number, number>();
  const stretchOf = draft.panels.map((panel) => panel.edges.map((): number[] => []));
  all.forEach((member, i) => {
    const root = together.find(i);
    let s = number.get(root);
    if (s === undefined) {
      s = list.length;
      number.set(root, s);
      list.push({ members: [] });
    }
    member.forward = !together.turned(i);
    list[s].members.push(member);
    stretchOf[member.panel][member.edge].push(s);
  });
  return { list, stretchOf, pairs };
}

function pairUp(seam: DraftSeam, s: number, breakpoints: Breakpoints): [StretchMember, StretchMember][] {
  const [a, b] = seam.sides.map((side) => stretchesOf(side, breakpoints));
  if (a.length !== b.length)
    throw new RingOpen(s, `seam ${seam.name}: ${a.length} stretches on side a, ${b.length} on side b; the seams round it do not close`);
  return a.map((m, i) => [m, b[i]]);
}

/** The stretches of one side in pairing order. */
function stretchesOf(side: SeamSide, breakpoints: Breakpoints): StretchMember[] {
  const found: StretchMember[] = [];
  for (const run of side.runs) {
    const list = breakpoints[run.panel][run.edge];
    const inside: StretchMember[] = [];
    for (let i = 0; i + 1 < list.length; i++) {
      const mid = (list[i] + list[i + 1]) / 2;
      if (mid > run.from && mid < run.to) inside.push({ panel: run.panel, edge: run.edge, interval: i, forward: run.forward });
    }
    found.push(...(run.forward ? inside : inside.reverse()));
  }
  return found;
}
