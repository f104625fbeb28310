import { UnionFind } from '../numerics/index.ts';
import type { Breaks } from './breaks.ts';
import type { Draft, DraftSeam, SeamSide } from './types.ts';

/** One stretch between two breaks of one edge, as a member of a strand. */
export interface StrandMember {
  readonly panel: number;
  readonly edge: number;
  /** The stretch runs from breaks[panel][edge][interval] to the next. */ readonly interval: number;
  /** false: the strand runs against the edge's own direction. */ forward: boolean;
}

/** A stretch of seam (or of free edge): all the panel stretches that share its vertices. One member: unsewn. */
interface Strand {
  readonly members: StrandMember[];
}

/** strandOf[panel][edge][interval] = strand number. Seam pairs: for each seam, its strands in pairing order. */
export interface Strands {
  readonly strands: readonly Strand[];
  readonly strandOf: readonly (readonly (readonly number[])[])[];
  /** pairs[seam]: members of side a and of side b that are sewn together, in pairing order. */
  readonly pairs: readonly (readonly (readonly [StrandMember, StrandMember])[])[];
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
 * Groups stretches that are sewn together, through any number of seams.
 * Throws RingOpen when the two sides of a seam were cut into different numbers of stretches, which spreadBreaks rules out short of a
 * ring of seams whose lengths disagree.
 */
export function findStrands(draft: Draft, breaks: Breaks): Strands {
  const first: number[][] = [];
  const all: StrandMember[] = [];
  draft.panels.forEach((panel, p) => {
    first.push([]);
    panel.edges.forEach((_, e) => {
      first[p].push(all.length);
      for (let i = 0; i + 1 < breaks[p][e].length; i++) all.push({ panel: p, edge: e, interval: i, forward: true });
    });
  });
  const together = new UnionFind(all.length);
  const pairs = draft.seams.map((seam, s) =>
    pairUp(seam, s, breaks).map(([a, b]): readonly [StrandMember, StrandMember] => {
      together.join(first[a.panel][a.edge] + a.interval, first[b.panel][b.edge] + b.interval, a.forward !== b.forward);
      return [a, b];
    }),
  );
  const strands: Strand[] = [];
  const number = new Map<number, number>();
  const strandOf = draft.panels.map((panel) => panel.edges.map((): number[] => []));
  all.forEach((member, i) => {
    const root = together.find(i);
    let s = number.get(root);
    if (s === undefined) {
      s = strands.length;
      number.set(root, s);
      strands.push({ members: [] });
    }
    member.forward = !together.turned(i);
    strands[s].members.push(member);
    strandOf[member.panel][member.edge].push(s);
  });
  return { strands, strandOf, pairs };
}

function pairUp(seam: DraftSeam, s: number, breaks: Breaks): [StrandMember, StrandMember][] {
  const [a, b] = seam.sides.map((side) => stretchesOf(side, breaks));
  if (a.length !== b.length)
    throw new RingOpen(s, `seam ${seam.name}: ${a.length} stretches on side a, ${b.length} on side b; the seams round it do not close`);
  return a.map((m, i) => [m, b[i]]);
}

/** The stretches of one side in pairing order. */
function stretchesOf(side: SeamSide, breaks: Breaks): StrandMember[] {
  const found: StrandMember[] = [];
  for (const run of side.runs) {
    const list = breaks[run.panel][run.edge];
    const inside: StrandMember[] = [];
    for (let i = 0; i + 1 < list.length; i++) {
      const mid = (list[i] + list[i + 1]) / 2;
      if (mid > run.from && mid < run.to) inside.push({ panel: run.panel, edge: run.edge, interval: i, forward: run.forward });
    }
    found.push(...(run.forward ? inside : inside.reverse()));
  }
  return found;
}
