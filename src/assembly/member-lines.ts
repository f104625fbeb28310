import { edgeLength } from '../bag/index.ts';
import type { Bag, EdgeRun, Member, PanelLine } from '../bag/types.ts';
import { type BagMesh, restCorners } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/** A member's way over the mesh: one chain of mesh edges from its one end to the other. k segments. */
export interface MemberLine {
  /** k + 1 vertices; where it closes, the last is the first. */ readonly verts: readonly number[];
  /** k: panel that each segment was drawn on. */ readonly panels: readonly number[];
  /** k rest lengths, m. */ readonly lengths: readonly number[];
  /** k + 1: turn of the drawn line at each vertex, rad; null where two panels meet, and at the ends of an open one. */ readonly flat: readonly (
    | number
    | null
  )[];
  /** Where the member itself begins and ends on the chain, m: edges' ends lie between vertices where only a stretch is meant. */
  readonly from: number;
  readonly to: number;
  /** Length of the drawn line over that of its segments. */ readonly drawn: number;
}

/** The same while stretches are put together. */
interface Piece {
  verts: number[];
  panels: number[];
  /** Of each segment: its length and direction, flat. */ sides: { length: number; along: readonly [number, number] }[];
  /** Left out at either end, m. */ skip: [number, number];
  /** As drawn, m. */ drawn: number;
}

/** Turn of the sewn line from which a rod that is not formed is cut: piping is snipped there, and a wire ends. */
export const CUT = Math.PI / 6;

/** The lines of one member: stretches that meet end to end are one, whatever panels they lie on and in whichever order they are named. */
export function memberLines(bag: Bag, mesh: BagMesh, member: Member): MemberLine[] {
  const edges = flatEdges(mesh);
  const pieces = [...member.runs.map((run) => alongRun(bag, mesh, edges, run)), ...(member.lines ?? []).map((line) => alongLine(bag, mesh, edges, line))];
  return joined(pieces.filter((p) => p.verts.length > 1)).map((piece) => cutBack(piece, member.stopsShort));
}

type Edges = ReadonlyMap<string, readonly [number, number]>;

/** Vector of every triangle side in its panel's rest shape, by panel and its two vertices. */
function flatEdges(mesh: BagMesh): Edges {
  const out = new Map<string, readonly [number, number]>(),
    f = restCorners(mesh);
  for (let t = 0; t < mesh.triPanel.length; t++)
    for (let k = 0; k < 3; k++) {
      const [i, j] = [(k + 1) % 3, (k + 2) % 3],
        [a, b] = [mesh.triVerts[3 * t + i]!, mesh.triVerts[3 * t + j]!],
        [x, y] = [f[6 * t + 2 * j]! - f[6 * t + 2 * i]!, f[6 * t + 2 * j + 1]! - f[6 * t + 2 * i + 1]!];
      out.set(`${mesh.triPanel[t]} ${a} ${b}`, [x, y]);
      out.set(`${mesh.triPanel[t]} ${b} ${a}`, [-x, -y]);
    }
  return out;
}

function through(edges: Edges, panel: number, verts: readonly number[]): Piece['sides'] {
  return verts.slice(1).map((v, i) => {
    const along = edges.get(`${panel} ${verts[i]} ${v}`)!;
    return { length: libm.hypot(along[0], along[1]), along };
  });
}

/** Arc-length fractions closer than this are one place. */
const SAME = 1e-9;

function alongRun(bag: Bag, mesh: BagMesh, edges: Edges, run: EdgeRun): Piece {
  const p = mesh.panelNames.indexOf(run.panel),
    { verts, at } = mesh.outlines[p]![run.edge]!,
    panel = bag.panels[p]!,
    whole = edgeLength([...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!);
  // Out to the vertices that the stretch's ends lie between.
  let [a, b] = [0, at.length - 1];
  while (a + 1 < at.length && at[a + 1]! <= run.from + SAME) a++;
  while (b > 0 && at[b - 1]! >= run.to - SAME) b--;
  const own = Array.from(verts.subarray(a, b + 1)),
    beyond = (d: number): number => (d < SAME ? 0 : d * whole);
  return {
    verts: own,
    panels: own.slice(1).map(() => p),
    sides: through(edges, p, own),
    skip: [beyond(run.from - at[a]!), beyond(at[b]! - run.to)],
    drawn: (at[b]! - at[a]!) * whole,
  };
}

/** A line drawn on a panel, along the mesh edges that follow it. */
function alongLine(bag: Bag, mesh: BagMesh, edges: Edges, { panel, line }: PanelLine): Piece {
  const p = mesh.panelNames.indexOf(panel),
    l = bag.panels[p]!.lines.findIndex((drawn) => drawn.name === line),
    next = new Map<number, number[]>();
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeLine[e] !== l || mesh.triPanel[mesh.edgeTris[2 * e]!] !== p) continue;
    const [a, b] = [mesh.edgeVerts[2 * e]!, mesh.edgeVerts[2 * e + 1]!];
    next.set(a, [...(next.get(a) ?? []), b]);
    next.set(b, [...(next.get(b) ?? []), a]);
  }
  const ends = [...next].filter(([, to]) => to.length === 1).map(([v]) => v),
    verts = ends.length > 0 ? [Math.min(...ends)] : [...next.keys()].slice(0, 1);
  for (let at = verts[0]; at !== undefined; ) {
    const before = verts.at(-2),
      to: number | undefined = next.get(at)!.find((v) => v !== before);
    if (to === undefined) break;
    verts.push(to);
    if (to === verts[0]) break;
    at = to;
  }
  const sides = verts.length > 1 ? through(edges, p, verts) : [];
  return { verts, panels: verts.slice(1).map(() => p), sides, skip: [0, 0], drawn: sides.reduce((sum, s) => sum + s.length, 0) };
}

const turned = (p: Piece): Piece => ({
  verts: [...p.verts].reverse(),
  panels: [...p.panels].reverse(),
  sides: [...p.sides].reverse().map(({ length, along }) => ({ length, along: [-along[0], -along[1]] })),
  skip: [p.skip[1], p.skip[0]],
  drawn: p.drawn,
});

/** Pieces put end to end where their ends are one vertex and nothing is left out there. */
function joined(pieces: readonly Piece[]): Piece[] {
  const left = [...pieces],
    out: Piece[] = [];
  while (left.length > 0) {
    let line = left.shift()!;
    for (let i = 0; i < left.length; i++) {
      const grown = follows(line, left[i]!) ?? follows(left[i]!, line);
      if (!grown) continue;
      line = grown;
      left.splice(i, 1);
      i = -1;
    }
    out.push(line);
  }
  return out;
}

function follows(line: Piece, piece: Piece): Piece | null {
  if (line.verts[0] === line.verts.at(-1)) return null;
  for (const a of [line, turned(line)])
    for (const b of [piece, turned(piece)])
      if (a.skip[1] === 0 && b.skip[0] === 0 && a.verts.at(-1) === b.verts[0])
        return {
          verts: [...a.verts, ...b.verts.slice(1)],
          panels: [...a.panels, ...b.panels],
          sides: [...a.sides, ...b.sides],
          skip: [a.skip[0], b.skip[1]],
          drawn: a.drawn + b.drawn,
        };
  return null;
}

function cutBack({ verts, panels, sides, skip, drawn }: Piece, stopsShort: number): MemberLine {
  const lengths = sides.map((s) => s.length),
    whole = lengths.reduce((sum, l) => sum + l, 0),
    k = sides.length,
    closed = verts[0] === verts[k];
  const turn = (i: number): number | null => {
    const [a, b] = [i > 0 ? i - 1 : closed ? k - 1 : -1, i < k ? i : closed ? 0 : -1];
    if (a < 0 || b < 0 || panels[a] !== panels[b]) return null;
    const [s, t] = [sides[a]!, sides[b]!],
      cross = s.along[0] * t.along[1] - s.along[1] * t.along[0],
      dot = s.along[0] * t.along[0] + s.along[1] * t.along[1];
    return libm.atan2(cross, dot);
  };
  const scale = drawn / whole;
  return {
    verts,
    panels,
    lengths,
    flat: verts.map((_, i) => turn(i)),
    from: (skip[0] + stopsShort) / scale,
    to: whole - (skip[1] + stopsShort) / scale,
    drawn: scale,
  };
}
