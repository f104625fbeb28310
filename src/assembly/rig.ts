import { onStrap } from '../bag/index.ts';
import { type Bag, BagError, type Stance, type Strap } from '../bag/types.ts';
import { type Band, laminateOf } from '../material/index.ts';
import { strapCrossings } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Cables, Support } from '../solver/types.ts';
import { refuseThrough } from './bar-clear.ts';
import { barsOf, heightAlong, overWhat, placesAlong } from './bars.ts';
import { edgeAbove, type Patch, patchCentre, patchOf } from './patch.ts';
import { lengthOf, type Over, overBar, resample, type Vec } from './strap-path.ts';

/** A strap of one scene: its cloth and where its ends are sewn on. */
export interface RiggedStrap {
  readonly strap: Strap;
  readonly patches: readonly [Patch, Patch];
  /** Where it leaves its panels, above the patches. */ readonly edges: readonly [Patch, Patch];
  /** Force per strain, N. */ readonly stiffness: number;
  /** kg/m */ readonly perLength: number;
  /** Thickness of the folded strap, m. */ readonly thickness: number;
  /** Vertices from the first anchor to the second; empty for a strap that carries nothing. */ readonly nodes: readonly number[];
  /** Number of the first of its nodes.length + 1 cables. */ readonly firstCable: number;
}

/** The straps of a scene, and what it takes to hang the bag by them. */
export interface Rig {
  readonly straps: readonly RiggedStrap[];
  /** Level unit vector from first anchors to second ones, and the bar's direction. */ readonly span: Vec;
  readonly axis: Vec;
  readonly supports: readonly Support[];
  readonly cables: Cables | null;
  /** 3 per strap vertex, after the mesh's own. */ readonly extra: Float64Array;
}

type Made = Omit<RiggedStrap, 'nodes' | 'firstCable'>;

/** Least height of the bar over the mouth at the start, m. */
const CLEAR = 0.006;
/** Spacing on a strap, m: coarsest; where it may touch the bar, a share of the bar's radius, at least the finest. */
const COARSE = 0.012;
const FINEST = 0.0012;
const ON_BAR = 0.35;
/** Length beside the bar that is as fine, m: a strap may slide that far. */
const SLIDES = 0.03;
/** Distance over which a strap feels the bar, m, at most. */
const FELT = 5e-4;
/** Straps side by side on a hook start this far apart, m. */
const ABREAST = 0.004;
/** A strap is drawn tight at the start by at most this strain. */
const TIGHT = 0.05;

/** The straps as they are made in one option and band: stiffness along, mass per length, patches. */
function strapsMade(bag: Bag, mesh: BagMesh, band: Band): Made[] {
  return bag.straps.map((strap) => {
    const stack = bag.stacks.find((s) => s.name === strap.stack);
    if (stack === undefined) throw new Error(`unknown stack "${strap.stack}"`);
    const lam = laminateOf(bag, stack, band, onStrap(strap)),
      patches = [patchOf(mesh, strap.anchors[0]), patchOf(mesh, strap.anchors[1])] as const;
    // A narrow strap contracts freely: C11 - C12^2/C22, not C11.
    const along = lam.inPlane[0] - libm.square(lam.inPlane[2]) / lam.inPlane[1];
    return {
      strap,
      patches,
      edges: [edgeAbove(mesh, patches[0]), edgeAbove(mesh, patches[1])],
      stiffness: along * strap.width * strap.layers,
      perLength: lam.arealMass * strap.width * strap.layers,
      thickness: lam.thickness * strap.layers,
    };
  });
}

/** Length between the middles of its two patches, m: the strap pulls at the middle of what is sewn down. */
const sewnLength = (s: Strap): number => s.length + (s.anchors[0].height + s.anchors[1].height) / 2;

const level = (a: Vec, b: Vec): Vec => {
  const l = libm.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return [(b[0] - a[0]) / l, (b[1] - a[1]) / l, 0];
};

/** Level direction from first to second anchors of the straps that carry; straps that run across one another have none in common. */
function spanOf(straps: readonly Made[], x: Float64Array): Vec {
  const each = straps.map((s): Vec => level(patchCentre(s.patches[0], x), patchCentre(s.patches[1], x)));
  const sum: [number, number, number] = [0, 0, 0];
  each.forEach((v, i) => {
    const c = v[0] * each[0]![0] + v[1] * each[0]![1];
    if (Math.abs(c) < 0.7)
      throw new BagError([
        {
          path: `straps.${straps[i]!.strap.name}`,
          got: 'a strap that runs across another',
          expected: 'carrying straps that run the same way, so that one bar goes under all',
        },
      ]);
    sum[0] += Math.sign(c) * v[0];
    sum[1] += Math.sign(c) * v[1];
  });
  return level([0, 0, 0], sum);
}

/** The strap with its first end first along the span: a copy on the back runs the other way, seen from the same side. */
function turned(s: Made, x: Float64Array, span: Vec): Made {
  const a = patchCentre(s.patches[0], x),
    b = patchCentre(s.patches[1], x);
  if ((b[0] - a[0]) * span[0] + (b[1] - a[1]) * span[1] >= 0) return s;
  return { ...s, patches: [s.patches[1], s.patches[0]], edges: [s.edges[1], s.edges[0]] };
}

/**
 * The straps of a bag in one stance. Carrying straps become chains of cables over what the bag hangs from; the bar hangs as high as the shortest of them
 * allows, and longer ones start bowed. A strap is a line: it neither bends nor twists stiffly, lies on the bar by its middle line, and runs along its
 * panel from the patch to the edge above, where it turns without friction, whichever way it leans (as if topstitched or pressed there). Beyond its first point
 * it meets the cloth as a line; it does not feel another strap. x: 3n start, m. weight: bag with contents, N, about: how tight the straps start.
 * Throws BagError where a strap is too short to reach over the bar, or straps run across one another.
 */
export function rigStraps(bag: Bag, mesh: BagMesh, x: Float64Array, stance: Stance, band: Band, weight: number): Rig {
  const all = strapsMade(bag, mesh, band);
  if (stance.kind !== 'hung') {
    const loose = all.map((s) => ({ ...s, nodes: [], firstCable: 0 }));
    return { straps: loose, span: [1, 0, 0], axis: [0, 1, 0], supports: [], cables: null, extra: new Float64Array(0) };
  }
  const carries = (s: Made): boolean => stance.straps.includes(s.strap.name);
  const span = spanOf(all.filter(carries), x),
    axis: Vec = [-span[1], span[0], 0];
  const carrying = all.filter(carries).map((s) => turned(s, x, span));
  const ends = carrying.map((s) => ([0, 1] as const).map((e) => ({ centre: patchCentre(s.patches[e], x) as Vec, edge: patchCentre(s.edges[e], x) as Vec })));
  const mean = (k: number): number => ends.flat().reduce((sum, e) => sum + e.centre[k]!, 0) / (2 * ends.length);
  const middle: Vec = [mean(0), mean(1), 0],
    radius = (stance.diameter + Math.max(...carrying.map((s) => s.thickness))) / 2,
    bar: Over = { centre: middle, span, axis, radius };
  const along = (p: Vec): number => (p[0] - middle[0]) * axis[0] + (p[1] - middle[1]) * axis[1];
  const across = placesAlong(
    stance,
    ends.map(([a, b]) => (along(a!.centre) + along(b!.centre)) / 2),
    ABREAST,
  );
  const way = (i: number, height: number, bow: number): Vec[] | null => {
    const [a, b] = ends[i]!,
      over = overBar(bar, a!.edge, b!.edge, height + heightAlong(stance, across[i]!), across[i]!, bow);
    return over && [a!.centre, ...over, b!.centre];
  };
  const least = Math.max(...ends.flat().map((e) => e.edge[2])) + radius + CLEAR,
    // Stretched at the start by about what it will carry: a slack chain would crumple before it is pulled straight.
    strain = carrying.map((s) => Math.min(TIGHT, weight / (2 * carrying.length * s.stiffness))),
    wanted = carrying.map((s, i) => sewnLength(s.strap) * (1 + strain[i]!));
  const heights = carrying.map((s, i) => {
    const shortest = lengthOf(way(i, least, 0) ?? []);
    if (shortest === 0 || shortest > wanted[i]!)
      throw new BagError([
        {
          path: `straps.${s.strap.name}.length`,
          got: `${Math.round(s.strap.length * 1000)} mm`,
          expected: `at least ${Math.ceil((s.strap.length + shortest - wanted[i]!) * 1000)} mm, to go over ${overWhat(stance)}`,
        },
      ]);
    return bisect((h) => lengthOf(way(i, h, 0)!) - wanted[i]!, least, least + wanted[i]!);
  });
  const height = Math.min(...heights),
    fine = Math.min(COARSE / 2, Math.max(FINEST, ON_BAR * radius)),
    lines = carrying.map((s, i) => {
      const bow = bisect((b) => lengthOf(way(i, height, b)!) - wanted[i]!, 0, wanted[i]!),
        path = way(i, height, bow)!,
        points = resample(path.slice(1, -1), fine, COARSE, SLIDES + (radius * Math.PI) / 2);
      return { strap: s, ends: ends[i]!, points: points.slice(1, -1), slack: 1 + strain[i]! };
    });
  const chains = chainsOf(lines, mesh, x),
    offset = Math.min(FELT, stance.diameter / 8),
    supports = barsOf(stance, [middle[0], middle[1], height], axis, radius - offset, offset);
  refuseThrough(bag, mesh, x, stance, supports);
  return {
    straps: all.map((s) => chains.straps.find((c) => c.strap === s.strap) ?? { ...s, nodes: [], firstCable: 0 }),
    span,
    axis,
    supports,
    cables: chains.cables,
    extra: chains.extra,
  };
}

interface Line {
  readonly strap: Made;
  readonly ends: readonly { readonly centre: Vec; readonly edge: Vec }[];
  /** Free points between the two edges. */ readonly points: readonly Vec[];
  /** Start length over rest length. */ readonly slack: number;
}

/** Cables of the lines: the first and the last of each strap run from the patch through the edge above it to the strap's own points. */
function chainsOf(lines: readonly Line[], mesh: BagMesh, x: Float64Array): { straps: RiggedStrap[]; cables: Cables; extra: Float64Array } {
  const extra: number[] = [],
    start = [0],
    verts: number[] = [],
    weights: number[] = [],
    cableOf: number[] = [],
    rest: number[] = [],
    stiffness: number[] = [];
  const end = (at: Patch | number, sign: number): void => {
    verts.push(...(typeof at === 'number' ? [at] : at.verts));
    weights.push(...(typeof at === 'number' ? [sign] : at.weights.map((w) => sign * w)));
  };
  const straps = lines.map((line): RiggedStrap => {
    const { strap, ends, points } = line,
      first = mesh.vertexCount + extra.length / 3,
      nodes = points.map((_, k) => first + k),
      firstCable = rest.length,
      stops: (Patch | number)[] = [strap.patches[0], strap.edges[0], ...nodes, strap.edges[1], strap.patches[1]],
      places = [ends[0]!.centre, ends[0]!.edge, ...points, ends[1]!.edge, ends[1]!.centre];
    for (const p of points) extra.push(...p);
    for (let k = 0; k + 1 < stops.length; k++) {
      const length = libm.norm([0, 1, 2].map((c) => places[k + 1]![c]! - places[k]![c]!)) / line.slack;
      end(stops[k]!, -1);
      end(stops[k + 1]!, 1);
      start.push(verts.length);
      if (k === 1 || k + 2 === stops.length) rest[rest.length - 1]! += length;
      else {
        rest.push(length);
        stiffness.push(strap.stiffness);
      }
      cableOf.push(rest.length - 1);
    }
    return { ...strap, nodes, firstCable };
  });
  return {
    straps,
    cables: {
      start: Uint32Array.from(start),
      verts: Uint32Array.from(verts),
      weights: Float64Array.from(weights),
      cableOf: Uint32Array.from(cableOf),
      rest: Float64Array.from(rest),
      stiffness: Float64Array.from(stiffness),
      contactEdges: metBy(lines, straps, mesh, x),
    },
    extra: Float64Array.from(extra),
  };
}

/**
 * Pieces of each strap that the cloth must not pass, 2 vertices each: between its own points, and from the first and the last of them to the mesh point of the
 * edge that it leaves its panel nearest to. A piece that begins in the cloth is left out with all of its strap, or where it is one of the two ends, these
 * (a flap across its way): from there no state is reached in which neither passes the other.
 */
function metBy(lines: readonly Line[], straps: readonly RiggedStrap[], mesh: BagMesh, x: Float64Array): Uint32Array {
  const all = Float64Array.from([...x.subarray(0, 3 * mesh.vertexCount), ...lines.flatMap((l) => l.points.flat())]);
  return Uint32Array.from(
    straps.flatMap(({ nodes, edges }) => {
      const clear = (chain: readonly number[]): number[] | null => {
        const pieces = chain.slice(1).flatMap((v, k) => [chain[k]!, v]);
        return strapCrossings(all, mesh.triVerts, pieces) === 0 ? pieces : null;
      };
      return clear([foot(edges[0]), ...nodes, foot(edges[1])]) ?? clear(nodes) ?? [];
    }),
  );
}

/** Vertex of a weighted mean that counts most in it. */
const foot = ({ verts, weights }: Patch): number => verts[weights.indexOf(Math.max(...weights))]!;

/** Root of a rising function between low and high, to a nanometre; low where it is not negative there. */
function bisect(f: (h: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  if (f(a) >= 0) return a;
  while (b - a > 1e-9) {
    const m = (a + b) / 2;
    if (f(m) < 0) a = m;
    else b = m;
  }
  return (a + b) / 2;
}
