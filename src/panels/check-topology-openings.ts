import { isMouth } from '../bag/index.ts';
import type { Bag, PanelRole } from '../bag/types.ts';
import { advised, type FindingList, millimetres } from './findings.ts';
import { CUTTING_FRACTION, CUTTING_TOLERANCE } from './seams.ts';
import type { Surface } from './surface.ts';
import type { Draft } from './types.ts';

/** Shorter stretches are rounding, m. */
const SPECK = 1e-4;

const WALLS: readonly PanelRole[] = ['front', 'back', 'side', 'gusset', 'base'];

/** An edge some of which no seam takes up. */
interface Free {
  readonly panel: number;
  readonly edge: number;
  /** m of it unsewn. */ readonly open: number;
  /** Nothing of it is sewn. */ readonly whole: boolean;
  /** A hole in the body that the file does not name. */ readonly hole: boolean;
}

/**
 * Edges that no seam takes up and that are not named as openings: a hole in the bag is a fault, unless the edge is a mouth by its name or one that straps hang from, the gap is no longer
 * than a cutter lets pass, or the cloth is clipped up in every stance; at pockets, flaps and other layers it is a warning. And openings that
 * are sewn shut: to the base it is a fault. skipped: edges already told. Unsewn panels are left alone.
 */
export function checkOpenings(bag: Bag, draft: Draft, surface: Surface, skipped: ReadonlySet<string>, findings: FindingList): void {
  const told = new Set(skipped);
  const nameOf = (f: { panel: number; edge: number }): string => `${draft.panels[f.panel].name}.${draft.panels[f.panel].edges[f.edge].name}`;
  const keyOf = (f: { panel: number; edge: number }): string => `${f.panel}:${f.edge}`;
  const free = freeEdges(bag, draft, surface);
  for (const sewn of sewnMouths(bag, draft, surface, free)) {
    const { panel, edge, seam, base, instead } = sewn;
    if (instead) told.add(keyOf(instead));
    const length = draft.panels[panel].edges[edge].length;
    const [own, other] = [nameOf(sewn), nameOf(base)];
    findings.fault(
      advised(
        {
          kind: 'mouth sewn',
          panel: draft.panels[panel].name,
          edge: draft.panels[panel].edges[edge].name,
          seam: draft.seams[seam].name,
          value: length,
          figure: millimetres(length),
        },
        `Seam ${draft.seams[seam].name} sews ${own}, the mouth of the bag, to ${other}${instead ? `, and leaves ${nameOf(instead)} open` : ''}.`,
        instead
          ? `${nameOf(instead)} in seam ${draft.seams[seam].name}`
          : `another edge of ${draft.panels[panel].name} there, or ${own} not named as an opening`,
      ),
    );
    told.add(keyOf(sewn));
  }
  for (const f of free) {
    const { panel, edge, open, hole } = f;
    if (bag.panels[panel].openings.includes(draft.panels[panel].edges[edge].name) || told.has(keyOf(f))) continue;
    const where = {
      kind: 'unsewn',
      panel: draft.panels[panel].name,
      edge: draft.panels[panel].edges[edge].name,
      seam: null,
      value: open,
      figure: millimetres(open),
    } as const;
    if (!hole) {
      findings.warning({ ...where, text: `${millimetres(open)} of ${nameOf(f)} is in no seam and not named as an opening.` });
      continue;
    }
    const beside = partnerOf(f, free, draft, surface);
    const opened = (g: Free): string => `"${draft.panels[g.panel].edges[g.edge].name}" under "open" of panel ${draft.panels[g.panel].name}`;
    if (beside?.hole && !told.has(keyOf(beside))) {
      told.add(keyOf(beside));
      findings.fault(
        advised(
          where,
          `${nameOf(f)} and ${nameOf(beside)} are in no seam and not named as openings: a hole in the bag, ${millimetres(open)} along each.`,
          `a seam "${nameOf(f)}" - "${nameOf(beside)}", or ${opened(f)} and ${opened(beside)}`,
        ),
      );
      continue;
    }
    findings.fault(
      advised(
        where,
        `${millimetres(open)} of ${nameOf(f)} is in no seam and not named as an opening: a hole in the bag.`,
        `a seam that takes it up${beside ? `, such as "${nameOf(f)}" - "${nameOf(beside)}"` : ''}, or ${opened(f)}`,
      ),
    );
  }
  checkSewnOpenings(bag, draft, surface, told, findings);
}

function freeEdges(bag: Bag, draft: Draft, { seamStretches, breakpoints, sewn, body }: Surface): Free[] {
  const held = bag.stances.every((s) => s.kind === 'held');
  return draft.panels.flatMap((panel, p) =>
    panel.edges.flatMap((edge, e): Free[] => {
      // Holes are cut to stay open.
      if (!sewn[p] || edge.loop > 0) return [];
      const list = breakpoints[p][e];
      const open = seamStretches.stretchOf[p][e].reduce(
        (sum, s, i) => (seamStretches.list[s].members.length === 1 ? sum + (list[i + 1] - list[i]) * edge.length : sum),
        0,
      );
      if (open <= SPECK) return [];
      const named = bag.panels[p].openings.includes(edge.name);
      // A wall by its role must close the bag even where it hangs beside other sheets; a panel of the body without one may be a divider.
      const wall = body[p] || WALLS.includes(bag.panels[p].role);
      // A mouth by its name, or an edge that nothing but straps is sewn to.
      const beside = seamStretches.stretchOf[p][e].flatMap((s) => seamStretches.list[s].members).filter((m) => m.panel !== p || m.edge !== e);
      const strapped = beside.length > 0 && beside.every((m) => bag.panels[m.panel].role === 'strap');
      const mouth = strapped || (bag.panels[p].role !== 'base' && isMouth(edge.name));
      return [{ panel: p, edge: e, open, whole: open > edge.length - SPECK, hole: wall && !named && !mouth && open > CUTTING_TOLERANCE && !held }];
    }),
  );
}

/** The free edge that a missing seam would most likely join f to: of the same length, an end of each sewn together already, better both. */
function partnerOf(f: Free, free: readonly Free[], draft: Draft, { corner }: Surface): Free | null {
  if (!f.whole) return null;
  const ends = ({ panel, edge }: Free): readonly [number, number] => [corner(panel, edge, 0), corner(panel, edge, 1)];
  const [start, end] = ends(f);
  let best: Free | null = null;
  let most = 0;
  for (const g of free) {
    if (g === f || !g.whole || Math.abs(g.open - f.open) > Math.max(CUTTING_TOLERANCE, CUTTING_FRACTION * f.open)) continue;
    const other = ends(g);
    const shared = Number(other[1] === start) + Number(other[0] === end);
    // An edge that the file names as open needs both ends to speak for it.
    const score = shared + (g.hole ? 1 : -1) + (draft.panels[g.panel].edges[g.edge].name === draft.panels[f.panel].edges[f.edge].name ? 0 : 0.5);
    if (shared > 0 && score > most) [best, most] = [g, score];
  }
  return best;
}

interface SewnMouth {
  readonly panel: number;
  readonly edge: number;
  readonly seam: number;
  readonly base: { readonly panel: number; readonly edge: number };
  /** An edge of the same panel that is left open for it, or null. */ readonly instead: Free | null;
}

/** Mouths of the body, by their name or named as openings, that are sewn to the base over all their length. */
function sewnMouths(bag: Bag, draft: Draft, { body, seamStretches }: Surface, free: readonly Free[]): SewnMouth[] {
  const found: SewnMouth[] = [];
  draft.seams.forEach((seam, s) => {
    for (const side of [0, 1] as const)
      for (const run of seam.sides[side].runs) {
        const { role, openings } = bag.panels[run.panel];
        const { name } = draft.panels[run.panel].edges[run.edge];
        const instead = free.find((f) => f.hole && f.panel === run.panel) ?? null;
        const base = seam.sides[1 - side].runs.find((r) => bag.panels[r.panel].role === 'base' && Math.min(r.u1, run.u1) - Math.max(r.u0, run.u0) > 1e-6);
        const shut = seamStretches.stretchOf[run.panel][run.edge].every((k) => seamStretches.list[k].members.length > 1);
        if (!base || !shut || !body[run.panel] || role === 'base' || !(openings.includes(name) || (isMouth(name) && instead))) continue;
        found.push({ panel: run.panel, edge: run.edge, seam: s, base, instead });
      }
  });
  return found;
}

function checkSewnOpenings(bag: Bag, draft: Draft, { seamStretches, sewn }: Surface, told: ReadonlySet<string>, findings: FindingList): void {
  draft.panels.forEach((panel, p) => {
    if (!sewn[p]) return;
    panel.edges.forEach((edge, e) => {
      const shut = seamStretches.stretchOf[p][e].every((s) => seamStretches.list[s].members.length > 1);
      if (!shut || !bag.panels[p].openings.includes(edge.name) || told.has(`${p}:${e}`)) return;
      findings.warning({
        kind: 'opening sewn',
        panel: panel.name,
        edge: edge.name,
        seam: null,
        value: edge.length,
        figure: millimetres(edge.length),
        text: `${panel.name}.${edge.name} is named as an opening but sewn over all its ${millimetres(edge.length)}.`,
      });
    });
  });
}
