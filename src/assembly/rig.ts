import { type Bag, BagError, type Stance, type Strap } from '../bag/types.ts';
import { type Band, laminateOf } from '../material/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import type { Cords, Model, Support } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';
import { onPanel, type Patch, patchCentre, patchOf } from './patch.ts';
import { lengthOf, type Over, overBar, resample, type Vec } from './strap-path.ts';

type Hung = Extract<Stance, { kind: 'hung' }>;

/** A strap of one scene: its cloth and where its ends are sewn on. */
export interface RiggedStrap {
  readonly strap: Strap;
  readonly patches: readonly [Patch, Patch];
  /** Force per strain, N. */ readonly stiffness: number;
  /** kg/m */ readonly perLength: number;
  /** Thickness of the folded strap, m. */ readonly thickness: number;
  /** Vertices from the first anchor to the second; empty for a strap that carries nothing. */ readonly nodes: readonly number[];
  /** Number of the first of its nodes.length + 1 cords. */ readonly firstCord: number;
}

/** The straps of a scene, and what it takes to hang the bag by them. */
export interface Rig {
  readonly straps: readonly RiggedStrap[];
  /** Level unit vector from first anchors to second ones, and the bar's direction. */ readonly span: Vec;
  readonly axis: Vec;
  /** Top of the carrying straps at the start, m. */ readonly top: Vec;
  readonly supports: readonly Support[];
  readonly cords: Cords | null;
  /** 3 per strap vertex, after the mesh's own. */ readonly extra: Float64Array;
}

/** A strap starts this far off its panel, and leaves it this far above the edge, m: clear of the cloth, yet nearly where it will lie. */
const CLEAR = 0.003;
/** Spacing on a strap, m: coarsest, and finest and largest share of the bar's radius where it may touch the bar. */
const COARSE = 0.012;
const FINEST = 0.0012;
const ON_BAR = 0.35;
/** Length beside the bar that is as fine: a strap may slide that far. */
const SLIDES = 0.03;
/** Distance over which a strap feels the bar, m, at most. */
const FELT = 5e-4;
/** A hook is two bars that rise from its lowest point at this angle, each this long. */
const RISE = Math.PI / 6;
const WIRE = 0.06;
/** Straps side by side on a hook start this far apart, m. */
const ABREAST = 0.004;

/** The straps as they are made in one option and band: stiffness along, mass per length, patches. */
function made(bag: Bag, mesh: BagMesh, band: Band): Omit<RiggedStrap, 'nodes' | 'firstCord'>[] {
  return bag.straps.map((strap) => {
    const stack = bag.stacks.find((s) => s.name === strap.stack);
    if (stack === undefined) throw new Error(`unknown stack "${strap.stack}"`);
    const lam = laminateOf(bag, stack, band);
    // A narrow strap contracts freely: C11 - C12^2/C22, not C11.
    const along = lam.inPlane[0] - lam.inPlane[2] ** 2 / lam.inPlane[1];
    return {
      strap,
      patches: [patchOf(mesh, strap.anchors[0]), patchOf(mesh, strap.anchors[1])],
      stiffness: along * strap.width * strap.layers,
      perLength: lam.arealMass * strap.width * strap.layers,
      thickness: lam.thickness * strap.layers,
    };
  });
}

/** Length between the middles of its two patches, m: the strap pulls at the middle of what is sewn down. */
const sewnLength = (s: Strap): number => s.length + (s.anchors[0].height + s.anchors[1].height) / 2;

const unit = (v: readonly number[]): Vec => {
  const l = Math.hypot(v[0]!, v[1]!, v[2]!) || 1;
  return [v[0]! / l, v[1]! / l, v[2]! / l];
};

/** Points up the face of the panel from the top of a patch to a little above the edge over it, all CLEAR of the cloth. */
function upThePanel(mesh: BagMesh, x: Float64Array, patch: Patch): Vec[] {
  const { at, height } = patch.anchor,
    step = 0.004,
    points: Vec[] = [];
  for (let up = height / 2; ; up += step) {
    const here = onPanel(mesh, x, patch.panel, [at[0], at[1] + up]);
    if (here === null) break;
    points.push([0, 1, 2].map((k) => here.point[k]! + CLEAR * here.normal[k]!) as unknown as Vec);
  }
  const last = points.at(-1) ?? (patchCentre(patch, x) as Vec),
    before = points.at(-2) ?? (patchCentre(patch, x) as Vec);
  const on = unit([0, 1, 2].map((k) => last[k]! - before[k]!));
  points.push([0, 1, 2].map((k) => last[k]! + (step + CLEAR) * on[k]!) as unknown as Vec);
  return points;
}

/** Level direction from first to second anchors of the straps that carry; straps that run across one another have none in common. */
function spanOf(straps: readonly Omit<RiggedStrap, 'nodes' | 'firstCord'>[], x: Float64Array): Vec {
  const each = straps.map((s): Vec => {
    const [a, b] = s.patches.map((p) => patchCentre(p, x)) as unknown as [Vec, Vec];
    return unit([b[0] - a[0], b[1] - a[1], 0]);
  });
  const first = each[0]!;
  const sum = [0, 0, 0];
  each.forEach((v, i) => {
    const c = v[0] * first[0] + v[1] * first[1];
    if (Math.abs(c) < 0.7)
      throw new BagError([{ path: `straps.${straps[i]!.strap.name}`, got: 'a strap that runs across another', expected: 'straps that run the same way, to hang from one bar' }]);
    for (let k = 0; k < 3; k++) sum[k]! += Math.sign(c) * v[k]!;
  });
  return unit(sum);
}

/**
 * The straps of a bag in one stance. Carrying straps become chains of cords over what the bag hangs from; the bar hangs as high as the shortest of them
 * allows, and longer ones start bowed. A strap is taken as a line: it neither bends nor twists stiffly, and lies on the bar by its middle line.
 * placed: 3n sewn start, m.  Throws BagError where a strap is too short to reach over the bar.
 */
export function rigStraps(bag: Bag, mesh: BagMesh, placed: Float64Array, stance: Stance, band: Band): Rig {
  const all = made(bag, mesh, band);
  if (stance.kind !== 'hung') {
    const loose = all.map((s) => ({ ...s, nodes: [], firstCord: 0 }));
    return { straps: loose, span: [1, 0, 0], axis: [0, 1, 0], top: [0, 0, 0], supports: [], cords: null, extra: new Float64Array(0) };
  }
  const carrying = all.filter((s) => stance.straps.includes(s.strap.name));
  const span = spanOf(carrying, placed),
    axis: Vec = [-span[1], span[0], 0];
  const thickest = Math.max(...carrying.map((s) => s.thickness)),
    radius = stance.diameter / 2 + thickest / 2;
  const ends = carrying.map((s) => s.patches.map((p) => ({ centre: patchCentre(p, placed) as Vec, up: upThePanel(mesh, placed, p) })));
  const middle = [0, 1, 2].map((k) => ends.flat().reduce((sum, e) => sum + e.centre[k]!, 0) / (2 * ends.length)) as unknown as Vec;
  const bar: Over = { centre: middle, span, axis, radius };
  const along = (p: Vec): number => (p[0] - middle[0]) * axis[0] + (p[1] - middle[1]) * axis[1];
  const across = ends.map((pair, i) => {
    if (stance.from === 'hook') return (i - (ends.length - 1) / 2) * ABREAST;
    return (along(pair[0]!.centre) + along(pair[1]!.centre)) / 2;
  });
  const rise = (y: number): number => (stance.from === 'hook' ? Math.abs(y) * Math.tan(RISE) : stance.from === 'shoulder' ? -y * Math.tan(stance.slope) : 0);
  const way = (i: number, height: number, bow: number): Vec[] | null => {
    const [a, b] = ends[i]!,
      over = overBar(bar, a!.up.at(-1)!, b!.up.at(-1)!, height + rise(across[i]!), across[i]!, bow);
    return over && [a!.centre, ...a!.up.slice(0, -1), ...over, ...b!.up.slice(0, -1).reverse(), b!.centre];
  };
  const least = Math.max(...ends.flat().map((e) => e.up.at(-1)![2])) + radius + 2 * CLEAR,
    wanted = carrying.map((s) => sewnLength(s.strap));
  const heights = carrying.map((s, i) => {
    const shortest = lengthOf(way(i, least, 0) ?? []);
    if (shortest === 0 || shortest > wanted[i]!)
      throw new BagError([
        {
          path: `straps.${s.strap.name}.length`,
          got: `${Math.round(s.strap.length * 1000)} mm`,
          expected: `at least ${Math.ceil((s.strap.length + shortest - wanted[i]!) * 1000)} mm, to go over a ${stance.from} of ${Math.round(stance.diameter * 1000)} mm`,
        },
      ]);
    return bisect((h) => lengthOf(way(i, h, 0)!) - wanted[i]!, least, least + wanted[i]!);
  });
  const height = Math.min(...heights);
  const fine = Math.min(COARSE / 2, Math.max(FINEST, ON_BAR * radius)),
    near = SLIDES + (radius * Math.PI) / 2;
  const extra: number[] = [],
    start = [0],
    verts: number[] = [],
    weights: number[] = [],
    rest: number[] = [],
    stiffness: number[] = [],
    edges: number[] = [];
  const straps: RiggedStrap[] = [];
  for (const s of all) {
    const i = carrying.indexOf(s);
    if (i < 0) {
      straps.push({ ...s, nodes: [], firstCord: 0 });
      continue;
    }
    const bow = bisect((b) => lengthOf(way(i, height, b)!) - wanted[i]!, 0, wanted[i]!);
    const path = way(i, height, bow)!,
      points = resample(path.slice(1, -1), fine, COARSE, near),
      line = [path[0]!, ...points, path.at(-1)!],
      scale = wanted[i]! / lengthOf(line),
      first = mesh.vertexCount + extra.length / 3,
      nodes = points.map((_, k) => first + k);
    straps.push({ ...s, nodes, firstCord: rest.length });
    for (const p of points) extra.push(...p);
    for (let k = 0; k + 1 < line.length; k++) {
      const end = (patch: Patch | null, node: number, sign: number): void => {
        if (patch === null) {
          verts.push(node);
          weights.push(sign);
        } else {
          verts.push(...patch.verts);
          weights.push(...patch.weights.map((w) => sign * w));
        }
      };
      end(k === 0 ? s.patches[0] : null, nodes[k - 1]!, -1);
      end(k + 2 === line.length ? s.patches[1] : null, nodes[k]!, 1);
      start.push(verts.length);
      rest.push(scale * Math.hypot(...[0, 1, 2].map((c) => line[k + 1]![c]! - line[k]![c]!)));
      stiffness.push(s.stiffness);
      if (k > 0 && k + 2 < line.length) edges.push(nodes[k - 1]!, nodes[k]!);
    }
  }
  const offset = Math.min(FELT, stance.diameter / 8);
  return {
    straps,
    span,
    axis,
    top: [middle[0], middle[1], height + radius],
    supports: barsOf(stance, [middle[0], middle[1], height], axis, radius - offset, offset),
    cords: {
      start: Uint32Array.from(start),
      verts: Uint32Array.from(verts),
      weights: Float64Array.from(weights),
      rest: Float64Array.from(rest),
      stiffness: Float64Array.from(stiffness),
      edges: Uint32Array.from(edges),
    },
    extra: Float64Array.from(extra),
  };
}

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

/** What the straps lie on. A shoulder falls along the axis; its surface meets the start height where the straps are. */
function barsOf(stance: Hung, at: Vec, axis: Vec, radius: number, offset: number): Support[] {
  const bar = (name: string, from: number, to: number, up: number): Support => {
    const end = (d: number, r: number): Vec => [at[0] + d * axis[0], at[1] + d * axis[1], at[2] + r];
    return { name, sdf: { kind: 'capsule', a: end(from, Math.abs(from) * up), b: end(to, Math.abs(to) * up), radius }, friction: stance.friction, offset };
  };
  if (stance.from === 'hook') {
    const out = WIRE * Math.cos(RISE);
    return [bar('hook', 0, -out, Math.tan(RISE)), bar('hook', 0, out, Math.tan(RISE))];
  }
  if (stance.from === 'bar') return [bar('bar', -1, 1, 0)];
  const fall = Math.tan(stance.slope);
  const a: Vec = [at[0] - 0.3 * axis[0], at[1] - 0.3 * axis[1], at[2] + 0.3 * fall],
    b: Vec = [at[0] + 0.3 * axis[0], at[1] + 0.3 * axis[1], at[2] - 0.3 * fall];
  return [{ name: 'shoulder', sdf: { kind: 'capsule', a, b, radius: radius * Math.cos(stance.slope) }, friction: stance.friction, offset }];
}

/** The model with its straps: their vertices after the mesh's own, their weight, and the force with which they press on what they touch. */
export function withStraps(model: Model, rig: Rig, stance: Stance): Model {
  if (rig.straps.length === 0) return model;
  const n = model.vertexCount + rig.extra.length / 3,
    grown = new Float64Array(n);
  grown.set(model.mass);
  for (const s of rig.straps) {
    // Each sewn-down end is the strap's own piece of the patch's height; a strap that carries nothing hangs half on each patch.
    const lies = (s.strap.anchors[0].height + s.strap.anchors[1].height) / 2,
      ends = (s.nodes.length > 0 ? lies / 2 : (lies + s.strap.length + lies) / 2) * s.perLength;
    for (const p of s.patches)
      p.verts.forEach((v, i) => {
        grown[v] = grown[v]! + ends * p.weights[i]!;
      });
    for (let k = 0; k <= s.nodes.length; k++) {
      if (s.nodes.length === 0 || !rig.cords) break;
      const half = (rig.cords.rest[s.firstCord + k]! * s.perLength) / 2;
      const give = (node: number | undefined, patch: Patch): void => {
        if (node !== undefined) grown[node] = grown[node]! + half;
        else
          patch.verts.forEach((v, i) => {
            grown[v] = grown[v]! + half * patch.weights[i]!;
          });
      };
      give(s.nodes[k - 1], s.patches[0]);
      give(s.nodes[k], s.patches[1]);
    }
  }
  if (!rig.cords || stance.kind !== 'hung') return { ...model, mass: grown };
  const held = new Uint8Array(n),
    pressed = new Float64Array(n),
    load = model.load && new Float64Array(n * 3);
  held.set(model.held);
  load?.set(model.load!);
  let total = 0;
  for (const m of grown) total += m * GRAVITY;
  if (model.load) for (let v = 2; v < model.load.length; v += 3) total -= model.load[v]!;
  const carrying = rig.straps.filter((s) => s.nodes.length > 0);
  for (const s of carrying)
    for (const [k, v] of s.nodes.entries()) {
      // Two legs share the weight; over a bar of radius R a piece l long presses with T l / R.
      const l = (rig.cords.rest[s.firstCord + k]! + rig.cords.rest[s.firstCord + k + 1]!) / 2;
      pressed[v] = (total / (2 * carrying.length)) * Math.min(1, (2 * l) / stance.diameter);
    }
  return { ...model, vertexCount: n, mass: grown, held, pressed, supports: rig.supports, cords: rig.cords, ...(load ? { load } : {}) };
}
