import type { Bag, EdgeRun, Seam } from '../bag/types.ts';
import { listed } from './check-topology-pieces.ts';
import { advised, type Finding, type FindingList, millimetres } from './findings.ts';
import { RingOpen } from './seam-stretches.ts';
import { CUTTING_FRACTION, CUTTING_TOLERANCE, resolveSeams } from './seams.ts';
import { handlesOf, type Surface, surfaceOf } from './surface.ts';
import type { Draft } from './types.ts';

/** Exchanges tried before the search for a slip is given up: two of each of thirty panels. */
const MOST_TRIED = 60;

/** Two edges of one panel whose seams would have to change places. */
interface Exchange {
  readonly panel: number;
  readonly edges: readonly [number, number];
}

/**
 * Panels sewn in turned round: a side whose left edge is sewn where its right edge belongs, so that its mouth end comes to the foot of its neighbours. The walls then close
 * into a ring with a hole through it instead of a bag, and they do not when two edges of the panel change places. A fault where such an exchange is found;
 * otherwise a warning, for a bag may be meant to be a ring.
 */
export function checkTurned(bag: Bag, draft: Draft, surface: Surface, findings: FindingList): void {
  let handles = handlesOf(draft, surface);
  let drawn = { bag, draft, surface };
  // Each exchange that is found makes the next slip plain: two sides may be turned round at once.
  while (handles !== null && handles >= 1) {
    let next: { readonly drawn: Drawn; readonly handles: number; readonly slip: Exchange } | null = null;
    for (const slip of exchanges(drawn.bag, drawn.draft, drawn.surface)) {
      const changed = exchanged(drawn.bag, drawn.draft, slip);
      const left = changed && handlesOf(changed.draft, changed.surface);
      if (changed === null || left === null || left >= handles) continue;
      next = { drawn: changed, handles: left, slip };
      break;
    }
    if (!next) break;
    findings.fault(turned(draft, next.slip));
    ({ handles, drawn } = next);
  }
  if (handles === null || handles < 1) return;
  findings.warning({
    kind: 'ring',
    panel: draft.panels[surface.body.indexOf(true)].name,
    edge: null,
    seam: null,
    value: handles,
    figure: `${handles} ${handles === 1 ? 'hole' : 'holes'}`,
    text: `The seams close the body into a ring with ${handles === 1 ? 'a hole' : `${handles} holes`} through it, as a bag with a tunnel has: if that is not meant, an edge is sewn to the wrong one.`,
  });
}

function turned(draft: Draft, slip: Exchange): Finding {
  const panel = draft.panels[slip.panel];
  const names = slip.edges.map((e) => panel.edges[e].name);
  const [first, second] = slip.edges.map((e) => partsOf(draft, slip.panel, e)[0]);
  const length = panel.edges[slip.edges[0]].length;
  const against = (name: string, part: Part): string => `${panel.name}.${name} to ${listed(part.to)} (seam ${part.seam})`;
  return advised(
    { kind: 'turned round', panel: panel.name, edge: names[0], seam: first.seam, value: length, figure: millimetres(length) },
    `Seam ${first.seam} sews the ${panel.name} panel inside out: with ${against(names[0], first)} and ${against(names[1], second)} its face comes to lie inside, or its upper corners at the lower ones of its neighbours.`,
    `it turned round: ${against(names[1], first)} and ${against(names[0], second)}`,
  );
}

interface Part {
  readonly seam: string;
  readonly to: readonly string[];
}

/** The seams of an edge, each with the edges that lie against it. */
function partsOf(draft: Draft, panel: number, edge: number): Part[] {
  return draft.seams.flatMap((seam) =>
    ([0, 1] as const).flatMap((side): Part[] => {
      const run = seam.sides[side].runs.find((r) => r.panel === panel && r.edge === edge);
      if (!run) return [];
      const to = seam.sides[1 - side].runs.filter((r) => Math.min(r.u1, run.u1) - Math.max(r.u0, run.u0) > 1e-6);
      return [{ seam: seam.name, to: to.map((r) => `${draft.panels[r.panel].name}.${draft.panels[r.panel].edges[r.edge].name}`) }];
    }),
  );
}

/** Pairs of sewn edges of one length on panels of the body, opposite ones and sides first. */
function exchanges(bag: Bag, draft: Draft, { body, seamStretches }: Surface): Exchange[] {
  const found: (Exchange & { readonly order: number })[] = [];
  draft.panels.forEach((panel, p) => {
    if (!body[p]) return;
    const sewn = panel.loops[0].filter((e) => seamStretches.stretchOf[p][e].every((s) => seamStretches.list[s].members.length > 1));
    const role = ['side', 'gusset', 'body', 'base', 'back', 'front'].indexOf(bag.panels[p].role);
    sewn.forEach((e, i) => {
      for (const f of sewn.slice(i + 1)) {
        const [a, b] = [panel.edges[e], panel.edges[f]];
        if (Math.abs(a.length - b.length) > Math.max(CUTTING_TOLERANCE, CUTTING_FRACTION * a.length)) continue;
        const beside = a.next === f || b.next === e;
        found.push({ panel: p, edges: [e, f], order: (beside ? 10 : 0) + role });
      }
    });
  });
  return found.sort((a, b) => a.order - b.order).slice(0, MOST_TRIED);
}

interface Drawn {
  readonly bag: Bag;
  readonly draft: Draft;
  readonly surface: Surface;
}

/** The bag once the two edges have changed places in every seam; null where its seams then no longer close. */
function exchanged(bag: Bag, draft: Draft, { panel, edges }: Exchange): Drawn | null {
  const { name } = draft.panels[panel];
  const [a, b] = edges.map((e) => draft.panels[panel].edges[e].name);
  const changed = (run: EdgeRun): EdgeRun => (run.panel !== name || (run.edge !== a && run.edge !== b) ? run : { ...run, edge: run.edge === a ? b : a });
  const seams = bag.seams.map((seam): Seam => ({ ...seam, sides: [seam.sides[0].map(changed), seam.sides[1].map(changed)] }));
  const other: Bag = { ...bag, seams };
  const redrawn: Draft = { ...draft, seams: resolveSeams(other, draft.panels) };
  try {
    return { bag: other, draft: redrawn, surface: surfaceOf(other, redrawn) };
  } catch (error) {
    if (error instanceof RingOpen) return null;
    throw error;
  }
}
