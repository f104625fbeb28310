/** Facings and bindings. */

import { stripAlong } from '../../bag/index.ts';
import type { Bag, BagOption, EdgeFinish, Point2, Stack } from '../../bag/types.ts';
import { sheetOf } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import type { Draft } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import { cutShape, stitchShape } from './cut-line.ts';
import { stitchLines } from './marks.ts';
import { areaOf } from './plane.ts';
import type { CutOptions, Piece, Stretch, Tape } from './types.ts';

/** A binding is folded in four and laps over itself at its ends, m. Common practice, no source. */
const BINDING_FOLDS = 4;
export const BINDING_LAP = 0.02;

interface Sheet {
  readonly material: string;
  readonly name: string;
  readonly thickness: number;
  readonly arealMass: number;
}

/** The outer sheet of a stack, as cloth to cut from. */
export const shellOf = (bag: Bag, stack: Stack): Sheet =>
  stack.kind === 'direct'
    ? { material: stack.name, name: stack.name, thickness: stack.thickness, arealMass: stack.arealMass }
    : { material: stack.layers[0]!.material, ...sheetOf(bag, stack.layers[0]!, 'mid') };

/** A strip of cloth for `long` of an edge or seam, m, with a lap at its ends. width: as it is cut, m. */
export function bindingTape(name: string, { material, name: materialName, arealMass }: Sheet, long: number, width: number, how: string): Tape {
  const length = long + BINDING_LAP;
  return { name, kind: 'binding', material, materialName, length, width, count: 1, mass: length * width * arealMass, how };
}

/** Facings as pieces with allowances at the open edge and at their ends; bindings of edges and seams as tape. own: loops of a panel in its frame. */
export function edgesCut(
  bag: Bag,
  draft: Draft,
  option: BagOption,
  own: (panel: number) => readonly (readonly Stretch[])[],
  o: CutOptions,
): { pieces: Piece[]; tapes: Tape[] } {
  const pieces: Piece[] = [];
  const tapes: Tape[] = [];
  const binding = (name: string, long: number, width: number, stack: Stack): void => {
    const how = `${formatMm(long)} of edge, and ${formatMm(BINDING_LAP)} to lap; ${BINDING_FOLDS} times its finished width`;
    tapes.push(bindingTape(name, shellOf(bag, stack), long, BINDING_FOLDS * width, how));
  };
  const named = (name: string): Stack => bag.stacks.find((s) => s.name === name)!;
  for (const f of bag.finishes ?? []) {
    const p = bag.panels.findIndex((q) => q.name === f.panel);
    const stack = named(f.stack ?? option.stacks[f.panel]!);
    if (f.finish === 'bound') {
      const long = f.runs.reduce((sum, r) => sum + draft.panels[p]!.edges.find((e) => e.name === r.edge)!.length * (r.to - r.from), 0);
      binding(`binding of ${f.panel} ${f.edge}`, long, f.width, stack);
    }
    if (f.finish === 'faced') pieces.push(facing(bag, f, p, own(p), shellOf(bag, stack), o));
  }
  bag.seams.forEach((seam, i) => {
    if (seam.type !== 'bound' || seam.allowance === 0) return;
    const side = draft.seams[i]!.sides[draft.seams[i]!.longer === 0 ? 1 : 0];
    binding(`binding of seam ${seam.name}`, side.length, seam.allowance, named(option.stacks[seam.sides[0][0]!.panel]!));
  });
  return { pieces, tapes };
}

function facing(
  bag: Bag,
  f: EdgeFinish,
  p: number,
  loops: readonly (readonly Stretch[])[],
  sheet: { material: string; name: string; thickness: number; arealMass: number },
  o: CutOptions,
): Piece {
  const panel = bag.panels[p]!;
  const { outer, inner } = stripAlong(f.runs, panel.outline, f.width);
  const around = loops[0]!;
  const at = (q: Point2, end: boolean): Stretch | undefined =>
    around.find((s) => {
      const r = end ? s.points[0]! : s.points[s.points.length - 1]!;
      return s.use.kind === 'seam' && libm.hypot(r[0] - q[0], r[1] - q[1]) < 1e-6;
    });
  const side = (points: readonly Point2[], allowance: number, like: Stretch | undefined): Stretch => ({
    run: f.runs[0]!,
    use: like?.use ?? { kind: 'finish', finish: 'faced', folds: [allowance] },
    allowance,
    points,
    tangents: points.map((q, i) => direction(points[Math.max(0, i - 1)]!, points[Math.min(points.length - 1, i + 1)]!, q)),
    out: 1,
    hollow: Number.POSITIVE_INFINITY,
  });
  const [before, after] = [at(outer[0]!, false), at(outer[outer.length - 1]!, true)];
  const back = [...inner].reverse();
  const stretches: Stretch[][] = [
    [
      side(outer, o.openAllowance, undefined),
      side([outer[outer.length - 1]!, back[0]!], after?.allowance ?? 0, after),
      { ...side(back, 0, undefined), use: { kind: 'raw' } },
      side([back[back.length - 1]!, outer[0]!], before?.allowance ?? 0, before),
    ],
  ];
  const cut = cutShape(stretches);
  return {
    name: `${f.panel} ${f.edge} facing`,
    kind: 'facing',
    material: sheet.material,
    materialName: sheet.name,
    thickness: sheet.thickness,
    arealMass: sheet.arealMass,
    count: 1,
    mirrored: 0,
    warp: Math.PI / 2 + panel.grain,
    cut,
    area: areaOf(cut),
    net: areaOf(stitchShape(stretches)),
    lines: stitchLines(stretches),
    wishes: [],
    panels: [f.panel],
    notes: [`${formatMm(f.width)} deep; lower edge raw`],
  };
}

function direction(a: Point2, b: Point2, fallback: Point2): Point2 {
  const l = libm.hypot(b[0] - a[0], b[1] - a[1]);
  return l > 0 ? [(b[0] - a[0]) / l, (b[1] - a[1]) / l] : fallback;
}
