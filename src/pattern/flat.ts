import type { AnchorKind, Bag, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { placeOnSide, polyline } from '../panels/index.ts';
import type { Draft, DraftBunch, DraftPanel, SeamSide, SideRun } from '../panels/types.ts';
import { escapeXml, formatInches, formatMm } from '../units/index.ts';
import { paintClosures } from './flat-closures.ts';
import { finishBands } from './flat-finishes.ts';
import { trimMarks } from './flat-trims.ts';

/** Sizes on the sheet, mm of the pattern itself: the drawing is to scale, so its words are too. */
const GAP = 34;
const WORDS = 14;
const SMALL = 11;
/** Between a panel and its name, so that a mark at its corner hides no letter. */
const CLEAR = 8;
/** Room under a panel for its caption, by the size of the words. */
const captionHeight = (k: number): number => k * (WORDS + CLEAR + 3 * (SMALL + 3)) + 6;

/** What is drawn of the flat panels. */
export interface FlatOptions {
  /** Option whose stacks are named on the panels; default the first. */ readonly option?: string;
  /** Widest row of panels, m. */ readonly width?: number;
  readonly units?: 'metric' | 'inch';
  /** Keeps panels where they were, while one of them is being changed. */ readonly layout?: FlatLayout;
  /** How many times their usual size words and signs are drawn, for a sheet that is shown small; 1 when left out. */ readonly text?: number;
}

/** Where each panel lies on the sheet, mm: sheet x = x + 1000 u, sheet y = y - 1000 v for a point (u, v) of its own frame; and the sheet's size. */
export interface FlatLayout {
  readonly at: readonly { readonly x: number; readonly y: number; readonly h: number }[];
  readonly width: number;
  readonly height: number;
}

/** The layout that flatSvg uses when none is given. */
export function flatLayout(draft: Draft, width = 1.1, text = 1): FlatLayout {
  const places = layOut(draft.panels, width * 1000, text);
  return {
    ...places,
    at: draft.panels.map((panel, p) => ({ x: places.at[p]!.x - panel.bounds[0] * 1000, y: places.at[p]!.y + panel.bounds[3] * 1000, h: places.at[p]!.h })),
  };
}

/**
 * All panels of a bag, face up and to one scale (1 user unit = 1 mm), as an SVG text: outline at the stitch line, openings dashed, every sewn
 * stretch with its seam's letter and length, notches at its ends and middle, grain arrow, regions, clips and marks, size and stack.
 * Rows are filled in file order. Nothing is measured from the drawing; lengths are the drafted ones. Units: bag in metres.
 */
export function flatSvg(bag: Bag, draft: Draft, o: FlatOptions = {}): string {
  const option = bag.options.find((c) => c.name === o.option) ?? bag.options[0];
  const k = o.text ?? 1;
  const places = o.layout ?? flatLayout(draft, o.width, k);
  const parts = draft.panels.map((panel, p) => {
    const origin = places.at[p]!,
      [x, y] = [origin.x + panel.bounds[0] * 1000, origin.y - panel.bounds[1] * 1000];
    // Panel frame (y up) to sheet (y down), millimetres.
    const at = ([u, v]: Point2): [number, number] => [origin.x + u * 1000, origin.y - v * 1000];
    return `<g class="flat-panel" data-panel="${escapeXml(panel.name)}">${paintPanel(bag, draft, panel, p, at, o.units ?? 'metric', k)}${caption(bag, panel, option?.stacks[panel.name], x, y + k * (WORDS + CLEAR), o.units ?? 'metric', k)}</g>`;
  });
  const long = draft.seams.map((seam, i) => [letterOf(seam.name, i), seam.name] as const).filter(([letter, name]) => letter !== name);
  const widest = Math.max(places.width, 420),
    key =
      long.length > 0
        ? `<text class="note" x="${GAP}" y="${n(places.height + k * WORDS)}">${escapeXml(long.map(([letter, name]) => `${letter} ${name}`).join(' · '))}</text>`
        : '';
  const height = places.height + (key ? Math.max(GAP, 2 * k * WORDS) : 0);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(widest)} ${n(height)}" role="img" aria-label="${escapeXml(`Flat panels of ${bag.name}`)}" font-family="system-ui, 'DejaVu Sans', sans-serif"><style>
.cloth{fill:#fbfbf8;stroke:none}.stitch{fill:none;stroke:#15201f;stroke-width:1.2}.open{stroke-dasharray:6 4}.hem{fill:#15201f;fill-opacity:.07;stroke:none}.hem-row{fill:none;stroke:#5b6967;stroke-width:1;stroke-dasharray:4 2.5}.region{fill:#fff7dc;stroke:#5b6967;stroke-width:.6;stroke-dasharray:2 2}.inner{fill:none;stroke:#5b6967;stroke-width:.8}.fold{fill:none;stroke:#15201f;stroke-width:.8;stroke-dasharray:9 3 2 3}
.notch{stroke:#15201f;stroke-width:1.2}.grain{stroke:#5b6967;stroke-width:.9;fill:none}.badge{fill:#17403f}.letter{fill:#f4f1e6;font-size:${n(k * SMALL)}px;font-weight:600;text-anchor:middle}
.size{fill:#4a5856;font-size:${n(k * SMALL)}px;text-anchor:middle;paint-order:stroke;stroke:#fbfbf8;stroke-width:${n(3 * k)}}.name{fill:#15201f;font-size:${n(k * WORDS)}px;font-weight:600}.note{fill:#4a5856;font-size:${n(k * SMALL)}px}.patch{fill:none;stroke:#15201f;stroke-width:.9;stroke-dasharray:3 1.5}.clip{stroke:#1b5fd1;stroke-width:3;fill:none}.mark{fill:#1b5fd1}
</style><rect width="${n(widest)}" height="${n(height)}" fill="#e9ece7"/>${parts.join('')}${key}</svg>`;
}

/** A seam's letter: its own name when that is short, else by its place in the file. */
const letterOf = (name: string, i: number): string => (name.length <= 2 ? name : i < 26 ? String.fromCharCode(65 + i) : `S${i + 1}`);

/** Places for the panels, mm: tallest first on shelves, shorter ones stacked under one another where a shelf has room. */
function layOut(panels: readonly DraftPanel[], most: number, k: number): { at: { x: number; y: number; h: number }[]; width: number; height: number } {
  const size = panels.map((p) => ({ w: Math.max((p.bounds[2] - p.bounds[0]) * 1000, 216 * k), h: (p.bounds[3] - p.bounds[1]) * 1000 }));
  const order = panels.map((_, i) => i).sort((a, b) => size[b]!.h - size[a]!.h || a - b),
    at: { x: number; y: number; h: number }[] = [];
  let shelf = { y: GAP, h: 0, end: GAP, columns: [] as { x: number; w: number; used: number }[] },
    width = 0;
  for (const i of order) {
    const { w, h } = size[i]!,
      need = h + captionHeight(k) + GAP;
    const room = shelf.columns.find((c) => c.w >= w && c.used + need <= shelf.h + 1);
    if (room) {
      at[i] = { x: room.x, y: shelf.y + room.used, h };
      room.used += need;
      continue;
    }
    if (shelf.columns.length > 0 && shelf.end + w > most) shelf = { y: shelf.y + shelf.h, h: 0, end: GAP, columns: [] };
    at[i] = { x: shelf.end, y: shelf.y, h };
    shelf.columns.push({ x: shelf.end, w, used: need });
    shelf.h = Math.max(shelf.h, need);
    shelf.end += w + GAP;
    width = Math.max(width, shelf.end);
  }
  return { at, width, height: shelf.y + shelf.h };
}

function paintPanel(bag: Bag, draft: Draft, panel: DraftPanel, p: number, at: (q: Point2) => [number, number], units: 'metric' | 'inch', k: number): string {
  const source = bag.panels[p]!,
    open = new Set(source.openings.flatMap((name) => source.chains[name] ?? [name]));
  const loops = panel.loops.map(
    (loop) =>
      `M${loop
        .flatMap((e) => polyline(panel.edges[e]!).slice(0, -1))
        .map((q) => pair(at(q)))
        .join('L')}Z`,
  );
  const regions = source.regions.map(
    (r) => `<path class="region" d="M${r.outline.map((q) => pair(at(q))).join('L')}Z"><title>${escapeXml(`${r.name}: ${r.stack}`)}</title></path>`,
  );
  const lines = source.lines.map(
    (line) =>
      `<path class="${line.fold ? 'fold' : 'inner'}" d="M${line.points.map((q) => pair(at(q))).join('L')}"><title>${escapeXml(line.fold ? `${line.name}, fold line` : line.name)}</title></path>`,
  );
  const edges = panel.edges.map(
    (edge) =>
      `<path class="stitch${open.has(edge.name) ? ' open' : ''}" d="M${polyline(edge)
        .map((q) => pair(at(q)))
        .join('L')}"><title>${escapeXml(`${panel.name}.${edge.name} ${lengthIn(edge.length, units)}`)}</title></path>`,
  );
  const seams = draft.seams.flatMap((seam, i) =>
    seam.sides.flatMap((side) => side.runs.filter((run) => run.panel === p).map((run) => paintRun(panel, run, letterOf(seam.name, i), at, units, k, source))),
  );
  const bunches = draft.seams.flatMap((seam) =>
    seam.sides.flatMap((side, k) => (seam.bunches ?? []).map((bunch) => paintBunch(panel, p, side, bunch, k, seam.longer === k, at))),
  );
  const clips = source.clips.map((clip) => {
    if (clip.kind === 'point') return `<circle class="mark" cx="${n(at(clip.at)[0])}" cy="${n(at(clip.at)[1])}" r="3"/>`;
    const edge = panel.edges.find((e) => e.name === clip.run.edge)!;
    return `<path class="clip" d="M${Array.from({ length: 13 }, (_, i) => pair(at(edge.curve.at(clip.run.from + ((clip.run.to - clip.run.from) * i) / 12)))).join('L')}"/>`;
  });
  const marks = source.marks.map(
    (m) => `<circle class="mark" cx="${n(at(m.at)[0])}" cy="${n(at(m.at)[1])}" r="1.8"><title>${escapeXml(m.name)}</title></circle>`,
  );
  const straps = bag.straps.flatMap((s) =>
    s.anchors
      .filter((a) => a.panel === panel.name)
      .map((a) => {
        const [cx, cy] = at(a.at);
        return `<path class="patch" d="${anchorPath(a.kind, cx, cy, a.width * 500, a.height * 500)}"><title>${escapeXml(`${s.name}: ${a.kind}`)}</title></path>`;
      }),
  );
  return `<path class="cloth" fill-rule="evenodd" d="${loops.join('')}"/>${regions.join('')}${finishBands(bag, source, at, units)}${lines.join('')}${grainArrow(panel, source.grain, at)}${edges.join('')}${clips.join('')}${seams.join('')}${bunches.join('')}${straps.join('')}${trimMarks(bag, source, at)}${paintClosures(bag, panel, at)}${marks.join('')}`;
}

/** A strap's end as it is sewn or riveted on: its outline, and in it a cross, a row, a rivet, or the sewn half of a loop under its ring. Middle and half sizes in px. */
function anchorPath(kind: AnchorKind, cx: number, cy: number, w: number, h: number): string {
  const box = (top: number): string => `M${n(cx - w)} ${n(cy + top)}h${n(2 * w)}v${n(h - top)}h${n(-2 * w)}Z`;
  const ring = (y: number, r: number): string => `M${n(cx - r)} ${n(y)}a${n(r)} ${n(r)} 0 1 0 ${n(2 * r)} 0a${n(r)} ${n(r)} 0 1 0 ${n(-2 * r)} 0`;
  switch (kind) {
    case 'box':
      return box(-h);
    case 'box with cross':
      return `${box(-h)}M${n(cx - w)} ${n(cy - h)}L${n(cx + w)} ${n(cy + h)}M${n(cx + w)} ${n(cy - h)}L${n(cx - w)} ${n(cy + h)}`;
    case 'row':
      return `${box(-h)}M${n(cx - w)} ${n(cy)}h${n(2 * w)}`;
    case 'rivet':
      // The width is the rivet's head; in it the hole.
      return ring(cy, w) + ring(cy, w / 3);
    case 'ring loop':
      return box(0) + ring(cy - h / 2, Math.min(w, h / 2));
  }
}

/** One sewn stretch: letter in a badge and length just inside the edge, notches at both ends and the middle. */
function paintRun(
  panel: DraftPanel,
  run: SideRun,
  seam: string,
  at: (q: Point2) => [number, number],
  units: 'metric' | 'inch',
  k: number,
  source: Bag['panels'][number],
): string {
  const edge = panel.edges[run.edge]!;
  const inward = (s: number): [number, number] => {
    const [tx, ty] = edge.curve.tangent(s),
      side = edge.clothOnLeft ? 1 : -1;
    return [-side * ty, side * tx];
  };
  const notches = [run.from, (run.from + run.to) / 2, run.to].map((s) => {
    const [ix, iy] = inward(s),
      q = edge.curve.at(s);
    return `<path class="notch" d="M${pair(at(q))}L${pair(at([q[0] + ix * 0.004, q[1] + iy * 0.004]))}"/>`;
  });
  const middle = (run.from + run.to) / 2,
    [ix, iy] = inward(middle),
    upright = Math.abs(ix) > 0.5,
    q = edge.curve.at(middle);
  // A tab or a base that a line parts from the wall has no more room than a narrow panel.
  const tight =
      Math.min(panel.bounds[2] - panel.bounds[0], panel.bounds[3] - panel.bounds[1]) < 0.16 * k || (!upright && clearance(source, q, [ix, iy]) < 0.08 * k),
    narrow = tight && run.length > 0.13 * k;
  const length = lengthIn(run.length, units);
  const wide = k * (9 + 7.2 * seam.length);
  const place = (inside: number, along: number): [number, number] => at([q[0] + k * (ix * inside - iy * along), q[1] + k * (iy * inside + ix * along)]);
  // Along a long edge of a narrow panel letter and length stand one after the other along the edge, the letter before its middle; elsewhere the length stands beyond the
  // letter, toward the middle of the panel.
  // Beside one another and level they take this much; so they stand close, with the edge's middle between them.
  const half = 0.0005 * (6.6 * length.length + 9 + 7.2 * seam.length + 6);
  const [bx, by] = narrow ? place(0.014, upright ? 0.032 : half - 0.0005 * (wide / k)) : place(0.015, 0);
  // Inside a slanting stretch, a quarter of a round base say, it stands under or over the letter: beside it, those of two quarters would meet.
  const slanting = Math.abs(ix) > 0.35 && Math.abs(iy) > 0.35;
  const [lx, ly] = narrow
    ? place(0.014, upright ? -0.012 : 0.0033 * length.length - half)
    : slanting
      ? [bx, by + (iy > 0 ? -16 : 16) * k]
      : place(upright ? (run.length < 0.06 * k ? 0.028 + 0.0033 * length.length : 0.056) : 0.031, 0);
  const turn = narrow && upright ? ` transform="rotate(-90 ${n(lx)} ${n(ly)})"` : '';
  return `${notches.join('')}<rect class="badge" x="${n(bx - wide / 2)}" y="${n(by - 8 * k)}" width="${n(wide)}" height="${n(16 * k)}" rx="${n(8 * k)}"/><text class="letter" x="${n(bx)}" y="${n(by + 4 * k)}">${escapeXml(seam)}</text><text class="size" x="${n(lx)}" y="${n(ly + 4 * k)}"${turn}>${escapeXml(length)}</text>`;
}

/** How far from q inward, a unit direction, the first drawn line or border of a region lies, m; infinite where none does. */
function clearance(source: Bag['panels'][number], q: Point2, [ix, iy]: readonly [number, number]): number {
  const drawn = [...source.lines.map((l) => l.points), ...source.regions.map((r) => [...r.outline, r.outline[0]!])];
  const far = drawn.flatMap((points) =>
    points.slice(1).map((b, i) => {
      const a = points[i]!,
        [u, v, w, z] = [a[0] - q[0], a[1] - q[1], b[0] - q[0], b[1] - q[1]];
      // Sides of the ray on which the two ends lie; where it passes between them, how far along it.
      const [s, t] = [ix * v - iy * u, ix * z - iy * w];
      return s * t < 0 ? (s * (ix * w + iy * z) - t * (ix * u + iy * v)) / (s - t) : Number.POSITIVE_INFINITY;
    }),
  );
  return Math.min(...far.filter((d) => d > 1e-4), Number.POSITIVE_INFINITY);
}

/** One bunch on one side of its seam: a notch at either end, and on the fuller side a wave along the edge between them. */
function paintBunch(panel: DraftPanel, p: number, side: SeamSide, bunch: DraftBunch, k: number, fuller: boolean, at: (q: Point2) => [number, number]): string {
  const [from, to] = [bunch.from[k]!, bunch.to[k]!];
  // Waves of about 8 mm, as a cutter marks a gather.
  const waves = Math.max(2, Math.round(((to - from) * side.length) / 0.008)),
    count = 4 * waves,
    spots = Array.from({ length: count + 1 }, (_, i) => {
      const { run, fraction } = placeOnSide(side, from + ((to - from) * i) / count);
      if (run.panel !== p) return null;
      const edge = panel.edges[run.edge]!,
        [tx, ty] = edge.curve.tangent(fraction),
        hand = edge.clothOnLeft ? 1 : -1,
        q = edge.curve.at(fraction);
      const inside = (far: number): Point2 => [q[0] - hand * ty * far, q[1] + hand * tx * far];
      return {
        notch: i === 0 || i === count ? `M${pair(at(q))}L${pair(at(inside(0.004)))}` : '',
        wave: pair(at(inside(0.004 + 0.002 * libm.sin((i * Math.PI) / 2)))),
      };
    }).filter((s) => s !== null);
  const notches = spots.map((s) => s.notch).join('');
  const title = `<title>${escapeXml(`gathered ${bunch.drawn.toFixed(2)} to 1 between ${bunch.names[0]} and ${bunch.names[1]}`)}</title>`;
  return `${notches ? `<path class="notch" d="${notches}"/>` : ''}${fuller && spots.length > 1 ? `<path class="inner gather" d="M${spots.map((s) => s.wave).join('L')}">${title}</path>` : ''}`;
}

/** Arrow along the warp through the middle of the panel, a third of its size. */
function grainArrow(panel: DraftPanel, grain: number, at: (q: Point2) => [number, number]): string {
  const [x0, y0, x1, y1] = panel.bounds,
    c: Point2 = [(x0 + x1) / 2, (y0 + y1) / 2],
    half = Math.min(x1 - x0, y1 - y0) / 5;
  const [dx, dy] = [-libm.sin(grain) * half, libm.cos(grain) * half];
  const [ax, ay] = at([c[0] - dx, c[1] - dy]),
    [bx, by] = at([c[0] + dx, c[1] + dy]);
  const l = libm.hypot(bx - ax, by - ay) || 1,
    [ux, uy] = [(bx - ax) / l, (by - ay) / l];
  const head = (x: number, y: number, s: number) =>
    `M${n(x - s * (4 * ux - 2 * uy))} ${n(y - s * (4 * uy + 2 * ux))}L${n(x)} ${n(y)}L${n(x - s * (4 * ux + 2 * uy))} ${n(y - s * (4 * uy - 2 * ux))}`;
  return `<path class="grain" d="M${n(ax)} ${n(ay)}L${n(bx)} ${n(by)}${head(bx, by, 1)}${head(ax, ay, -1)}"><title>grain</title></path>`;
}

function caption(bag: Bag, panel: DraftPanel, stack: string | undefined, x: number, y: number, units: 'metric' | 'inch', k: number): string {
  const [x0, y0, x1, y1] = panel.bounds,
    size = (v: number) => lengthIn(v, units);
  const openings = bag.panels.find((q) => q.name === panel.name)?.openings ?? [];
  const notes = [
    `${size(x1 - x0)} x ${size(y1 - y0)} at the stitch line`,
    ...(stack ? [stack] : []),
    ...(openings.length > 0 ? [`open: ${openings.join(', ')}`] : []),
  ];
  return `<text class="name" x="${n(x)}" y="${n(y)}">${escapeXml(panel.name)}</text>${notes.map((t, i) => `<text class="note" x="${n(x)}" y="${n(y + k * (i + 1) * (SMALL + 3))}">${escapeXml(t)}</text>`).join('')}`;
}

/** A length in the reader's unit alone. */
const lengthIn = (v: number, units: 'metric' | 'inch'): string => (units === 'inch' ? formatInches(v) : formatMm(v));

const n = (v: number): string => (Math.round(v * 100) / 100).toString();
const pair = ([x, y]: readonly [number, number]): string => `${n(x)} ${n(y)}`;
