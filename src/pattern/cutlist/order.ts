/** In which order a bag is sewn: a checklist from its seams. */
import type { Bag, BagOption, PanelRole } from '../../bag/types.ts';
import { libm, UnionFind } from '../../numerics/index.ts';
import type { Draft } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import { joinedPanels } from '../pieces/joined.ts';
import { layerKind } from '../pieces/layer-kind.ts';
import { trimSteps } from './order-trims.ts';
import type { SewingStep } from './types.ts';

/** Strips are sewn into a ring before they meet the faces; then the back, the base, the front. Common practice, no source. */
const RANK: Readonly<Record<PanelRole, number>> = { pocket: 0, trim: 0, strap: 0, flap: 1, gusset: 2, side: 2, body: 2, back: 3, base: 4, front: 5, flat: 5 };
/** An opening narrower than this lets no machine's arm in, m: about the girth of a domestic machine's arm. Common practice, no source. */
const ARM = 0.25;

interface Ordered {
  readonly seam: number;
  readonly rank: number;
}

/** Seams that are still to be sewn once folds are cut in one, earliest first. */
function orderedSeams(bag: Bag, draft: Draft, option: BagOption): Ordered[] {
  const joined = new Set(joinedPanels(bag, draft, option).flatMap((g) => g.seams));
  return draft.seams
    .map((s, seam): Ordered => {
      const panels = [...new Set(s.sides.flatMap((side) => side.runs.map((r) => r.panel)))];
      const roles = panels.map((p) => RANK[bag.panels[p]!.role]);
      const gathered = s.ratio > 1.05 ? 0.1 : 0;
      // A dart or a tube is sewn while its panel is alone; a boxed corner only when the sides beside it are.
      if (panels.length === 1) return { seam, rank: draft.boxed[panels[0]!] ? 6 : 1.5 };
      if (panels.every((p) => draft.boxed[p]) && panels.length === 2 && crossesBox(draft, seam)) return { seam, rank: 6 };
      return { seam, rank: Math.max(...roles) + gathered };
    })
    .filter(({ seam }) => !joined.has(bag.seams[seam]!.name))
    .sort((a, b) => a.rank - b.rank || a.seam - b.seam);
}

/** Does a seam of boxed panels meet a cut-out's inner corner? */
function crossesBox(draft: Draft, seam: number): boolean {
  return draft.seams[seam]!.sides.some((side) =>
    side.runs.some((r) => {
      const ends = (draft.boxed[r.panel]?.lines ?? []).flatMap((l) => [l.from, l.to]);
      const curve = draft.panels[r.panel]!.edges[r.edge]!.curve;
      return [r.from, r.to].some((u) => ends.some((e) => libm.hypot(e[0] - curve.at(u)[0], e[1] - curve.at(u)[1]) < 1e-3));
    }),
  );
}

/**
 * The sewing order of one option as a checklist: flat work first (fusing, hardware, zips, pockets, anchors, rows), then seams by what they join, edges, boards, lining, cords last.
 * What a seam closes off is told: after it, no machine reaches what lies inside. The order is the trade's usual one (common practice, no source), not the only one.
 */
export function sewingOrder(bag: Bag, draft: Draft, option: BagOption, strapTurn: number): SewingStep[] {
  const steps: SewingStep[] = [];
  const step = (phase: string, text: string): void => void steps.push({ phase, text });
  const layersOf = (panel: string) => {
    const stack = bag.stacks.find((s) => s.name === option.stacks[panel])!;
    return stack.kind === 'layers' ? stack.layers.map((layer, i) => ({ layer, kind: layerKind(bag, layer, i) })) : [];
  };
  const having = (kind: string): string[] => bag.panels.filter((p) => layersOf(p.name).some((l) => l.kind === kind)).map((p) => p.name);
  const [fused, padded, boarded, lined] = ['interfacing', 'foam', 'board', 'lining'].map(having) as [string[], string[], string[], string[]];
  if (fused.length > 0) step('flat', `Fuse or baste the interfacing to ${fused.join(', ')}.`);
  if (padded.length > 0) step('flat', `Lay foam or fleece on ${padded.join(', ')}; keep it out of the allowances.`);
  for (const panel of bag.panels)
    for (const m of panel.marks) step('flat', `Mark "${m.name}" on ${panel.name}; hardware that sits there is set while the panel is flat.`);
  const trims = trimSteps(bag, strapTurn);
  steps.push(...trims.flat);
  const seams = orderedSeams(bag, draft, option);
  const pockets = seams.filter((o) => draft.seams[o.seam]!.sides.some((side) => side.runs.some((r) => bag.panels[r.panel]!.role === 'pocket')));
  const anchored = new Set<string>();
  for (const s of bag.straps)
    for (const a of s.anchors) {
      const text = `Sew the end of strap ${s.name} to ${a.panel} (${a.kind}), if the strap may hang loose from here on; else the patch that takes it.`;
      if (!anchored.has(text)) step('flat', text);
      anchored.add(text);
    }
  const inner = bag.topstitch.filter((t) => t.runs.every((r) => !bag.seams.some((s) => s.sides.flat().some((x) => x.panel === r.panel && x.edge === r.edge))));
  for (const t of inner) step('flat', `Topstitch ${t.panel}, ${[...new Set(t.runs.map((r) => r.edge))].join(', ')}, ${formatMm(t.offset)} from the edge.`);
  const flatHems = (bag.finishes ?? []).filter((f) => f.finish.startsWith('turned') && onPocketOrFlap(bag, f.panel));
  for (const f of flatHems) step('flat', `Hem ${f.panel} ${f.edge} (${f.finish}, ${formatMm(f.width)}).`);
  const together = new UnionFind(draft.panels.length);
  const groupsLeft = (): number =>
    new Set(draft.panels.map((_, p) => together.find(p)).filter((_, p) => draft.seams.some((s) => s.sides.some((x) => x.runs.some((r) => r.panel === p)))))
      .size;
  const done = new Set<number>();
  for (const { seam } of [...pockets, ...seams.filter((o) => !pockets.includes(o))]) {
    const made = bag.seams[seam]!;
    const drafted = draft.seams[seam]!;
    const panels = [...new Set(drafted.sides.flatMap((side) => side.runs.map((r) => draft.panels[r.panel]!.name)))];
    const phase = pockets.some((o) => o.seam === seam) ? 'flat' : 'seams';
    const gather =
      drafted.ratio > 1.05 ? ` Gather the ${draft.panels[drafted.sides[drafted.longer].runs[0]!.panel]!.name} first, ${drafted.ratio.toFixed(2)} to 1.` : '';
    const curved = drafted.sides.some((side) => side.runs.some((r) => draft.panels[r.panel]!.edges[r.edge]!.edge.kind !== 'line'));
    const clip = curved && made.type !== 'lapped' ? ' Clip the straighter side every 6-12 mm along the curve, just short of the stitch line.' : '';
    const press = made.pressed && made.pressed !== 'unpressed' ? ` Press it ${made.pressed === 'creased' ? 'to a crease' : made.pressed}.` : '';
    step(
      phase,
      `Sew ${made.name}: ${panels.join(' to ')}, ${made.type}, ${formatMm(made.allowance)}, ${formatMm(Math.min(drafted.sides[0].length, drafted.sides[1].length))} long.${gather}${clip}${press}`,
    );
    done.add(seam);
    for (const side of drafted.sides) for (const r of side.runs) together.join(drafted.sides[0].runs[0]!.panel, r.panel);
    const along = bag.topstitch.filter(
      (t) => !inner.includes(t) && t.runs.some((r) => made.sides.flat().some((x) => x.panel === r.panel && x.edge === r.edge)),
    );
    for (const t of along) step(phase, `Topstitch ${t.panel} along it, ${formatMm(t.offset)} from the edge, before the next seam crosses it.`);
    const left = seams.filter((o) => !done.has(o.seam));
    if (phase === 'seams' && left.length === 1 && groupsLeft() <= 2) step('seams', closing(bag, draft, bag.seams[left[0]!.seam]!.name));
  }
  for (const f of bag.finishes ?? [])
    if (!flatHems.includes(f) && f.finish !== 'raw') step('edges', `Finish ${f.panel} ${f.edge}: ${f.finish}, ${formatMm(f.width)}.`);
  steps.push(...trims.edges);
  if (boarded.length > 0) step('edges', `Slip the boards of ${boarded.join(', ')} in between shell and lining.`);
  if (lined.length > 0) {
    step(
      'lining',
      `Sew the lining of ${lined.join(', ')} together in the same order; leave 100-150 mm of a straight seam open for turning where the mouth is sewn shut round.`,
    );
    step('lining', 'Set the lining in, join it at the mouth, turn the bag, close the gap.');
  }
  steps.push(...trims.last);
  return steps;
}

const onPocketOrFlap = (bag: Bag, panel: string): boolean => ['pocket', 'flap'].includes(bag.panels.find((p) => p.name === panel)!.role);

/** What the last seam closes off. */
function closing(bag: Bag, draft: Draft, last: string): string {
  const open = draft.panels.flatMap((panel, p) => {
    const names = new Set(bag.panels[p]!.openings.flatMap((o) => bag.panels[p]!.chains[o] ?? [o]));
    const free = bag.panels[p]!.role === 'flap' || bag.panels[p]!.role === 'pocket' ? [] : panel.edges.filter((e) => names.has(e.name));
    return free.map((e) => e.length);
  });
  const girth = open.reduce((sum, l) => sum + l, 0);
  const inside = [...new Set(bag.straps.flatMap((s) => s.anchors.map((a) => a.panel)))];
  const what = `Look before you sew ${last}, the last seam: anchors${inside.length > 0 ? ` on ${inside.join(', ')}` : ''}, pockets and rows must be done by now`;
  if (girth === 0) return `${what}. No edge stays open: leave a gap, or the bag cannot be turned.`;
  return girth < ARM
    ? `${what}; the mouth is ${formatMm(girth)} round, too small for the arm of a machine; what is left is sewn by hand.`
    : `${what}; after it a machine reaches the inside only through the mouth, ${formatMm(girth)} round.`;
}
