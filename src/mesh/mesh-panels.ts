import type { Bag, Panel, Point2 } from '../bag/types.ts';
import { libm, toEnd, UnionFind, type Work } from '../numerics/index.ts';
import { boxedPart, findSeamStretches, type SeamStretches } from '../panels/index.ts';
import type { Draft, DraftLine, DraftPanel } from '../panels/types.ts';
import { areaScale } from './area-scale.ts';
import { type Breakpoints, findBreakpoints } from './breakpoints.ts';
import { partDoubles } from './doubles.ts';
import { subdivideEdges } from './edge-subdivision.ts';
import { fillingShape } from './fill.ts';
import { gathersOf } from './gathers.ts';
import { smallestAngle } from './improve.ts';
import { innerLines } from './lines.ts';
import { locateMarks } from './marks.ts';
import { jitteredPoints, rectangleOf, rowMesh, segmentsFor } from './rectangles.ts';
import { lineBreakpoints, regionAt } from './regions.ts';
import { buildRims, type Rim } from './rim.ts';
import { insideLoops } from './seeds.ts';
import { edgeSizes } from './sizing.ts';
import { triangulate } from './triangulate.ts';
import { type BagMesh, type MeshOptions, PART_BASE, PART_RETURN, PART_WALL } from './types.ts';
import { edgeKey, edgeTables, type PanelMesh, weldPanels } from './weld.ts';

/** Region borders nearer than this to a corner are moved onto it, in edge lengths: less would make slivers, more would shift the border visibly. */
const BORDER_SNAP = 0.15;

/**
 * The sewn bag as triangles: every panel meshed flat at edge length h, seam vertices shared.
 * Seams have the same number of segments on both sides, at equal arc-length fractions; corners of either side are vertices on both.
 * Assumes outlines that do not cross themselves (checkPattern) and lengths in metres. Deterministic.
 * Throws RangeError for an edge length that is not positive, for row meshes of anything but rectangles, and when constraints cross.
 */
export const meshPanels = (bag: Bag, draft: Draft, options: MeshOptions): BagMesh => toEnd(meshingPanels(bag, draft, options));

/** The same in steps: a panel's triangulation after another. */
export function* meshingPanels(bag: Bag, draft: Draft, options: MeshOptions): Work<BagMesh> {
  const h = options.edgeLength;
  const kind = options.kind ?? 'graded';
  if (!(h > 0)) throw new RangeError(`invalid edge length ${h}, m; expected a positive length`);
  if (kind !== 'graded')
    for (const panel of draft.panels) if (!rectangleOf(panel)) throw new RangeError(`panel ${panel.name} is not an upright rectangle: ${kind} meshes need one`);
  const soft = kind === 'graded' ? bag.panels.flatMap((panel, p) => lineBreakpoints(borders(panel, draft.lines[p], options), draft.panels[p], p)) : [];
  const breakpoints = findBreakpoints(bag, draft, soft, BORDER_SNAP * h);
  const seamStretches = findSeamStretches(draft, breakpoints);
  const subdivisions =
    kind === 'structured' || kind === 'equilateral'
      ? subdivideEvenly(draft, breakpoints, seamStretches, kind, h)
      : subdivideEdges(
          draft,
          breakpoints,
          seamStretches,
          edgeSizes(
            draft,
            breakpoints,
            h,
            bag.panels.map((panel, p) => borders(panel, draft.lines[p], options)),
          ),
          h,
        );
  yield;
  const rims = buildRims(draft, breakpoints, seamStretches, subdivisions);
  const ears = repeatedEars(rims);
  const single: PanelMesh[] = [];
  for (const [p, panel] of draft.panels.entries()) single.push(yield* meshingPanel(bag.panels[p], panel, draft, p, rims[p], options, ears[p]));
  yield;
  const meshes = partDoubles(single);
  const welded = weldPanels(meshes);
  yield;
  const edges = edgeTables(draft, seamStretches, meshes, welded);
  yield;
  const gathers = gathersOf(bag, draft, { ...welded, ...edges }, h);
  return {
    vertexCount: welded.vertexCount,
    triVerts: welded.triVerts,
    triPanel: welded.triPanel,
    triRegion: welded.triRegion,
    triPart: welded.triPart,
    areaScale: meshes.map((mesh, p) => areaScale(bag.panels[p], draft.panels[p], partAreas(mesh, bag.panels[p].regions.length))),
    triFlat: welded.triFlat,
    ...edges,
    panelNames: draft.panels.map((p) => p.name),
    seamNames: draft.seams.map((s) => s.name),
    panelVerts: meshes.map((mesh, p) => panelVertices(mesh, welded.numbers[p])),
    outlines: draft.panels.map((panel, p) =>
      Object.fromEntries(
        panel.edges.map((edge, e) => [
          edge.name,
          { verts: Uint32Array.from(rims[p].edges[e].verts, (v) => welded.numbers[p][v]), at: Float64Array.from(rims[p].edges[e].at) },
        ]),
      ),
    ),
    marks: locateMarks(bag, welded),
    ...(gathers ? { gathers } : {}),
    quality: qualityOf(meshes),
  };
}

/** Smallest angle below which a panel's lines are cut finer, rad. */
const SOUND = (20.5 * Math.PI) / 180;

/** Lines that must be edges: the panel's own lines first, region borders as closed chains of points, then what the caller asks for. */
const borders = (panel: Panel, lines: readonly DraftLine[], options: MeshOptions): (readonly Point2[])[] => [
  ...lines.map((line) => line.points),
  ...panel.regions.map((r) => [...r.outline, r.outline[0]]),
  ...(options.lines?.[panel.name] ?? []),
];

const PARTS = { wall: PART_WALL, base: PART_BASE, return: PART_RETURN } as const;

const centre = (coords: Float64Array, tris: Uint32Array, t: number): [number, number] => {
  const [a, b, c] = [tris[3 * t], tris[3 * t + 1], tris[3 * t + 2]];
  return [(coords[2 * a] + coords[2 * b] + coords[2 * c]) / 3, (coords[2 * a + 1] + coords[2 * b + 1] + coords[2 * c + 1]) / 3];
};

function* meshingPanel(
  panel: Panel,
  drafted: DraftPanel,
  draft: Draft,
  p: number,
  rim: Rim,
  options: MeshOptions,
  sewnCorners: ReadonlySet<number>,
): Work<PanelMesh> {
  const h = options.edgeLength;
  const kind = options.kind ?? 'graded';
  let coords: Float64Array;
  let tris: Uint32Array;
  const onLine = new Map<number, number>();
  if (kind === 'structured' || kind === 'equilateral') ({ coords, tris } = rowMesh(drafted, rim, kind));
  else if (kind === 'irregular') {
    const inner = jitteredPoints(drafted, h, options.seed ?? 1);
    coords = Float64Array.from([...rim.flat, ...inner]);
    tris = triangulate(Float64Array.from([...rim.bowed, ...inner]), rim.loops, []).tris;
  } else {
    const inside = (x: number, y: number): boolean => insideLoops(rim.flat, rim.loops, x, y);
    const fill = function* (graded: boolean) {
      const lines = innerLines(borders(panel, draft.lines[p], options), rim, inside, h, graded);
      const shape = {
        coords: [...rim.flat, ...lines.points],
        bowed: [...rim.bowed, ...lines.points],
        loops: rim.loops,
        lines: lines.segments,
        cones: coneCorners(rim),
      };
      return { lines, filled: yield* fillingShape(shape, h, sewnCorners) };
    };
    // Even segments serve nearly always; where a border comes to a finely cut outline they leave slivers.
    let made = yield* fill(false);
    if (made.lines.segments.length > 0 && made.filled.minAngle < SOUND) {
      const finer = yield* fill(true);
      if (finer.filled.minAngle > made.filled.minAngle) made = finer;
    }
    const { lines, filled } = made;
    lines.segments.forEach(([a, b], i) => {
      if (lines.source[i] < draft.lines[p].length) onLine.set(edgeKey(a, b), lines.source[i]);
    });
    coords = filled.coords;
    tris = filled.flat.tris;
  }
  const region = new Uint16Array(tris.length / 3);
  if (panel.regions.length > 0) for (let t = 0; t < region.length; t++) region[t] = regionAt(panel, ...centre(coords, tris, t));
  const boxed = draft.boxed[p];
  const part = new Uint8Array(region.length);
  if (boxed) for (let t = 0; t < part.length; t++) part[t] = PARTS[boxedPart(boxed, centre(coords, tris, t))];
  return { rim, coords, tris, region, part, lines: onLine };
}

/** Meshed area of a panel's own stack and of each region, m2. */
function partAreas({ coords, tris, region }: PanelMesh, regions: number): number[] {
  const areas = new Array<number>(regions + 1).fill(0);
  for (let t = 0; t < region.length; t++) {
    const [a, b, c] = [2 * tris[3 * t], 2 * tris[3 * t + 1], 2 * tris[3 * t + 2]];
    areas[region[t]] += ((coords[b] - coords[a]) * (coords[c + 1] - coords[a + 1]) - (coords[c] - coords[a]) * (coords[b + 1] - coords[a + 1])) / 2;
  }
  return areas;
}

/** Even subdivision of the edges for row meshes, as fractions of each seam stretch. Opposite sides get one count, through as many seams as that reaches; rows along y need an even one. */
function subdivideEvenly(draft: Draft, breakpoints: Breakpoints, seamStretches: SeamStretches, kind: 'structured' | 'equilateral', h: number): Float64Array[] {
  const counts = new UnionFind(seamStretches.list.length);
  for (const edges of seamStretches.stretchOf) for (const e of [0, 1]) counts.join(edges[e][0], edges[e + 2][0]);
  const group = seamStretches.list.map((_, s) => counts.find(s));
  const alongY = new Set<number>();
  seamStretches.list.forEach(({ members }, s) => {
    if (members.some((m) => Math.abs(draft.panels[m.panel].edges[m.edge].curve.tangent(0.5)[1]) > 0.5)) alongY.add(group[s]);
  });
  return group.map((g) => {
    const { panel, edge, interval } = seamStretches.list[g].members[0];
    const list = breakpoints[panel][edge];
    const count = segmentsFor(kind, alongY.has(g), draft.panels[panel].edges[edge].length * (list[interval + 1] - list[interval]), h);
    return Float64Array.from({ length: count - 1 }, (_, i) => (i + 1) / count);
  });
}

/** Outline vertices whose two neighbours are one sewn place, the cloth between them less than a straight angle. */
function coneCorners(rim: Rim): Set<number> {
  const found = new Set<number>();
  for (const loop of rim.loops)
    loop.forEach((v, i) => {
      const [a, b] = [loop[(i + loop.length - 1) % loop.length], loop[(i + 1) % loop.length]];
      const f = rim.flat;
      const turn = (f[2 * b] - f[2 * v]) * (f[2 * a + 1] - f[2 * v + 1]) - (f[2 * b + 1] - f[2 * v + 1]) * (f[2 * a] - f[2 * v]);
      if (rim.place[a] === rim.place[b] && turn > 0) found.add(v);
    });
  return found;
}

/** Per panel, outline vertices whose two neighbours are one sewn place, or whose ear an earlier panel has too: these may not be single triangles. */
function repeatedEars(rims: readonly Rim[]): Set<number>[] {
  const seen = new Set<string>();
  return rims.map((rim) => {
    const found = new Set<number>();
    for (const loop of rim.loops)
      loop.forEach((v, i) => {
        const key = earKey(rim, loop, v, i);
        if (seen.has(key) || rim.place[loop[(i + loop.length - 1) % loop.length]] === rim.place[loop[(i + 1) % loop.length]]) found.add(v);
        seen.add(key);
      });
    return found;
  });
}

function earKey(rim: Rim, loop: readonly number[], v: number, i: number): string {
  const ends = [rim.place[loop[(i + loop.length - 1) % loop.length]], rim.place[loop[(i + 1) % loop.length]]].sort((a, b) => a - b);
  return `${rim.place[v]}:${ends[0]}:${ends[1]}`;
}

/** A panel's vertices by increasing welded number; a vertex that the panel is sewn to itself at appears once per flat place. */
function panelVertices(mesh: PanelMesh, numbers: Uint32Array): { verts: Uint32Array; flat: Float64Array } {
  const order = Array.from(numbers.keys()).sort((a, b) => numbers[a] - numbers[b] || a - b);
  const flat = new Float64Array(2 * order.length);
  order.forEach((v, i) => {
    flat[2 * i] = mesh.coords[2 * v];
    flat[2 * i + 1] = mesh.coords[2 * v + 1];
  });
  return { verts: Uint32Array.from(order, (v) => numbers[v]), flat };
}

function qualityOf(meshes: readonly PanelMesh[]): BagMesh['quality'] {
  let [least, sum, count, minEdge, maxEdge] = [Math.PI, 0, 0, Number.POSITIVE_INFINITY, 0];
  for (const { coords, tris } of meshes)
    for (let t = 0; t < tris.length; t += 3) {
      least = Math.min(least, smallestAngle(coords, tris[t], tris[t + 1], tris[t + 2]));
      for (let k = 0; k < 3; k++) {
        const a = tris[t + k];
        const b = tris[t + ((k + 1) % 3)];
        const length = libm.hypot(coords[2 * a] - coords[2 * b], coords[2 * a + 1] - coords[2 * b + 1]);
        sum += length;
        count++;
        minEdge = Math.min(minEdge, length);
        maxEdge = Math.max(maxEdge, length);
      }
    }
  return { minAngleDeg: (least * 180) / Math.PI, meanEdge: sum / count, minEdge, maxEdge };
}
