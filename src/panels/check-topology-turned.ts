import type { Bag, EdgePlace, EdgeRun, Seam } from '../bag/types.ts';
import { checkBases, checkCorners } from './check-panels.ts';
import { listed } from './check-topology-pieces.ts';
import { countSlips, slipsOf, slipTold, warnSlips } from './check-topology-slips.ts';
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
  /** effect: what they do to the bag as they are, the end of a sentence. */ readonly tell: (effect: string) => Finding;
}

/** The bag after an exchange. */
interface Attempt {
  readonly bag: Bag;
  readonly draft: Draft;
  readonly pieces: number;
  readonly handles: number;
  readonly slips: ReturnType<typeof slipsOf>;
  /** Corners that do not lie flat or a base that lies mirrored. */ readonly complaints: number;
}

/**
 * Panels sewn in turned round (a side whose left edge is sewn where its right edge belongs) and seams crossed with one another. The walls then close into a
 * ring with a hole through it, a wall into a tube of its own, or the mouth comes out in parts, and they do not once two edges have changed places.
 * A fault where such an exchange is found; otherwise a warning, for it may be meant.
 */
export function checkTurned(bag: Bag, draft: Draft, findings: FindingList): void {
  const first = attempted(bag, draft);
  if (first === null) return;
  let now = first;
  let budget = Math.min(MOST_TRIED, Math.ceil(MOST_RESOLVED / bag.seams.length));
  // Each exchange that is found makes the next slip plain: two sides may be turned round at once.
  while (now.handles >= 1 || countSlips(now.slips) >= 1) {
    let best: Attempt | null = null;
    let mended: Exchange | null = null;
    for (const exchange of exchanges(now.bag, now.draft).slice(0, budget)) {
      budget--;
      const attempt = tried(now, exchange);
      if (attempt === null || !mends(attempt, now) || (best && !isBetter(attempt, best))) continue;
      [best, mended] = [attempt, exchange];
      if (best.handles === 0 && countSlips(best.slips) === 0 && best.complaints === 0) break;
    }
    if (!best || !mended) break;
    findings.fault(mended.tell(now.handles >= 1 ? 'the panels close into a ring with a hole through it, not into a bag' : slipTold(now.draft, now.slips)));
    now = best;
  }
  if (now !== first) return;
  if (now.handles >= 1) tellRing(draft, now, findings);
  warnSlips(draft, now.slips, findings);
}

/** Fewer handles, or as many and fewer slips: fewer complaints alone are not why a seam is wrong. */
const mends = (a: Attempt, now: Attempt): boolean => isBetter(a, now) && (a.handles < now.handles || countSlips(a.slips) < countSlips(now.slips));

/** Fewer handles; or as many, fewer slips and no more complaints; or as many of both and fewer complaints. */
function isBetter(a: Attempt, b: Attempt): boolean {
  if (a.handles !== b.handles) return a.handles < b.handles;
  const [s, t] = [countSlips(a.slips), countSlips(b.slips)];
  return s === t ? a.complaints < b.complaints : s < t && a.complaints <= b.complaints;
}

/** A ring through a bag of one mouth may be meant, as a tunnel; one whose mouth comes out in parts besides is a fault. */
function tellRing(draft: Draft, { handles, slips }: Attempt, findings: FindingList): void {
  const [run] = draft.seams[0].sides[0].runs;
  const where = {
    kind: 'ring',
    panel: draft.panels[run.panel].name,
    edge: null,
    seam: null,
    value: handles,
    figure: `${handles} ${handles === 1 ? 'hole' : 'holes'}`,
  } as const;
  const ring = `The seams close the body into a ring with ${handles === 1 ? 'a hole' : `${handles} holes`} through it`;
  if (slips.mouths.length > 1)
    findings.fault(advised(where, `${ring}, and ${slipTold(draft, slips)}.`, 'each wall sewn to the walls beside it, left to right'));
  else findings.warning({ ...where, text: `${ring}, as a bag with a tunnel has: if that is not meant, an edge is sewn to the wrong one.` });
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
        found.push({ crowd: crowds[i] + crowds[j], order: i + j, seams, tell: (effect) => crossed(draft, i, j, k, effect) });
      }
    }
  });
  return found;
}

function crossed(draft: Draft, i: number, j: number, k: 0 | 1, effect: string): Finding {
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
    `Seams ${s.name} and ${t.name} are crossed: with ${name(s.sides[0])} sewn to ${name(s.sides[1])} and ${name(t.sides[0])} to ${name(t.sides[1])} ${effect}.`,
    `${name(s.sides[0])} sewn to ${name(t.sides[k])} and ${name(s.sides[1])} to ${name(t.sides[1 - k])}`,
  );
}

/** The bag after an exchange; null where its seams then do not close, or it falls into more pieces. */
function tried(now: Attempt, { seams }: Exchange): Attempt | null {
  const bag: Bag = { ...now.bag, seams: seams() };
  const after = attempted(bag, { ...now.draft, seams: resolveSeams(bag, now.draft.panels) });
  return after === null || after.pieces > now.pieces ? null : after;
}

/** A bag as a surface, with what speaks against it; null where its seams do not close or it has no two sides. */
function attempted(bag: Bag, draft: Draft): Attempt | null {
  try {
    const surface = surfaceOf(bag, draft);
    const shape = shapeOf(draft, surface);
    if (shape === null) return null;
    let complaints = 0;
    const count = (): void => void complaints++;
    for (const check of [checkBases, checkCorners]) check(bag, draft, { fault: count, warning: count, note: () => undefined });
    return { bag, draft, pieces: shape.pieces, handles: shape.handles, slips: slipsOf(bag, draft, surface, shape), complaints };
  } catch (error) {
    if (error instanceof RingOpen) return null;
    throw error;
  }
}
