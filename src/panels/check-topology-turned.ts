import type { Bag, EdgePlace, EdgeRun, Seam } from '../bag/types.ts';
import { checkBases, checkCorners } from './check-panels.ts';
import { listed } from './check-topology-pieces.ts';
import { advised, type Finding, type FindingList, millimetres } from './findings.ts';
import { RingOpen } from './seam-stretches.ts';
import { CUTTING_FRACTION, CUTTING_TOLERANCE, resolveSeams } from './seams.ts';
import { type Surface, shapeOf, surfaceOf } from './surface.ts';
import type { Draft, SeamSide, SideRun } from './types.ts';

/** Exchanges tried in search of slips: all of a bag of ten seams; fewer of a bag of more than sixteen, each of which takes longer. */
const MOST_TRIED = 150;
const MOST_RESOLVED = 2500;
/** Seams of a bag, and edges of a panel, that are thought of as written for one another. */
const MOST_PAIRED = 40;

/** Two things written in each other's place: the seams as they then would be, and how the slip is told. */
interface Exchange {
  readonly seams: () => readonly Seam[];
  readonly tell: () => Finding;
}

/** The bag after an exchange. */
interface Attempt {
  readonly bag: Bag;
  readonly draft: Draft;
  readonly handles: number;
  /** Corners that do not lie flat or a base that lies mirrored. */ readonly complaints: number;
  readonly tell: () => Finding;
}

/**
 * Panels sewn in turned round (a side whose left edge is sewn where its right edge belongs) and seams crossed with one another. The walls then close into a
 * ring with a hole through it instead of a bag, and they do not once two edges have changed places. A fault where such an exchange is found; otherwise a
 * warning, for a bag may be meant to be a ring.
 */
export function checkTurned(bag: Bag, draft: Draft, findings: FindingList): void {
  const shape = shapeOf(draft, surfaceOf(bag, draft));
  if (shape === null) return;
  let { handles } = shape;
  let now = { bag, draft };
  let budget = Math.min(MOST_TRIED, Math.ceil(MOST_RESOLVED / bag.seams.length));
  let told = false;
  // Each exchange that is found makes the next slip plain: two sides may be turned round at once.
  while (handles >= 1) {
    let best: Attempt | null = null;
    for (const exchange of exchanges(now.bag, now.draft).slice(0, budget)) {
      budget--;
      const attempt = tried(now.bag, now.draft, exchange, shape.pieces);
      if (attempt === null || attempt.handles >= handles) continue;
      if (!best || attempt.handles < best.handles || (attempt.handles === best.handles && attempt.complaints < best.complaints)) best = attempt;
      if (best.handles === 0 && best.complaints === 0) break;
    }
    if (!best) break;
    findings.fault(best.tell());
    told = true;
    ({ handles } = best);
    now = best;
  }
  if (told || handles < 1) return;
  const [run] = draft.seams[0].sides[0].runs;
  findings.warning({
    kind: 'ring',
    panel: draft.panels[run.panel].name,
    edge: null,
    seam: null,
    value: handles,
    figure: `${handles} ${handles === 1 ? 'hole' : 'holes'}`,
    text: `The seams close the body into a ring with ${handles === 1 ? 'a hole' : `${handles} holes`} through it, as a bag with a tunnel has: if that is not meant, an edge is sewn to the wrong one.`,
  });
}

const alike = (a: number, b: number): boolean => Math.abs(a - b) <= Math.max(CUTTING_TOLERANCE, CUTTING_FRACTION * Math.max(a, b));

/** All exchanges of a bag, those at the most crowded corners first: where a panel lies turned round, its corners meet more than their own neighbours. */
function exchanges(bag: Bag, draft: Draft): Exchange[] {
  const surface = surfaceOf(bag, draft);
  const sheets = new Map<number, number>();
  const corners = (p: number, e: number): number[] => [surface.corner(p, e, 0), surface.corner(p, e, 1)];
  draft.panels.forEach((panel, p) => {
    if (surface.body[p]) for (const e of panel.edges.keys()) for (const c of corners(p, e)) sheets.set(c, (sheets.get(c) ?? 0) + 1);
  });
  const crowd = (p: number, e: number): number => Math.max(...corners(p, e).map((c) => sheets.get(c) ?? 0));
  const panels = turnedPanels(bag, draft, surface, crowd).sort((a, b) => b.crowd - a.crowd || a.order - b.order);
  const seams = crossedSeams(bag, draft, crowd).sort((a, b) => b.crowd - a.crowd || a.order - b.order);
  // A share for each, so that a bag of many panels leaves room for its seams.
  return [...panels.slice(0, MOST_TRIED / 3), ...seams, ...panels.slice(MOST_TRIED / 3)];
}

interface Ranked extends Exchange {
  /** Sheets at its most crowded corner. */ readonly crowd: number;
  readonly order: number;
}
type Crowd = (panel: number, edge: number) => number;

/** Pairs of sewn edges of one length on panels of the body, opposite ones and sides first. */
function turnedPanels(bag: Bag, draft: Draft, { body, seamStretches }: Surface, crowd: Crowd): Ranked[] {
  const found: Ranked[] = [];
  draft.panels.forEach((panel, p) => {
    if (!body[p]) return;
    const sewn = panel.loops[0].filter((e) => seamStretches.stretchOf[p][e].every((s) => seamStretches.list[s].members.length > 1)).slice(0, MOST_PAIRED);
    const role = ['side', 'gusset', 'body', 'base', 'back', 'front'].indexOf(bag.panels[p].role);
    sewn.forEach((e, i) => {
      for (const f of sewn.slice(i + 1)) {
        const [a, b] = [panel.edges[e], panel.edges[f]];
        if (!alike(a.length, b.length)) continue;
        const changed = <T extends EdgePlace | EdgeRun>(place: T): T =>
          place.panel !== panel.name || (place.edge !== a.name && place.edge !== b.name) ? place : { ...place, edge: place.edge === a.name ? b.name : a.name };
        const seams = (): Seam[] =>
          bag.seams.map(({ bunches, ...seam }) => ({
            ...seam,
            sides: [seam.sides[0].map(changed), seam.sides[1].map(changed)],
            ...(bunches && { bunches: bunches.map((q) => ({ ...q, from: changed(q.from), to: changed(q.to) })) }),
          }));
        const beside = a.next === f || b.next === e;
        found.push({ crowd: Math.max(crowd(p, e), crowd(p, f)), order: (beside ? 10 : 0) + role, seams, tell: () => turned(draft, p, [e, f]) });
      }
    });
  });
  return found;
}

function turned(draft: Draft, p: number, edges: readonly [number, number]): Finding {
  const panel = draft.panels[p];
  const names = edges.map((e) => panel.edges[e].name);
  const [first, second] = edges.map((e) => partOf(draft, p, e));
  const length = panel.edges[edges[0]].length;
  const against = (name: string, part: Part): string => `${panel.name}.${name} to ${part.to} (seam ${part.seam})`;
  return advised(
    { kind: 'turned round', panel: panel.name, edge: names[0], seam: first.seam, value: length, figure: millimetres(length) },
    `Seam ${first.seam} sews the ${panel.name} panel inside out: with ${against(names[0], first)} and ${against(names[1], second)} its face comes to lie inside, or its upper corners at the lower ones of its neighbours.`,
    `it turned round: ${against(names[1], first)} and ${against(names[0], second)}`,
  );
}

interface Part {
  readonly seam: string;
  /** The edges that lie against it. */ readonly to: string;
}

/** "front.left", "front.left[0 %..20 %]", "front.left, bottom and right", "front.left ... right" of more than three. */
function sideName(draft: Draft, runs: readonly SideRun[]): string {
  const percentage = (t: number): string => `${Number((100 * t).toFixed(1))} %`;
  const names = runs.map((r, i) => {
    const { name, edges } = draft.panels[r.panel];
    const part = r.from > 1e-6 || r.to < 1 - 1e-6 ? `[${percentage(r.from)}..${percentage(r.to)}]` : '';
    return `${i > 0 && runs[i - 1].panel === r.panel ? '' : `${name}.`}${edges[r.edge].name}${part}`;
  });
  return names.length > 3 && runs.every((r) => r.panel === runs[0].panel) ? `${names[0]} ... ${names[names.length - 1]}` : listed(names);
}

/** The first seam of a sewn edge, and what lies against it there. */
function partOf(draft: Draft, panel: number, edge: number): Part {
  const parts = draft.seams.flatMap((seam) =>
    ([0, 1] as const).flatMap((side): Part[] => {
      const run = seam.sides[side].runs.find((r) => r.panel === panel && r.edge === edge);
      if (!run) return [];
      const other = seam.sides[1 - side];
      return [
        {
          seam: seam.name,
          to: sideName(
            draft,
            other.runs.filter((r) => Math.min(r.u1, run.u1) - Math.max(r.u0, run.u0) > 1e-6),
          ),
        },
      ];
    }),
  );
  return parts[0];
}

/** Pairs of seams whose four sides would match in the two other ways as well. */
function crossedSeams(bag: Bag, draft: Draft, crowd: Crowd): Ranked[] {
  const found: Ranked[] = [];
  const crowds = draft.seams.map((seam) => Math.max(...seam.sides.flatMap((side) => side.runs.map((r) => crowd(r.panel, r.edge)))));
  const crowded = bag.seams.map((_, i) => i).sort((a, b) => crowds[b] - crowds[a] || a - b);
  crowded.slice(0, MOST_PAIRED).forEach((first, at, list) => {
    for (const second of list.slice(at + 1)) {
      const [i, j] = first < second ? [first, second] : [second, first];
      const [s, t] = [bag.seams[i], bag.seams[j]];
      if (s.bunches || t.bunches) continue;
      for (const k of [0, 1] as const) {
        // Side k of the first seam goes to side b of the second; the sides left over go together.
        const [a, b] = [draft.seams[i].sides[1], draft.seams[j].sides[k]];
        const [c, d] = [draft.seams[i].sides[0], draft.seams[j].sides[1 - k]];
        if (!alike(c.length, b.length) || !alike(a.length, d.length)) continue;
        const seams = (): Seam[] =>
          bag.seams.map((seam, q) => {
            if (q === i) return { ...seam, sides: [s.sides[0], t.sides[k]] };
            return q === j ? { ...seam, sides: [s.sides[1], t.sides[1 - k]] } : seam;
          });
        found.push({ crowd: crowds[i] + crowds[j], order: i + j, seams, tell: () => crossed(draft, i, j, k) });
      }
    }
  });
  return found;
}

function crossed(draft: Draft, i: number, j: number, k: 0 | 1): Finding {
  const [s, t] = [draft.seams[i], draft.seams[j]];
  const [run] = s.sides[0].runs;
  const name = (side: SeamSide): string => sideName(draft, side.runs);
  const { length } = s.sides[0];
  return advised(
    {
      kind: 'crossed',
      panel: draft.panels[run.panel].name,
      edge: draft.panels[run.panel].edges[run.edge].name,
      seam: s.name,
      value: length,
      figure: millimetres(length),
    },
    `Seams ${s.name} and ${t.name} are crossed: with ${name(s.sides[0])} sewn to ${name(s.sides[1])} and ${name(t.sides[0])} to ${name(t.sides[1])} the panels close into a ring with a hole through it, not into a bag.`,
    `${name(s.sides[0])} sewn to ${name(t.sides[k])} and ${name(s.sides[1])} to ${name(t.sides[1 - k])}`,
  );
}

/** The bag after an exchange; null where its seams then do not close, or it falls into more pieces. */
function tried(bag: Bag, draft: Draft, { seams, tell }: Exchange, pieces: number): Attempt | null {
  const other: Bag = { ...bag, seams: seams() };
  const redrawn: Draft = { ...draft, seams: resolveSeams(other, draft.panels) };
  try {
    const shape = shapeOf(redrawn, surfaceOf(other, redrawn));
    if (shape === null || shape.pieces > pieces) return null;
    let complaints = 0;
    const count = (): void => void complaints++;
    for (const check of [checkBases, checkCorners]) check(other, redrawn, { fault: count, warning: count, note: () => undefined });
    return { bag: other, draft: redrawn, handles: shape.handles, complaints, tell };
  } catch (error) {
    if (error instanceof RingOpen) return null;
    throw error;
  }
}
