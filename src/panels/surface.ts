import type { Bag, PanelRole } from '../bag/types.ts';
import { UnionFind } from '../numerics/index.ts';
import { seamEnds, spreadBreakpoints } from './breakpoints.ts';
import { findSeamStretches, RingOpen, type SeamStretches, type StretchMember } from './seam-stretches.ts';
import type { Draft } from './types.ts';

/** Roles of panels that make the bag's body, the ones most likely to hang in it as well (a divider) first. Flaps, pockets, straps and trim hang on it; flat panels are studies. */
const BODY: readonly PanelRole[] = ['body', 'gusset', 'side', 'back', 'front', 'base'];

/** The seams of a bag as a graph: which stretches of which edges lie on one another, and which panels make its body. */
export interface Surface {
  readonly seamStretches: SeamStretches;
  /** breakpoints[panel][edge] as in breakpoints.ts. */ readonly breakpoints: readonly (readonly (readonly number[])[])[];
  /** Per panel: some seam takes it up. */ readonly sewn: readonly boolean[];
  /** Per panel: part of the body, so that its free edges are holes in the bag. */ readonly body: readonly boolean[];
  /** Panels by sewn group, each list increasing. */ readonly groups: readonly (readonly number[])[];
  /** Number of the sewn corner at the start (0) or end (1) of an edge; equal numbers lie on one another. */
  readonly corner: (panel: number, edge: number, end: 0 | 1) => number;
}

/** The graph of a draft. Throws RingOpen where a ring of seams does not close. */
export function surfaceOf(bag: Bag, draft: Draft): Surface {
  const breakpoints = seamEnds(draft);
  const open = spreadBreakpoints(breakpoints, draft);
  if (open !== null) throw new RingOpen(open, `seam ${draft.seams[open].name}: the seams round it do not close`);
  const seamStretches = findSeamStretches(draft, breakpoints);
  const sewn = draft.panels.map(() => false);
  const together = new UnionFind(draft.panels.length);
  for (const { sides } of draft.seams)
    for (const side of sides)
      for (const run of side.runs) {
        sewn[run.panel] = true;
        together.join(sides[0].runs[0].panel, run.panel);
      }
  const groups = new Map<number, number[]>();
  draft.panels.forEach((_, p) => {
    groups.set(together.find(p), [...(groups.get(together.find(p)) ?? []), p]);
  });
  return {
    seamStretches,
    breakpoints,
    sewn,
    body: bodyPanels(bag, seamStretches, sewn),
    groups: [...groups.values()],
    corner: sewnCorners(draft, seamStretches),
  };
}

/**
 * Panels of the body. A panel is a third layer (a divider, an overlay) and left out when at every seam it has, the bag is closed without it: two other
 * sheets lie there, or one whose edge is named as an opening. A base never is.
 */
function bodyPanels(bag: Bag, seamStretches: SeamStretches, sewn: readonly boolean[]): boolean[] {
  const rank = (p: number): number => BODY.indexOf(bag.panels[p].role);
  const body = bag.panels.map((_, p) => sewn[p] && rank(p) >= 0);
  const order = bag.panels.map((_, p) => p).sort((p, q) => rank(p) - rank(q) || q - p);
  const seams = stretchesOfPanels(bag, seamStretches);
  const named = (m: StretchMember): boolean => {
    const panel = bag.panels[m.panel];
    return panel.openings.includes([...panel.outline, ...panel.holes.flat()][m.edge].name);
  };
  for (const p of order) {
    if (!body[p] || bag.panels[p].role === 'base') continue;
    let layered = false;
    const without = seams[p].every((s) => {
      const { members } = seamStretches.list[s];
      if (members.length === 1) return true;
      if (members.filter((m) => m.panel === p).length > 1) return false;
      const others = members.filter((m) => body[m.panel] && m.panel !== p);
      if (others.length >= 2) layered = true;
      return others.length >= 2 || (others.length === 1 && named(others[0]));
    });
    if (without && layered) body[p] = false;
  }
  return body;
}

/** Seam stretches of each panel, each once. */
function stretchesOfPanels(bag: Bag, seamStretches: SeamStretches): number[][] {
  return bag.panels.map((_, p) => [...new Set(seamStretches.stretchOf[p].flat())]);
}

function sewnCorners(draft: Draft, { list }: SeamStretches): Surface['corner'] {
  // Two numbers for each stretch, its start and its end.
  const first: Map<string, number> = new Map();
  let count = 0;
  for (const stretch of list)
    for (const m of stretch.members) {
      first.set(`${m.panel}:${m.edge}:${m.interval}`, count);
      count += 2;
    }
  const ends = new UnionFind(count);
  const last = draft.panels.map((panel) => panel.edges.map(() => 0));
  for (const stretch of list) for (const m of stretch.members) last[m.panel][m.edge] = Math.max(last[m.panel][m.edge], m.interval);
  const at = (panel: number, edge: number, interval: number): number => first.get(`${panel}:${edge}:${interval}`)!;
  draft.panels.forEach((panel, p) => {
    panel.edges.forEach((edge, e) => {
      for (let i = 0; i < last[p][e]; i++) ends.join(at(p, e, i) + 1, at(p, e, i + 1));
      ends.join(at(p, e, last[p][e]) + 1, at(p, edge.next, 0));
    });
  });
  for (const { members } of list)
    for (const m of members) {
      const [a, b] = [members[0], m].map((x) => ({ start: at(x.panel, x.edge, x.interval), forward: x.forward }));
      ends.join(a.start + (a.forward ? 0 : 1), b.start + (b.forward ? 0 : 1));
      ends.join(a.start + (a.forward ? 1 : 0), b.start + (b.forward ? 1 : 0));
    }
  return (panel, edge, end) => ends.find(end === 0 ? at(panel, edge, 0) : at(panel, edge, last[panel][edge]) + 1);
}

/** The body as a surface: its pieces, the handles on them, and its borders. */
export interface Shape {
  readonly pieces: number;
  /** 0 when, their openings closed by discs, all pieces are spheres. */ readonly handles: number;
  /** Number of the border that each open stretch lies on, by "panel:edge:interval": those of one loop have one number. */
  readonly borders: ReadonlyMap<string, number>;
}

/**
 * Pieces, handles and borders of the body. Formula: the sum of (2 - b - chi) / 2 over the pieces, chi = V - E + F, b the number of boundary loops (Euler; classification
 * of orientable surfaces, from memory). null where that does not hold: three sheets of the body in one stretch, or a ring of seams that turns the
 * face over.
 */
export function shapeOf(draft: Draft, { seamStretches, breakpoints, body }: Surface): Shape | null {
  // A wedge is one corner of one panel, or a breakpoint in an edge: wedge w of a loop lies before stretch w.
  const wedgeOf = new Map<string, readonly [start: number, end: number]>();
  let wedges = 0;
  let chi = 0;
  const pieces = new UnionFind(draft.panels.length);
  draft.panels.forEach((panel, p) => {
    if (!body[p]) return;
    chi += 2 - panel.loops.length;
    for (const loop of panel.loops) {
      const from = wedges;
      const keys = loop.flatMap((e) => breakpoints[p][e].slice(1).map((_, i) => `${p}:${e}:${i}`));
      keys.forEach((key, i) => {
        wedgeOf.set(key, [from + i, from + ((i + 1) % keys.length)]);
      });
      wedges += keys.length;
    }
  });
  const corners = new UnionFind(wedges);
  const open: { readonly key: string; readonly ends: readonly [number, number] }[] = [];
  for (const { members } of seamStretches.list) {
    const own = members.filter((m) => body[m.panel]);
    if (own.length === 0) continue;
    // Two sheets that face the same way run along their seam in opposite directions.
    if (own.length > 2 || (own.length === 2 && !pieces.join(own[0].panel, own[1].panel, own[0].forward === own[1].forward))) return null;
    chi--;
    const ends = own.map((m) => {
      const [a, b] = wedgeOf.get(`${m.panel}:${m.edge}:${m.interval}`)!;
      return m.forward ? ([a, b] as const) : ([b, a] as const);
    });
    if (own.length === 1) open.push({ key: `${own[0].panel}:${own[0].edge}:${own[0].interval}`, ends: ends[0] });
    for (const [a, b] of ends) {
      corners.join(ends[0][0], a);
      corners.join(ends[0][1], b);
    }
  }
  for (let w = 0; w < wedges; w++) if (corners.find(w) === w) chi++;
  const rims = new UnionFind(wedges);
  for (let w = 0; w < wedges; w++) rims.join(w, corners.find(w));
  for (const { ends } of open) rims.join(ends[0], ends[1]);
  const borders = new Map(open.map(({ key, ends }) => [key, rims.find(ends[0])]));
  const loops = new Set(borders.values()).size;
  const count = new Set(draft.panels.flatMap((_, p) => (body[p] ? [pieces.find(p)] : []))).size;
  return { pieces: count, handles: count - (loops + chi) / 2, borders };
}
