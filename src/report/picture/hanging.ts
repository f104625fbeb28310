import { libm } from '../../numerics/index.ts';
import { DEGREE, escapeXml, formatAngle, formatForce } from '../../units/index.ts';
import { leadRun } from '../judge.ts';
import type { Result } from '../types.ts';
import { bounds, type Frame, paperExtent, poseForView, project } from './camera.ts';
import { inkLines, paintBag } from './paint.ts';
import { solidOfThing, solidPieces } from './solids.ts';
import { FONT_ATTRIBUTES, px, rect, text } from './svg.ts';
import { INK, MUTED, PAPER } from './tokens.ts';

const WIDTH = 420;
const HEIGHT = 460;
const PAD = 26;
/** Room for the words under the bag, px. */
const FOOT = 60;
/** A tilt that rounds to no tenth of a degree, rad. */
const PLUMB = 0.05 * DEGREE;
/** Length that half of the weight is drawn as, m: both legs of one strap bear at least that much together. */
const ARROW = 0.09;

const STYLE =
  `<style>${inkLines('hanging')}.hanging .strap{fill:none;stroke-linecap:round}.hanging .plumb{stroke:${INK};stroke-width:1;stroke-dasharray:6 4}` +
  `.hanging .axis{stroke:${INK};stroke-width:2}.hanging .pull{fill:none;stroke:${PAPER};stroke-width:5;stroke-linejoin:round}` +
  `.hanging .pull+.pull{stroke:${INK};stroke-width:2}.hanging .on{paint-order:stroke;stroke:${PAPER};stroke-width:4px;stroke-linejoin:round}</style>`;

type Point = readonly [number, number, number];

/**
 * Still picture of one hung bag as SVG text, 420 x 460 px: the bag and its straps as they hang in the cabinet view of every other picture, the plumb line
 * under the strap's top, the bag's own upright through its centre of mass with the tilt, and the pull at each anchor as an arrow with its newtons. The scale hangs on what was drafted
 * (bag and straps' lengths, weight) and not on how it hangs, so that pictures of one bag with its anchors moved can be laid over one another. Deterministic.
 * result: hung; null otherwise, or when a position is not a number.
 */
export const hungPicture = (result: Result): string | null => hungDrawing(result)?.svg ?? null;

/** What a picture of one hung bag was drawn of. */
export interface HungDrawing {
  readonly svg: string;
  /** Mesh points as posed, 3 per point, m. */ readonly posed: Float64Array;
  readonly frame: Frame;
}

/** The same picture with the frame it was drawn in. */
export function hungDrawing(result: Result): HungDrawing | null {
  const run = leadRun(result.runs);
  const { hung, positions, contents } = run;
  if (hung === null || run.straps.length === 0 || !positions.every(Number.isFinite)) return null;
  const anchors = hung.straps.flatMap((s) => s.anchors);
  const newton = (2 * ARROW) / hung.weight;
  const solids = contents.map(solidOfThing);
  const points = Float64Array.from([
    ...reachAlong(positions, hung.centreOfMass, hung.upright).flatMap((h) => hung.centreOfMass.map((c, k) => c + h * hung.upright[k])),
    ...anchors.flatMap(({ at, force }) => [...at, ...force.map((f, k) => at[k] + newton * f)]),
  ]);
  const posed = poseForView(result.mesh, result.drafted, positions, [...run.straps.map((s) => s.line), ...solids.map((s) => s.x), points]);
  const lines = posed.beside.slice(0, run.straps.length);
  const placed = posed.beside.at(-1)!;
  const point = (i: number): Point => [placed[3 * i], placed[3 * i + 1], placed[3 * i + 2]];
  const scale = scaleOf(posed.drafted, lines);
  const top = meanTop(lines);
  const frame: Frame = framed(scale, top);
  const at = (p: Point): [number, number] => project(frame, p[0], p[1], p[2]);
  const bag = paintBag(
    result.mesh,
    posed.settled,
    frame,
    run.straps.map((s, i) => ({ width: s.width, line: lines[i] })),
    solids.flatMap((s, i) => solidPieces(frame, s, posed.beside[run.straps.length + i])),
  );
  const [topX, topY] = at(top);
  const arrows = anchors.map((_, i): [Paper, Paper] => [at(point(2 + 2 * i)), at(point(3 + 2 * i))]);
  const [foot, head] = [at(point(0)), at(point(1))];
  const words = hung.tilt < PLUMB ? 'plumb' : `${formatAngle(hung.tilt)} off the plumb line`;
  const svg = [
    `<svg xmlns="http://www.w3.org/2000/svg" class="hanging" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escapeXml(`${result.bag}, ${result.option}, ${result.stance}: hangs ${words}`)}" ${FONT_ATTRIBUTES}>`,
    STYLE,
    rect(0, 0, WIDTH, HEIGHT, PAPER),
    bag,
    `<path class="plumb" d="M${px(topX)} ${px(topY)}V${HEIGHT - FOOT}"/><path class="axis" d="M${foot.map(px).join(' ')}L${head.map(px).join(' ')}"/>`,
    `<circle cx="${px(topX)}" cy="${px(topY)}" r="5" fill="${INK}"/>`,
    ...arrows.map(([a, b]) => arrow(a, b)),
    ...newtons(
      arrows.map(([a]) => a),
      anchors.map((a) => a.size),
      topX,
    ),
    text(WIDTH / 2, HEIGHT - 40, `hangs ${words}`, { size: 16, weight: 600, anchor: 'middle' }),
    text(WIDTH / 2, HEIGHT - 23, 'dashed: plumb line; thick: the bag\u2019s own upright', { size: 12.5, fill: MUTED, anchor: 'middle' }),
    text(WIDTH / 2, HEIGHT - 7, 'pulls hanging still; not what a strap can carry', { size: 12.5, fill: MUTED, anchor: 'middle' }),
    '</svg>\n',
  ].join('\n');
  return { svg, posed: posed.settled, frame };
}

/** How far the bag reaches down and up along its own upright, counted from a point, m. */
function reachAlong(x: Float64Array, from: Point, upright: Point): [number, number] {
  let [low, high] = [0, 0];
  for (let i = 0; i < x.length; i += 3) {
    const d = (x[i] - from[0]) * upright[0] + (x[i + 1] - from[1]) * upright[1] + (x[i + 2] - from[2]) * upright[2];
    [low, high] = [Math.min(low, d), Math.max(high, d)];
  }
  return [low, high];
}

/** px per metre, from lengths that do not change when anchors are moved. */
function scaleOf(drafted: Float64Array, straps: readonly Float64Array[]): number {
  const e = paperExtent(drafted);
  const half = Math.max(...straps.map(lengthOf)) / 2;
  // Its own lowest point: the floor of a posed picture lies under whatever hangs lowest in it.
  const tall = e.top - bounds(drafted).low[2];
  return Math.min((WIDTH - 2 * PAD) / (1.25 * (e.right - e.left)), (HEIGHT - PAD - FOOT) / (1.08 * tall + half));
}

function lengthOf(line: Float64Array): number {
  let l = 0;
  for (let i = 3; i < line.length; i += 3) l += libm.hypot(line[i] - line[i - 3], line[i + 1] - line[i - 2], line[i + 2] - line[i - 1]);
  return l;
}

/** Mean of the straps' highest points. */
function meanTop(straps: readonly Float64Array[]): Point {
  const sum = [0, 0, 0];
  for (const line of straps) {
    let best = 0;
    for (let i = 3; i < line.length; i += 3) if (line[i + 2] > line[best + 2]) best = i;
    for (let k = 0; k < 3; k++) sum[k] += line[best + k] / straps.length;
  }
  return [sum[0], sum[1], sum[2]];
}

/** The strap's top in the middle of the picture's upper edge. */
function framed(scale: number, top: Point): Frame {
  const [x, y] = project({ originX: 0, originY: 0, scale }, ...top);
  return { originX: WIDTH / 2 - x, originY: PAD - y, scale };
}

type Paper = readonly [number, number];

/** A pull from a to b. */
function arrow(a: Paper, b: Paper): string {
  const l = libm.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [u, v] = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  const wing = (side: number): string => `${px(b[0] - 9 * u - 5 * side * v)} ${px(b[1] - 9 * v + 5 * side * u)}`;
  const d = `M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}M${wing(1)}L${px(b[0])} ${px(b[1])}L${wing(-1)}`;
  return `<g><path class="pull" d="${d}"/><path class="pull" d="${d}"/></g><circle cx="${px(a[0])}" cy="${px(a[1])}" r="3" fill="${INK}"/>`;
}

/** Height of a line of newtons, and how far it stands off its anchor, where a ring to take hold of may be drawn, px. */
const LINE = 17;
const OFF = 20;

/**
 * The pulls in newtons, each with its figure as `data-pull` for who writes it in other units, on the side away from the plumb line; where two anchors lie close, the upper one's stands above the lower one's.
 */
function newtons(at: readonly Paper[], pulls: readonly number[], plumb: number): string[] {
  const order = at.map((_, i) => i).sort((i, j) => at[j][1] - at[i][1]);
  const highest = { left: Number.POSITIVE_INFINITY, right: Number.POSITIVE_INFINITY };
  return order.map((i) => {
    const [x, y] = at[i];
    const side = x < plumb ? 'left' : 'right';
    const line = Math.min(y + 5, highest[side] - LINE);
    highest[side] = line;
    return `<g class="on" data-pull="${Number(pulls[i].toPrecision(6))}">${text(x + (side === 'left' ? -OFF : OFF), line, formatForce(pulls[i]), { size: 15, weight: 600, anchor: side === 'left' ? 'end' : 'start' })}</g>`;
  });
}
