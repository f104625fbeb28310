import { isMouth } from '../bag/index.ts';
import type { Bag, PanelRole } from '../bag/types.ts';
import { listed } from './check-topology-pieces.ts';
import { degrees, type Finding, type FindingList, millimetres } from './findings.ts';
import type { Shape, Surface } from './surface.ts';
import type { Draft } from './types.ts';

/** Panels that close a bag by lying beside others: one of them is not sewn to itself, as a body that is rolled into a tube is. */
const FACED: readonly PanelRole[] = ['front', 'back', 'side', 'base'];
const WALLS: readonly PanelRole[] = ['front', 'back', 'side', 'gusset', 'body'];
/** Wider corners are not points: the edges of a dart or of a boxed corner meet at more than half a turn. */
const POINT = Math.PI * (1 - 1e-6);

/** What of a surface without handles is still not how bags are sewn. */
interface Slips {
  /** Panels two of whose edges are sewn to one another, a seam each. */
  readonly folded: readonly {
    readonly panel: number;
    readonly edges: readonly [number, number];
    readonly seam: number;
    /** Cloth round the corner between them, rad; null where they do not meet: a tube. */ readonly corner: number | null;
    /** A front, back, side or base. */ readonly faced: boolean;
  }[];
  /** Edges of each part of the mouth, "panel.edge": one list where the mouth is one. */ readonly mouths: readonly (readonly string[])[];
}

/** The slips of a body; shape: its own (surface.ts). */
export function slipsOf(bag: Bag, draft: Draft, { seamStretches, body }: Surface, { borders }: Shape): Slips {
  const folded = new Map<string, Slips['folded'][number]>();
  seamStretches.pairs.forEach((pairs, seam) => {
    for (const [a, b] of pairs) {
      if (a.panel !== b.panel || a.edge === b.edge || !body[a.panel]) continue;
      const { edges, cornerAngle } = draft.panels[a.panel];
      const meet = edges[a.edge].next === b.edge ? b.edge : edges[b.edge].next === a.edge ? a.edge : null;
      const corner = meet === null ? null : cornerAngle[meet];
      if (corner !== null && corner >= POINT) continue;
      const faced = FACED.includes(bag.panels[a.panel].role);
      folded.set(`${seam}`, { panel: a.panel, edges: [a.edge, b.edge], seam, corner, faced });
    }
  });
  const mouths = new Map<number, Set<string>>();
  for (const [key, border] of borders) {
    const [p, e] = key.split(':').map(Number);
    const { name } = draft.panels[p].edges[e];
    if (WALLS.includes(bag.panels[p].role) && isMouth(name)) mouths.set(border, (mouths.get(border) ?? new Set()).add(`${draft.panels[p].name}.${name}`));
  }
  return { folded: [...folded.values()], mouths: [...mouths.values()].map((names) => [...names]) };
}

/** How many slips there are that another seam may mend. */
export const countSlips = ({ folded, mouths }: Slips): number => folded.filter((f) => f.faced).length + Math.max(0, mouths.length - 1);

/** What the worst of them does to the bag, the end of a sentence: "the front panel is rolled into a tube of its own". */
export function slipTold(draft: Draft, { folded, mouths }: Slips): string {
  const own = folded.find((f) => f.faced);
  if (own === undefined) return `the mouth comes out in ${mouths.length} parts, ${mouths.map(listed).join(' apart from ')}`;
  const { name, edges } = draft.panels[own.panel];
  const between = listed(own.edges.map((e) => `${name}.${edges[e].name}`));
  return own.corner === null ? `the ${name} panel is rolled into a tube of its own, ${between}` : `the ${name} panel is folded over its corner, ${between}`;
}

/** Warnings of the slips that no other seam mends: they may be meant. */
export function warnSlips(draft: Draft, { folded, mouths }: Slips, findings: FindingList): void {
  for (const { panel, edges, seam, corner, faced } of folded) {
    if (corner === null && !faced) continue;
    const p = draft.panels[panel];
    const [a, b] = edges.map((e) => p.edges[e]);
    const where = { panel: p.name, edge: a.name, seam: draft.seams[seam].name };
    const sewn = `Seam ${draft.seams[seam].name} sews ${p.name}.${a.name} to ${p.name}.${b.name}`;
    const finding: Finding =
      corner === null
        ? {
            kind: 'rolled',
            ...where,
            value: a.length,
            figure: millimetres(a.length),
            text: `${sewn}: the panel is a tube by itself. If that is not meant, an edge is sewn to the wrong one.`,
          }
        : {
            kind: 'folded corner',
            ...where,
            value: corner,
            figure: degrees(corner),
            text: `${sewn}: its corner is folded to a point with ${degrees(corner)} of cloth round it. If that is not meant, an edge is sewn to the wrong one.`,
          };
    findings.warning(finding);
  }
  if (mouths.length < 2) return;
  const [panel, edge] = mouths[1][0].split('.');
  findings.warning({
    kind: 'mouth in parts',
    panel,
    edge,
    seam: null,
    value: mouths.length,
    figure: `${mouths.length} parts`,
    text: `The mouth comes out in ${mouths.length} parts: ${mouths.map(listed).join(' apart from ')}. If one mouth is meant, an edge is sewn to the wrong one.`,
  });
}
