import { type Bag, BagError, type Fault, type Stance, type Thing } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { type BodySpec, type Drop, distance, reachOf, surfacePoints, type Wall } from '../solver/index.ts';
import type { RigidBody, SupportShape } from '../solver/types.ts';
import { reachThrough } from './reaches.ts';

/** Panels that close the inside of a bag. */
const ROUND_IT = new Set(['front', 'back', 'side', 'gusset', 'base', 'body']);
/** Distance at which the sheet feels a thing, m: half its thickness plus a skin (as for supports). */
const SKIN = 1e-3;
/** Things fall between walls this far inside the start's cloth, m: the cloth's own skin and a hair, so that nothing touches at the start. */
const CLEAR = 1.4e-3;
/** Half the gap left between two things, m: a little more than the skin. */
const APART = 0.6e-3;
/** Directions round the bag, and slopes below the level, from which its inside is measured. */
const AROUND = 32;
const SLOPES = [0, Math.PI / 9, (2 * Math.PI) / 9];
/** Drop height, m, longest time of the drop, s, and the speed that counts as lying still, m/s. */
const HEIGHT = 3e-3;
const TIME = 4;
const STILL = 2e-3;
/** A thing this far through a wall of the inside does not fit, m. */
const SQUEEZED = 1.5e-3;
/**
 * Furthest that a thing may stand in cloth at the start, m: at a mesh point, and between them, where the chords of a coarse mesh cut across a round wall and
 * contact pushes them out (3.1 mm in a backpack of 30 mm: at rest 0.5 mm clear).
 */
const AT_POINT = 1e-4;
const BETWEEN = 5e-3;

export type Holding = Exclude<Stance, { kind: 'held' }>;

/** A thing's shape about its own middle; its length or height along its own z. */
function shapeOfThing({ body }: Thing): SupportShape {
  switch (body.form) {
    case 'block':
      return { kind: 'box', centre: [0, 0, 0], half: [body.size[0] / 2, body.size[1] / 2, body.size[2] / 2], round: body.round };
    case 'roll':
      return { kind: 'cylinder', a: [0, 0, -body.length / 2], b: [0, 0, body.length / 2], radius: body.diameter / 2, round: body.round };
    default:
      return { kind: 'sphere', centre: [0, 0, 0], radius: body.diameter / 2 };
  }
}

/** World directions of its own x, y, z as it is put in. */
function axesOf({ along, turn }: Thing): RigidBody['axes'] {
  const [c, s] = [libm.cos(turn), libm.sin(turn)];
  // Own z along `along`, then turned about the plumb line.
  const rows = { z: [1, 0, 0, 0, 1, 0, 0, 0, 1], x: [0, 0, -1, 0, 1, 0, 1, 0, 0], y: [1, 0, 0, 0, 0, -1, 0, 1, 0] }[along];
  const out = rows.slice();
  for (let r = 0; r < 9; r += 3) {
    out[r] = c * rows[r]! - s * rows[r + 1]!;
    out[r + 1] = s * rows[r]! + c * rows[r + 1]!;
  }
  return out as unknown as RigidBody['axes'];
}

/** Half the extent of a posed shape along a direction, m. */
function halfExtent(shape: SupportShape, axes: RigidBody['axes'], u: readonly [number, number, number]): number {
  const own = [0, 1, 2].map((k) => axes[3 * k]! * u[0] + axes[3 * k + 1]! * u[1] + axes[3 * k + 2]! * u[2]);
  let most = 0;
  const p = surfacePoints(shape);
  for (let k = 0; k < p.length; k += 4) most = Math.max(most, p[k]! * own[0]! + p[k + 1]! * own[1]! + p[k + 2]! * own[2]! + p[k + 3]!);
  return most;
}

/**
 * The inside of the bag as planes: in every direction round it and slantwise below, as far out as its drafted cloth lies (the stuffed start bulges
 * outward from there). Exact for insides without hollows; open at the top. drafted: 3n, m.
 */
function insideOf(bag: Bag, mesh: BagMesh, drafted: Float64Array): Wall[] {
  const verts = new Set<number>();
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (ROUND_IT.has(bag.panels[mesh.triPanel[t]!]!.role)) for (let k = 0; k < 3; k++) verts.add(mesh.triVerts[3 * t + k]!);
  const wall = (x: number, y: number, z: number): Wall => {
    let far = Number.NEGATIVE_INFINITY;
    for (const v of verts) far = Math.max(far, x * drafted[3 * v]! + y * drafted[3 * v + 1]! + z * drafted[3 * v + 2]!);
    const d = far - CLEAR;
    return { point: [d * x, d * y, d * z], normal: [-x, -y, -z] };
  };
  const walls = [wall(0, 0, -1)];
  for (const slope of SLOPES)
    for (let k = 0; k < AROUND; k++) {
      const a = (2 * Math.PI * k) / AROUND;
      walls.push(wall(libm.cos(slope) * libm.cos(a), libm.cos(slope) * libm.sin(a), -libm.sin(slope)));
    }
  return walls;
}

/** How far a posed thing reaches through the wall that it passes most, m; negative where it passes none. */
function through(spec: BodySpec, walls: readonly Wall[]): { readonly by: number; readonly wall: Wall } {
  let worst = { by: Number.NEGATIVE_INFINITY, wall: walls[0]! };
  for (const wall of walls) {
    const out = wall.normal.map((c) => -c) as [number, number, number];
    const by =
      halfExtent(spec.shape, spec.axes, out) +
      (spec.at[0] - wall.point[0]) * out[0] +
      (spec.at[1] - wall.point[1]) * out[1] +
      (spec.at[2] - wall.point[2]) * out[2];
    if (by > worst.by) worst = { by, wall };
  }
  return worst;
}

const mm = (v: number): string => `${(v * 1000).toFixed(1)} mm`;

/**
 * The stance's rigid contents as they lie in the stuffed bag: put in where the file says, or side by side, and let fall (solver/rigid.ts) until still.
 * Throws BagError for things that the bag does not hold, all of them at once. drafted, start: 3n, the cloth as drafted and stuffed, m. pull: gravity, m/s2; drop: how they fall.
 */
export function fillBag(
  bag: Bag,
  stance: Holding,
  mesh: BagMesh,
  drafted: Float64Array,
  start: Float64Array,
  pull: readonly [number, number, number],
  drop: Drop | undefined,
): BodySpec[] {
  const things = stance.contents ?? [];
  if (things.length === 0) return [];
  if (!drop) throw new Error('missing drop: rigid contents need a way to be let fall (solver/rigid.ts)');
  const walls = insideOf(bag, mesh, drafted);
  const floor = walls[0]!.point[2];
  const [left, right] = [1, -1].map((s) => {
    const w = walls.find((wall) => wall.normal[0] === s && wall.normal[2] === 0 && Math.abs(wall.normal[1]) < 1e-9);
    return w ? w.point[0] : 0;
  }) as [number, number];
  const free = things.filter((t) => t.at === null);
  const wide = free.reduce((sum, t) => sum + 2 * halfExtent(shapeOfThing(t), axesOf(t), [1, 0, 0]), 0);
  // Side by side with even gaps; where they need more than the width, each a share of it by its own (what would overlap begins above).
  const gap = Math.max(0, (right - left - wide) / (free.length + 1)),
    squeeze = Math.min(1, (right - left) / wide);
  let edge = left;
  const beside = (half: number): number => {
    const x = edge + gap + squeeze * half;
    edge = x + squeeze * half;
    return 2 * half > right - left ? (left + right) / 2 : Math.max(left + half, Math.min(right - half, x));
  };
  const placed: BodySpec[] = [];
  for (const thing of things) {
    const shape = shapeOfThing(thing);
    const axes = axesOf(thing);
    const half = (
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const
    ).map((u) => halfExtent(shape, axes, u));
    const x = thing.at?.[0] ?? beside(half[0]!);
    const y = thing.at?.[1] ?? 0;
    let z = floor + half[2]! + HEIGHT;
    const reach = reachOf(shape);
    for (const other of placed) {
      // What would begin inside another begins above it.
      const level = libm.hypot(other.at[0] - x, other.at[1] - y);
      const clear = ([0, 1] as const).some(
        (k) => Math.abs(other.at[k] - [x, y][k]!) > half[k]! + halfExtent(other.shape, other.axes, k === 0 ? [1, 0, 0] : [0, 1, 0]),
      );
      if (!clear && level < reach + reachOf(other.shape)) z = Math.max(z, other.at[2] + halfExtent(other.shape, other.axes, [0, 0, 1]) + half[2]! + HEIGHT);
    }
    placed.push({ name: nameOf(things, thing), shape, axes, at: [x, y, z], mass: thing.mass, friction: thing.friction, offset: SKIN });
  }
  const faults = placed.flatMap((spec, i): Fault[] => {
    const { by, wall } = through(
      { ...spec, at: [spec.at[0], spec.at[1], Math.max(spec.at[2], floor + 1)] },
      walls.filter((w) => w.normal[2] === 0),
    );
    if (by <= SQUEEZED) return [];
    const side = Math.abs(wall.normal[0]) > Math.abs(wall.normal[1]) ? 'across the bag' : 'from front to back';
    return [
      {
        path: `stances.${stance.name}.contents[${i}]`,
        got: sizeOf(things[i]!),
        expected: `a thing that fits where it is put: it is ${mm(by)} too far out or too large, ${side}`,
      },
    ];
  });
  if (faults.length > 0) throw new BagError(faults);
  const fallen = drop(placed, walls, { gravity: pull, seconds: TIME, still: STILL, apart: APART });
  const lying = placed.map((spec, i): BodySpec => ({ ...spec, ...fallen.poses[i]! }));
  assertClear(bag, stance, mesh, start, lying, walls);
  return lying;
}

/** A thing's name among the contents: numbered where there are several of its kind. */
function nameOf(things: readonly Thing[], thing: Thing): string {
  const same = things.filter((t) => t.thing === thing.thing);
  return same.length === 1 ? thing.thing : `${thing.thing} ${same.indexOf(thing) + 1}`;
}

function sizeOf({ thing, body }: Thing): string {
  const size = body.form === 'block' ? body.size.map(mm).join(' x ') : body.form === 'ball' ? mm(body.diameter) : `${mm(body.diameter)} x ${mm(body.length)}`;
  return `${thing} of ${size}`;
}

/** Throws BagError where a thing that has come to lie still stands in cloth, was squeezed through a wall or lies above the mouth: the bag is too small for it. */
function assertClear(bag: Bag, stance: Holding, mesh: BagMesh, start: Float64Array, lying: readonly BodySpec[], walls: readonly Wall[]): void {
  const out = new Float64Array(4);
  let mouth = Number.NEGATIVE_INFINITY;
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (ROUND_IT.has(bag.panels[mesh.triPanel[t]!]!.role)) for (let k = 0; k < 3; k++) mouth = Math.max(mouth, start[3 * mesh.triVerts[3 * t + k]! + 2]!);
  const faults = lying.flatMap((s, i): Fault[] => {
    const posed: SupportShape = { kind: 'posed', shape: s.shape, origin: s.at, axes: s.axes };
    const cloth = reachThrough(posed, mesh, start);
    let point = 0;
    for (const v of mesh.triVerts) {
      distance(posed, start[3 * v]!, start[3 * v + 1]!, start[3 * v + 2]!, out);
      point = Math.min(point, out[0]!);
    }
    const squeezed = through(s, walls).by,
      above = s.at[2] - mouth;
    const inCloth = point <= -AT_POINT || cloth.by >= BETWEEN;
    if (!inCloth && squeezed <= SQUEEZED && above <= 0) return [];
    const how =
      above > 0
        ? `its middle lies ${mm(above)} above the mouth`
        : inCloth
          ? `it reaches ${mm(cloth.by)} through ${cloth.panel}`
          : `the things together press it ${mm(squeezed)} through a wall`;
    return [
      { path: `stances.${stance.name}.contents[${i}]`, got: sizeOf((stance.contents ?? [])[i]!), expected: `contents that the bag has room for: ${how}` },
    ];
  });
  if (faults.length > 0) throw new BagError(faults);
}
