import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { GRAVITY, libm } from '../numerics/index.ts';
import { symmetricEigen } from './linear.ts';
import { type Rim, rimOf } from './rim.ts';
import { SHELL_ROLES } from './sheet.ts';
import type { HungMeasures, HungStrap, Measures, StrapMeasures } from './types.ts';

type Vec = readonly [number, number, number];

export interface HungInput {
  readonly bag: Bag;
  readonly mesh: BagMesh;
  /** 3n drafted and settled positions, m, z up. */ readonly drafted: Float64Array;
  readonly settled: Float64Array;
  /** n vertex masses with the straps' ends, kg. */ readonly mass: Float64Array;
  /** Contents, kg, and their downward forces as 3n, N; null when empty. */ readonly load: Float64Array | null;
  /** Level directions along the mouth (first to second anchor) and along the bar. */ readonly span: Vec;
  readonly axis: Vec;
  readonly straps: readonly HungStrap[];
  /** Force of hook, bar or shoulder on the straps, N. */ readonly support: Vec;
}

const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const at = (x: ArrayLike<number>, v: number): Vec => [x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!];

/**
 * How the bag hangs. Tilt: angle between the plumb line and the upright of the bag, whose pose is the rotation that best carries the drafted shell onto the
 * settled one (Horn 1987, unit quaternions); sideways along the mouth, forward along the bar (positive toward the axis).
 * mouthDroop: highest less lowest rim point, each counted from its drafted place, in the bag's own pose. baseSag: furthest a base vertex hangs below
 * the mean of the base's border, in that pose; null without a base. mouthKept: rim's extent along the mouth over the drafted one.
 * slid: along the bar's level direction, from where the strap was laid over it.
 * Per strap: drop, from its top to the mean level of the rim; pull, the greatest in a leg (on a round it is read too high by the chord of a piece, 1.6 %); what friction can
 * hold, T (exp(mu theta) - 1), T the slacker leg's pull and theta the angle between the legs (Euler-Eytelwein); slack when no piece pulls more than a hundredth of the bag's weight.
 * Per anchor: force of the leg that leaves the panel above the patch, split by the patch's mean plane into peel (along its normal, positive outward) and shear; inward pull, the level part
 * of the leg's pull along the mouth, read half way up the leg.
 */
export function measureHung(input: HungInput): HungMeasures {
  const { bag, mesh, drafted, settled, span, axis } = input;
  const shell = vertsOf(bag, mesh, (role) => SHELL_ROLES.has(role as never));
  const pose = bestRotation(shell, input.mass, drafted, settled);
  const upright = pose.turn([0, 0, 1]);
  const back = (v: number): Vec => pose.turnBack([0, 1, 2].map((k) => settled[3 * v + k]! - pose.centre[k]!) as unknown as Vec);
  const rim = rimOf(bag, mesh, drafted);
  const centre = centreOfMass(input);
  const weight = -input.mass.reduce((sum, m) => sum - m * GRAVITY, 0) - (input.load?.reduce((sum, f, i) => (i % 3 === 2 ? sum + f : sum), 0) ?? 0);
  return {
    upright,
    tilt: libm.acos(Math.min(1, upright[2])),
    tiltSideways: libm.atan2(dot(upright, span), upright[2]),
    tiltForward: libm.atan2(dot(upright, axis), upright[2]),
    mouthDroop: rim === null ? null : droop(rim, drafted, back),
    mouthKept: rim === null ? null : extent(rim, settled, pose.turn(span)) / extent(rim, drafted, span),
    baseSag: sag(bag, mesh, back),
    centreOfMass: centre,
    weight,
    carried: [...input.support] as [number, number, number],
    slid: Math.max(0, ...input.straps.map((s) => Math.abs(dot(topOf(s.line), axis) - dot(topOf(s.laid), axis)))),
    straps: input.straps.map((s) => strapMeasures(s, input, rim, weight)),
  };
}

function vertsOf(bag: Bag, mesh: BagMesh, wanted: (role: string) => boolean): number[] {
  const out = new Set<number>();
  mesh.panelNames.forEach((name, i) => {
    const panel = bag.panels.find((p) => p.name === name);
    if (panel && wanted(panel.role)) for (const v of mesh.panelVerts[i]!.verts) out.add(v);
  });
  return [...out].sort((a, b) => a - b);
}

/** Rotation that carries `from` onto `to` best in the mass-weighted mean square, and the centre of `to`. */
function bestRotation(verts: readonly number[], mass: Float64Array, from: Float64Array, to: Float64Array) {
  const mean = (x: Float64Array): Vec => {
    let total = 0;
    const c = [0, 0, 0];
    for (const v of verts) {
      total += mass[v]!;
      for (let k = 0; k < 3; k++) c[k]! += mass[v]! * x[3 * v + k]!;
    }
    return [c[0]! / total, c[1]! / total, c[2]! / total];
  };
  const [a, b] = [mean(from), mean(to)];
  const S = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (const v of verts)
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) S[3 * i + j]! += mass[v]! * (from[3 * v + i]! - a[i]!) * (to[3 * v + j]! - b[j]!);
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = S as [number, number, number, number, number, number, number, number, number];
  const { vectors } = symmetricEigen([
    [xx + yy + zz, yz - zy, zx - xz, xy - yx],
    [yz - zy, xx - yy - zz, xy + yx, zx + xz],
    [zx - xz, xy + yx, -xx + yy - zz, yz + zy],
    [xy - yx, zx + xz, yz + zy, -xx - yy + zz],
  ]);
  const [w, x, y, z] = vectors[3] as [number, number, number, number];
  const R = [
    [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
  ];
  const turn = (p: Vec): Vec => R.map((r) => r[0]! * p[0] + r[1]! * p[1] + r[2]! * p[2]) as unknown as Vec;
  const turnBack = (p: Vec): Vec => [0, 1, 2].map((k) => R[0]![k]! * p[0] + R[1]![k]! * p[1] + R[2]![k]! * p[2]) as unknown as Vec;
  return { centre: b, turn, turnBack };
}

function droop(rim: Rim, drafted: Float64Array, back: (v: number) => Vec): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const v of rim.verts) {
    const d = back(v)[2] - drafted[3 * v + 2]!;
    low = Math.min(low, d);
    high = Math.max(high, d);
  }
  return high - low;
}

function extent(rim: Rim, x: Float64Array, along: Vec): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const v of rim.verts) {
    const d = dot(at(x, v), along);
    low = Math.min(low, d);
    high = Math.max(high, d);
  }
  return high - low;
}

/** Border vertices of a base lie on a seam, so another panel has them too. */
function sag(bag: Bag, mesh: BagMesh, back: (v: number) => Vec): number | null {
  let worst: number | null = null;
  mesh.panelNames.forEach((name, i) => {
    if (bag.panels.find((p) => p.name === name)?.role !== 'base') return;
    const verts = [...mesh.panelVerts[i]!.verts],
      border = new Set(Object.values(mesh.outlines[i]!).flatMap((line) => [...line.verts])),
      edge = verts.filter((v) => border.has(v));
    const level = edge.reduce((sum, v) => sum + back(v)[2], 0) / Math.max(1, edge.length);
    for (const v of verts) worst = Math.max(worst ?? 0, level - back(v)[2]);
  });
  return worst;
}

/** Of cloth and contents together; contents act where their weight lies. */
function centreOfMass(input: HungInput): Vec {
  let total = 0;
  const c = [0, 0, 0];
  for (let v = 0; 3 * v < input.settled.length; v++) {
    const m = input.mass[v]! - (input.load ? input.load[3 * v + 2]! / GRAVITY : 0);
    total += m;
    for (let k = 0; k < 3; k++) c[k]! += m * input.settled[3 * v + k]!;
  }
  return [c[0]! / total, c[1]! / total, c[2]! / total];
}

/** Number of a line's highest point. */
function highest(line: Float64Array): number {
  let top = 0;
  for (let i = 1; i < line.length / 3; i++) if (line[3 * i + 2]! > line[3 * top + 2]!) top = i;
  return top;
}
const topOf = (line: Float64Array): Vec => at(line, highest(line));

function strapMeasures(s: HungStrap, input: HungInput, rim: Rim | null, weight: number): StrapMeasures {
  const { line, tension } = s,
    count = line.length / 3,
    top = highest(line);
  const level =
    rim === null
      ? (line[2]! + line[3 * count - 1]!) / 2
      : rim.verts.reduce((sum, v, i) => sum + rim.weights[i]! * input.settled[3 * v + 2]!, 0) / rim.weights.reduce((a, b) => a + b, 0);
  const legs = [tension.subarray(0, s.legs[0]), tension.subarray(tension.length - s.legs[1])].map((own) => own.reduce((a, b) => Math.max(a, b), 0)),
    strongest = Math.max(...legs),
    turn = dot(pieceDirection(line, s.legs[0] - 1, s.legs[0]), pieceDirection(line, count - 1 - s.legs[1], count - s.legs[1])),
    turned = libm.acos(Math.min(1, Math.max(-1, turn)));
  const anchors = ([0, 1] as const).map((e) => {
    const piece = e === 0 ? 0 : tension.length - 1,
      from = e === 0 ? 0 : count - 1,
      // The leg that leaves the panel: point 1 is the edge above the patch.
      d = pieceDirection(line, e === 0 ? 1 : count - 2, e === 0 ? 2 : count - 3),
      pull = tension[piece]!,
      force: Vec = [pull * d[0], pull * d[1], pull * d[2]],
      normal = patchNormal(input.mesh, input.settled, s.patches[e].triangles),
      peel = dot(force, normal),
      half = e === 0 ? Math.floor(top / 2) : Math.floor((top + count - 1) / 2),
      leg = pieceDirection(line, e === 0 ? half : half + 1, e === 0 ? half + 1 : half),
      sign = e === 0 ? 1 : -1;
    return {
      panel: s.patches[e].panel,
      at: [line[3 * from]!, line[3 * from + 1]!, line[3 * from + 2]!] as const,
      force,
      size: Math.abs(pull),
      peel,
      shear: Math.sqrt(Math.max(0, pull * pull - peel * peel)),
      inward: sign * tension[Math.min(half, tension.length - 1)]! * dot(leg, input.span),
      legAngle: libm.acos(Math.min(1, Math.abs(leg[2]))),
    };
  });
  return {
    name: s.name,
    drop: line[3 * top + 2]! - level,
    wantedDrop: s.wantedDrop,
    tension: strongest,
    frictionHolds: Math.min(...legs) * (libm.exp(s.friction * turned) - 1),
    slack: strongest < 0.01 * weight,
    anchors: [anchors[0]!, anchors[1]!],
  };
}

function pieceDirection(line: Float64Array, a: number, b: number): Vec {
  const d = [0, 1, 2].map((k) => line[3 * b + k]! - line[3 * a + k]!),
    l = libm.hypot(d[0]!, d[1]!, d[2]!) || 1;
  return [d[0]! / l, d[1]! / l, d[2]! / l];
}

/** Area-weighted mean face normal of the triangles. */
function patchNormal(mesh: BagMesh, x: Float64Array, triangles: readonly number[]): Vec {
  const n = [0, 0, 0];
  for (const t of triangles) {
    const [a, b, c] = [0, 1, 2].map((k) => at(x, mesh.triVerts[3 * t + k]!)) as [Vec, Vec, Vec];
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]],
      v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
    n[0]! += u[1]! * v[2]! - u[2]! * v[1]!;
    n[1]! += u[2]! * v[0]! - u[0]! * v[2]!;
    n[2]! += u[0]! * v[1]! - u[1]! * v[0]!;
  }
  const l = libm.hypot(n[0]!, n[1]!, n[2]!) || 1;
  return [n[0]! / l, n[1]! / l, n[2]! / l];
}

/** The figures of a hung bag that a verdict rests on. height: drafted height of the mouth, m, or null. */
export function hungGates(hung: HungMeasures, height: number | null): Pick<Measures, 'hangTilt' | 'mouthSag' | 'baseSag' | 'dropMiss'> {
  const misses = hung.straps.flatMap((s) => (s.wantedDrop === null || s.slack ? [] : [Math.abs(s.drop - s.wantedDrop)]));
  return {
    hangTilt: hung.tilt,
    mouthSag: hung.mouthDroop === null || height === null || !(height > 0.001) ? null : hung.mouthDroop / height,
    baseSag: hung.baseSag,
    dropMiss: misses.length === 0 ? null : Math.max(...misses),
  };
}
