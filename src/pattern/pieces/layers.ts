/** Pieces of the layers of one group of panels: shell, lining, interfacing, foam, boards, and what regions add. */
import { easeShares, onPanel, warpFrom } from '../../bag/index.ts';
import type { Bag, BagOption, Layer, Point2, Stack } from '../../bag/types.ts';
import { leadersOf, sheetOf } from '../../material/index.ts';
import { distanceToPolygon, insidePolygon, libm } from '../../numerics/index.ts';
import type { Draft } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import { cutShape, stitchShape } from './cut-line.ts';
import { type Group, joinedLoops, placedPoint } from './joined.ts';
import { layerKind, marginOfLayer } from './layer-kind.ts';
import { edgeWishes, gathers, notchLines, panelMarks, stitchLines } from './marks.ts';
import type { Notch } from './notches.ts';
import { areaOf, boxOf, cleaned, common, grown, inset, type Shape, unionOf, without } from './plane.ts';
import type { CutOptions, EdgeUse, Piece, PieceLine, Stretch } from './types.ts';

/** All that the pieces of one group are made from. */
export interface Source {
  readonly bag: Bag;
  readonly draft: Draft;
  readonly option: BagOption;
  readonly group: Group;
  /** Loops of each panel in its own frame. */ readonly own: (panel: number) => readonly (readonly Stretch[])[];
  readonly notches: readonly Notch[];
  readonly o: CutOptions;
}

/** A layer with what it is made of; null thickness etc. of stated stacks come from the stack. */
interface Sheeted {
  readonly layer: Layer | null;
  readonly leader: Layer | null;
  readonly material: string;
  readonly materialName: string;
  readonly thickness: number;
  readonly arealMass: number;
}

const sheetsOf = (bag: Bag, stack: Stack): Sheeted[] => {
  if (stack.kind === 'direct')
    return [{ layer: null, leader: null, material: stack.name, materialName: stack.name, thickness: stack.thickness, arealMass: stack.arealMass }];
  const leaders = leadersOf(stack.layers);
  return stack.layers.map((layer, i) => {
    const sheet = sheetOf(bag, layer, 'mid');
    return { layer, leader: leaders[i]!, material: layer.material, materialName: sheet.name, thickness: sheet.thickness, arealMass: sheet.arealMass };
  });
};

/** A lining is cut larger along its own warp and weft, about the middle of the piece. */
function eased(loops: readonly (readonly Stretch[])[], shares: readonly [number, number], warp: number): { loops: Stretch[][]; map: (p: Point2) => Point2 } {
  const box = boxOf(stitchShape(loops));
  const [cx, cy] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
  const [c, s] = [libm.cos(warp), libm.sin(warp)];
  const turned = ([x, y]: Point2): Point2 => {
    const [along, across] = [(x * c + y * s) * (1 + shares[0]), (-x * s + y * c) * (1 + shares[1])];
    return [along * c - across * s, along * s + across * c];
  };
  const map = ([x, y]: Point2): Point2 => {
    const [u, v] = turned([x - cx, y - cy]);
    return [cx + u, cy + v];
  };
  const unit = (t: Point2): Point2 => {
    const [u, v] = turned(t);
    const l = libm.hypot(u, v);
    return [u / l, v / l];
  };
  return { map, loops: loops.map((loop) => loop.map((st) => ({ ...st, points: st.points.map(map), tangents: st.tangents.map(unit) }))) };
}

/** Where the shell has a hem or a facing a lining has a plain allowance. */
const linedOpen = (loops: readonly (readonly Stretch[])[], allowance: number): Stretch[][] =>
  loops.map((loop) =>
    loop.map((s): Stretch => {
      const use: EdgeUse = { kind: 'finish', finish: 'raw', folds: [allowance] };
      return s.use.kind === 'finish' && s.allowance > 0 ? { ...s, use, allowance } : s;
    }),
  );

/** The pieces of one group, in the order of its layers. */
export function layerPieces(src: Source): Piece[] {
  const { bag, draft, option, group, own, o } = src;
  const panels = group.placed.map((at) => draft.panels[at.panel]!.name);
  const name = panels.join(' + ');
  const first = bag.panels[group.placed[0]!.panel]!;
  const stack = bag.stacks.find((s) => s.name === option.stacks[first.name])!;
  const loops = joinedLoops(draft, group, own);
  const pieces: Piece[] = [];
  sheetsOf(bag, stack).forEach((sheet, place) => {
    const kind = sheet.layer ? layerKind(bag, sheet.layer, place) : 'shell';
    const margin = sheet.layer ? marginOfLayer(bag, sheet.layer, kind, o) : null;
    const warp = warpFrom(first.grain, sheet.layer?.angle ?? 0);
    // A board does not fold: each panel has its own.
    const parts: { name: string; panels: string[]; loops: readonly (readonly Stretch[])[] }[] =
      kind === 'board' && group.placed.length > 1
        ? group.placed.map((at) => ({
            name: draft.panels[at.panel]!.name,
            panels: [draft.panels[at.panel]!.name],
            loops: joinedLoops(draft, { placed: [at], folds: new Map(), seams: [] }, own),
          }))
        : [{ name, panels, loops }];
    for (const part of parts) {
      const shares = sheet.layer && sheet.leader?.ease ? easeShares({ ...sheet.layer, ease: sheet.leader.ease }, onPanel(first)) : ([0, 0] as const);
      const isEased = shares[0] > 0 || shares[1] > 0;
      const laid = isEased ? eased(part.loops, shares, warp) : { loops: part.loops, map: (p: Point2) => p };
      const lined = kind === 'lining' ? linedOpen(laid.loops, o.openAllowance) : laid.loops;
      const notes = isEased ? [`cut ${percent(shares[0])} longer and ${percent(shares[1])} wider than the shell`] : [];
      const stitch = cleaned(stitchShape(lined));
      const missing = missingRegions(src, sheet.layer, part.panels);
      const full = margin === null ? cutShape(lined) : inset(stitch, margin);
      const cut = missing.length > 0 ? cutAway(full, stitch, missing, margin === null ? o.openAllowance : 0) : full;
      if (cut.length === 0) continue;
      const drawn = margin === null ? shellLines(src, lined, missing.length > 0 ? cut : null, laid.map, kind === 'shell') : { lines: [], wishes: [] };
      const marks =
        missing.length > 0 ? { lines: drawn.lines.flatMap((l) => partsOn(l, cut)), wishes: drawn.wishes.filter((w) => w.at.some((p) => on(p, cut))) } : drawn;
      pieces.push({
        name: part.name,
        kind,
        material: sheet.material,
        materialName: sheet.materialName,
        thickness: sheet.thickness,
        arealMass: sheet.arealMass,
        count: 1,
        mirrored: 0,
        warp,
        cut,
        area: areaOf(cut),
        net: areaOf(margin === null ? stitch : cut),
        lines: marks.lines,
        wishes: marks.wishes,
        panels: part.panels,
        notes:
          margin === null || margin === 0
            ? [...notes, ...(margin === 0 ? ['ends at the stitch line'] : [])]
            : [...notes, `ends ${formatMm(margin)} inside the stitch line`],
      });
    }
  });
  return [...pieces, ...regionPieces(src)];
}

/** A layer without the regions that lack it, but for an allowance over their edge where it is sewn down. */
function cutAway(full: Shape, stitch: Shape, missing: Shape, allowance: number): Point2[][] {
  const kept = without(stitch, missing);
  const keeps = allowance > 0 ? grown(kept, allowance) : kept;
  return cleaned(without(full, without(grown(missing, 0.2), keeps)));
}

/** Is a place on a shape, its outline included to 0.05 mm? */
const on = (p: Point2, shape: Shape): boolean =>
  shape.filter((loop) => insidePolygon(p, loop)).length % 2 === 1 || shape.some((loop) => distanceToPolygon(p, loop) < 5e-5);

/** What of a line lies on a shape, to a millimetre. */
function partsOn(line: PieceLine, shape: Shape): PieceLine[] {
  const corners = line.closed ? [...line.points, line.points[0]!] : line.points;
  const points = corners.flatMap((p, i): Point2[] => {
    const q = corners[i + 1];
    if (!q) return [p];
    const steps = Math.max(1, Math.ceil(libm.hypot(q[0] - p[0], q[1] - p[1]) / 1e-3));
    return Array.from({ length: steps }, (_, k): Point2 => [p[0] + ((q[0] - p[0]) * k) / steps, p[1] + ((q[1] - p[1]) * k) / steps]);
  });
  if (points.every((p) => on(p, shape))) return [line];
  const out: PieceLine[] = [];
  let run: Point2[] = [];
  for (const p of [...points, null]) {
    if (p !== null && on(p, shape)) run.push(p);
    else {
      if (run.length > 1) out.push({ ...line, closed: false, points: run });
      run = [];
    }
  }
  return out;
}

const percent = (share: number): string => `${Number((100 * share).toFixed(1))} %`;

/** Lines and words of a layer that goes out to the cut line. cut: where parts of it are cut away, so that a stretch that is gone is not named. */
function shellLines(
  { bag, draft, group, notches }: Source,
  loops: readonly (readonly Stretch[])[],
  cut: Shape | null,
  map: (p: Point2) => Point2,
  shell: boolean,
) {
  const there = (s: Stretch): boolean => cut === null || [0.25, 0.5, 0.75].some((u) => on(s.points[Math.round(u * (s.points.length - 1))]!, cut));
  const words = edgeWishes(loops.map((loop) => loop.filter(there)));
  const lines: PieceLine[] = [...stitchLines(loops)];
  for (const at of group.placed) lines.push(...notchLines(draft, at, notches, loops.flat(), map));
  if (!shell) return { lines, wishes: words };
  const inner = panelMarks(bag, draft, group);
  const waves = gathers(draft, group, bag);
  return { lines: [...lines, ...inner.lines, ...waves.lines], wishes: [...words, ...waves.wishes, ...inner.wishes] };
}

const stackOf = ({ bag, option }: Pick<Source, 'bag' | 'option'>, panel: string, region?: string): Stack =>
  bag.stacks.find((s) => s.name === (region === undefined ? option.stacks[panel] : option.regions[`${panel}/${region}`]))!;

const sameLayer = (a: Layer, b: Layer): boolean => a.material === b.material && a.thickness === b.thickness;

/** Regions whose own stack lacks this layer of their panel: it is cut away there. The shell is never cut away. */
function missingRegions(src: Source, layer: Layer | null, panels: readonly string[]): Shape {
  if (!layer) return [];
  return src.group.placed.flatMap((at) => {
    const panel = src.bag.panels[at.panel]!;
    const whole = stackOf(src, panel.name);
    if (!panels.includes(panel.name) || whole.kind !== 'layers' || sameLayer(whole.layers[0]!, layer)) return [];
    return panel.regions.flatMap((region) => {
      const stack = stackOf(src, panel.name, region.name);
      return stack.kind !== 'layers' || stack.layers.some((l) => sameLayer(l, layer)) ? [] : [region.outline.map((p) => placedPoint(at, p))];
    });
  });
}

/** Layers that a region has and its panel has not: each is a piece of the region's own outline, kept inside the stitch line by its margin. */
function regionPieces(src: Source): Piece[] {
  const { bag, draft, group, own, o } = src;
  return group.placed.flatMap((at) => {
    const panel = bag.panels[at.panel]!;
    const whole = stackOf(src, panel.name);
    const stitch = stitchShape(own(at.panel));
    return panel.regions.flatMap((region) => {
      const stack = stackOf(src, panel.name, region.name);
      const counted = whole.kind === 'layers' ? [...whole.layers] : [];
      return sheetsOf(bag, stack).flatMap((sheet, place): Piece[] => {
        const known = sheet.layer ? counted.findIndex((l) => sameLayer(l, sheet.layer!)) : stack.name === whole.name ? 0 : -1;
        if (known >= 0) {
          counted.splice(known, 1);
          return [];
        }
        const kind = sheet.layer ? layerKind(bag, sheet.layer, place) : 'shell';
        const margin = (sheet.layer && marginOfLayer(bag, sheet.layer, kind, o)) ?? 0;
        const cut = cleaned(common(unionOf([region.outline]), margin > 0 ? inset(stitch, margin) : stitch));
        if (cut.length === 0) return [];
        const shell = whole.kind === 'layers' && whole.layers[0]!.material === sheet.material;
        return [
          {
            name: `${draft.panels[at.panel]!.name} ${region.name}`,
            kind: shell ? 'shell' : kind,
            material: sheet.material,
            materialName: sheet.materialName,
            thickness: sheet.thickness,
            arealMass: sheet.arealMass,
            count: 1,
            mirrored: 0,
            warp: warpFrom(panel.grain, sheet.layer?.angle ?? 0),
            cut,
            area: areaOf(cut),
            net: areaOf(cut),
            lines: [],
            wishes: [],
            panels: [panel.name],
            notes: [
              shell ? 'more of the shell: an extra layer, or cloth turned over' : 'lies on part of the panel',
              ...(margin > 0 ? [`ends ${formatMm(margin)} inside the stitch line`] : []),
            ],
          },
        ];
      });
    });
  });
}
