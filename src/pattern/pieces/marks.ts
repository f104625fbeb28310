/** Everything drawn inside a piece of the shell: stitch lines, folds, notches, gathers, anchors, rows, marks. */
import { patchOutline } from '../../bag/index.ts';
import type { Anchor, Bag, Point2 } from '../../bag/types.ts';
import { distanceToPolygon, libm } from '../../numerics/index.ts';
import { placeOnSide, polyline } from '../../panels/index.ts';
import type { Draft, DraftPanel } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import { type Group, type Placed, placedPoint } from './joined.ts';
import { clipLines, type Notch } from './notches.ts';
import { beside, trimMarks } from './trim-marks.ts';
import type { PieceLine, Stretch, Wish } from './types.ts';

type Mapped = (p: Point2) => Point2;
const line = (ink: PieceLine['ink'], what: string, points: readonly Point2[], closed = false): PieceLine => ({ ink, what, points, closed });

/** The stitch line: sewn and faced stretches as one line where they run on, folds of hems, nothing along a raw edge. */
export function stitchLines(loops: readonly (readonly Stretch[])[]): PieceLine[] {
  return loops.flatMap((loop) => {
    const inkOf = (s: Stretch): 'stitch' | 'fold' | null =>
      s.use.kind === 'seam'
        ? 'stitch'
        : s.use.kind === 'raw' || s.allowance === 0
          ? null
          : s.use.finish === 'faced' || s.use.finish === 'raw'
            ? 'stitch'
            : 'fold';
    const whole = loop.every((s) => inkOf(s) === 'stitch');
    if (whole)
      return [
        line(
          'stitch',
          'stitch line',
          loop.flatMap((s) => s.points.slice(0, -1)),
          true,
        ),
      ];
    // Begin where the ink changes, so that no line is cut in two by the start of the loop.
    const first = loop.findIndex((s, i) => inkOf(s) !== inkOf(loop[(i + loop.length - 1) % loop.length]!));
    const out: PieceLine[] = [];
    let points: Point2[] = [];
    for (let k = 0; k < loop.length; k++) {
      const s = loop[(Math.max(first, 0) + k) % loop.length]!;
      const ink = inkOf(s);
      if (ink === null) continue;
      const last = points[points.length - 1];
      const runsOn = last !== undefined && out[out.length - 1]?.ink === ink && libm.hypot(last[0] - s.points[0]![0], last[1] - s.points[0]![1]) < 1e-9;
      if (runsOn) points.push(...s.points.slice(1));
      else {
        points = [...s.points];
        out.push(line(ink, ink === 'stitch' ? 'stitch line' : 'fold of the hem', points));
      }
    }
    // The second fold of an edge turned twice.
    for (const s of loop)
      if (s.use.kind === 'finish' && s.use.folds.length > 1)
        out.push(
          line(
            'fold',
            'second fold of the hem',
            s.points.map((p, i) => off(p, s.tangents[i]!, s.out, (s.use as { folds: readonly number[] }).folds[0]!)),
          ),
        );
    return out;
  });
}

const off = (p: Point2, t: Point2, out: 1 | -1, far: number): Point2 => [p[0] + out * t[1] * far, p[1] - out * t[0] * far];

/** Notches of the panels of a piece. allowanceAt: at a place of an edge, m. */
export function notchLines(draft: Draft, at: Placed, notches: readonly Notch[], stretches: readonly Stretch[], map: Mapped): PieceLine[] {
  return notches
    .filter((n) => n.panel === at.panel)
    .flatMap((n) => {
      const edge = draft.panels[n.panel]!.edges[n.edge]!;
      const s = stretches.find(
        (x) => x.run.edge === edge.name && x.run.panel === draft.panels[n.panel]!.name && x.run.from <= n.fraction + 1e-9 && x.run.to >= n.fraction - 1e-9,
      );
      if (!s) return [];
      const place = map(placedPoint(at, edge.curve.at(n.fraction)));
      const ahead = map(placedPoint(at, shifted(edge.curve.at(n.fraction), edge.curve.tangent(n.fraction))));
      const long = libm.hypot(ahead[0] - place[0], ahead[1] - place[1]);
      const t: Point2 = [(ahead[0] - place[0]) / long, (ahead[1] - place[1]) / long];
      return clipLines(place, t, s.out, s.allowance, n.clips).map((points) => line('mark', `notch, ${n.seam}`, points));
    });
}

const shifted = (p: Point2, t: Point2): Point2 => [p[0] + t[0] * 1e-3, p[1] + t[1] * 1e-3];

/** A wave along the fuller side of every gather, 3 to 5 mm inside, about 8 mm a wave; its words say to what length it is drawn up. */
export function gathers(draft: Draft, group: Group, bag: Bag): { lines: PieceLine[]; wishes: Wish[] } {
  const lines: PieceLine[] = [];
  const wishes: Wish[] = [];
  draft.seams.forEach((seam, i) => {
    const side = seam.sides[seam.longer];
    const even = seam.bunches === undefined && (bag.seams[i]!.gather ?? 1) > 1.02 ? [{ from: [0, 0], to: [1, 1] }] : [];
    for (const bunch of seam.bunches ?? even) {
      const [from, to] = [bunch.from[seam.longer]!, bunch.to[seam.longer]!];
      const long = (to - from) * side.length;
      const short = (bunch.to[1 - seam.longer]! - bunch.from[1 - seam.longer]!) * seam.sides[1 - seam.longer]!.length;
      const count = 4 * Math.max(2, Math.round(long / 0.008));
      for (const at of group.placed) {
        let run: Point2[] = [];
        const close = (): void => {
          if (run.length > 2) lines.push(line('mark', `gather ${formatMm(long)} to ${formatMm(short)}`, run));
          run = [];
        };
        for (let k = 0; k <= count; k++) {
          const place = placeOnSide(side, from + ((to - from) * k) / count);
          if (place.run.panel !== at.panel) {
            close();
            continue;
          }
          const edge = draft.panels[at.panel]!.edges[place.run.edge]!;
          const inside = (far: number): Point2 =>
            placedPoint(at, off(edge.curve.at(place.fraction), edge.curve.tangent(place.fraction), edge.clothOnLeft ? 1 : -1, -far));
          run.push(inside(0.004 + 0.001 * libm.sin((k * Math.PI) / 2)));
          if (k === count >> 1)
            wishes.push({
              text: `gather ${formatMm(long)} to ${formatMm(short)}`,
              at: [0.011, 0.016, 0.022, 0.03].map(inside),
            });
        }
        close();
      }
    }
  });
  return { lines, wishes };
}

/** The stitching of an anchor: its patch, and the cross, row, rivet hole or loop in it. */
function anchorLines(a: Anchor, name: string, map: Mapped): PieceLine[] {
  const corners = patchOutline(a).map(map);
  const [p, q, r, s] = corners as [Point2, Point2, Point2, Point2];
  const [x, y] = a.at;
  const level = (half: number): Point2[] => [map([x - half, y]), map([x + half, y])];
  const upright = (half: number): Point2[] => [map([x, y - half]), map([x, y + half])];
  const what = `${name}: ${a.kind}`;
  switch (a.kind) {
    case 'box':
      return [line('mark', what, corners, true)];
    case 'box with cross':
      return [line('mark', what, corners, true), line('mark', what, [p, r]), line('mark', what, [q, s])];
    case 'row':
      return [line('mark', what, corners, true), line('mark', what, level(a.width / 2))];
    case 'rivet':
      return [line('mark', what, level(a.width / 2)), line('mark', what, upright(a.width / 2))];
    case 'ring loop':
      return [line('mark', what, corners, true), line('mark', what, level(a.width / 2))];
  }
}

/** Anchors, rows of topstitching, lines and marks of the panels of a piece. */
export function panelMarks(bag: Bag, draft: Draft, group: Group): { lines: PieceLine[]; wishes: Wish[] } {
  const lines: PieceLine[] = [];
  const wishes: Wish[] = [];
  for (const at of group.placed) {
    const panel = bag.panels[at.panel]!;
    const map: Mapped = (p) => placedPoint(at, p);
    const put = (w: Wish): void => void wishes.push({ text: w.text, at: w.at.map(map) });
    const word = (text: string, p: Point2, far: number): void => put(beside(text, p, far));
    for (const s of bag.straps)
      for (const a of s.anchors)
        if (a.panel === panel.name) {
          lines.push(...anchorLines(a, s.name, map));
          word(s.name, a.at, a.height / 2 + 0.005);
        }
    for (const row of bag.topstitch)
      if (row.panel === panel.name) lines.push(line('mark', `topstitch ${formatMm(row.offset)} from the edge`, row.line.map(map)));
    for (const drawn of draft.lines[at.panel]!) {
      const ink = drawn.fold !== null || drawn.turn !== null ? 'fold' : 'mark';
      lines.push(
        line(
          ink,
          drawn.turn === 'base' ? 'base line' : drawn.turn === 'upright' ? 'corner of the bag' : drawn.fold ? 'fold line' : 'line',
          drawn.points.map(map),
        ),
      );
    }
    for (const region of panel.regions)
      for (const points of insideParts(region.outline, draft.panels[at.panel]!)) lines.push(line('mark', `edge of region ${region.name}`, points.map(map)));
    for (const mark of panel.marks) {
      const [x, y] = mark.at;
      const h = 0.0025;
      lines.push(line('mark', mark.name, [map([x - h, y]), map([x + h, y])]), line('mark', mark.name, [map([x, y - h]), map([x, y + h])]));
      word(mark.name, mark.at, 0.006);
    }
    const trims = trimMarks(bag, draft.panels[at.panel]!);
    lines.push(...trims.lines.map((l) => ({ ...l, points: l.points.map(map) })), ...centreMarks(draft, at));
    for (const w of trims.wishes) put(w);
  }
  for (const [own] of group.folds) {
    const [p, e] = own.split(':').map(Number) as [number, number];
    const at = group.placed.find((x) => x.panel === p)!;
    const other = group.folds.get(own)!;
    if (own > other) continue;
    const { from, to } = draft.panels[p]!.edges[e]!.edge;
    lines.push(line('fold', 'fold line', [placedPoint(at, from), placedPoint(at, to)]));
  }
  return { lines, wishes };
}

/** The parts of a region's outline that do not run along the panel's own. */
function insideParts(outline: readonly Point2[], panel: DraftPanel): Point2[][] {
  const around = panel.loops[0]!.flatMap((e) => polyline(panel.edges[e]!).slice(0, -1));
  const out: Point2[][] = [];
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    if (distanceToPolygon([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], around) < ALONG) return;
    const last = out[out.length - 1];
    if (last && last[last.length - 1] === a) last.push(b);
    else out.push([a, b]);
  });
  return out;
}

/** Nearer than this a region's edge is the panel's own, m. */
const ALONG = 3e-4;

/** Middle of the top and the bottom edge of a panel that is as wide on both sides of it: a short line inside, with a bar. */
function centreMarks(draft: Draft, at: Placed): PieceLine[] {
  const panel = draft.panels[at.panel]!;
  const middle = (panel.bounds[0] + panel.bounds[2]) / 2;
  return panel.loops[0]!.flatMap((e) => {
    const edge = panel.edges[e]!;
    const p = edge.curve.at(0.5);
    const t = edge.curve.tangent(0.5);
    if (Math.abs(p[0] - middle) > 1e-4 || Math.abs(t[1]) > 1e-3 || edge.length < 0.03) return [];
    const into = edge.clothOnLeft ? 1 : -1;
    const foot = off(p, t, into, -0.006);
    const along = (d: number): Point2 => placedPoint(at, [foot[0] + t[0] * d, foot[1] + t[1] * d]);
    return [line('mark', 'centre', [placedPoint(at, off(p, t, into, -0.001)), placedPoint(at, foot)]), line('mark', 'centre', [along(-0.002), along(0.002)])];
  });
}

/** Words for the stretches: what is sewn there and with how much allowance. */
export function edgeWishes(loops: readonly (readonly Stretch[])[], noticeAt = 0.03): Wish[] {
  const seen = new Set<string>();
  return loops.flatMap((loop) =>
    [...loop]
      .sort((a, b) => lengthOf(b) - lengthOf(a))
      .flatMap((s): Wish[] => {
        const text = wordsOf(s);
        const key = `${s.run.panel}|${text}`;
        // A seam that runs over several edges is named once on each panel.
        if (lengthOf(s) < noticeAt || seen.has(key)) return [];
        seen.add(key);
        const spots = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
        const at = [0.006, 0.01, 0.015, 0.022].flatMap((far) =>
          spots.map((w) => {
            const i = Math.min(s.points.length - 2, Math.floor(w * (s.points.length - 1)));
            const u = w * (s.points.length - 1) - i;
            const [a, b] = [s.points[i]!, s.points[i + 1]!];
            const t = s.tangents[i]!;
            // A word stands level, so beside an upright edge its middle lies further in.
            const lean = Math.abs(t[1]) * text.length * 0.0008;
            return off([a[0] + (b[0] - a[0]) * u, a[1] + (b[1] - a[1]) * u], t, s.out, -(far + lean));
          }),
        );
        return [{ text, at }];
      }),
  );
}

const lengthOf = (s: Stretch): number => s.points.slice(1).reduce((sum, p, i) => sum + libm.hypot(p[0] - s.points[i]![0], p[1] - s.points[i]![1]), 0);

function wordsOf({ use, allowance }: Stretch): string {
  if (use.kind === 'seam') return use.type === 'bound' ? `${use.seam}: bound, no allowance` : `${use.seam}, ${formatMm(allowance)}`;
  if (use.kind === 'raw') return 'raw edge';
  if (use.finish === 'raw') return allowance > 0 ? `open edge, ${formatMm(allowance)}` : 'raw edge, finished';
  if (use.finish === 'bound') return 'bound, no allowance';
  return use.finish === 'faced' ? `facing seam, ${formatMm(allowance)}` : `${use.finish}, ${use.folds.map((w) => formatMm(w)).join(' + ')}`;
}
