import { Body, Box, ContactMaterial, ConvexPolyhedron, GSSolver, Material, Plane, Quaternion, type Shape, Sphere, Vec3, World } from 'cannon-es';
import { libm } from '../numerics/index.ts';
import { readyForBodies } from './contact/body/kernel.ts';
import type { BodySpec, Pose } from './join-bodies.ts';
import { lengthOf, momentsOf } from './moments.ts';
import type { RigidBody } from './types.ts';

/** A wall or floor that things rest on: inside is where (p - point) . normal > 0. */
export interface Wall {
  readonly point: readonly [number, number, number];
  /** Unit, inward. */ readonly normal: readonly [number, number, number];
}

export interface DropOptions {
  /** m/s2 */ readonly gravity: readonly [number, number, number];
  /** Longest simulated time, s. */ readonly seconds: number;
  /** Slower than this, m/s (rim speeds included), for a quarter of a second ends it; 0: never. */ readonly still?: number;
  /** Loss of speed per second, 0..1; default 0.3 so that things come to rest. */ readonly damping?: number;
  /** Twice this stays between two things, m, and once this before a wall; default 0. */ readonly apart?: number;
  /** Called after every step with the time, s, and the poses; for closed forms. */ readonly each?: (
    time: number,
    poses: readonly Pose[],
  ) => boolean | undefined;
}

export interface Dropped {
  readonly poses: readonly Pose[];
  /** Largest speed at the end, m/s. */ readonly speed: number;
  /** Simulated, s. */ readonly seconds: number;
}

/** How rigid things are let fall into the bag. */
export type Drop = (specs: readonly BodySpec[], walls: readonly Wall[], o: DropOptions) => Dropped;

/** Step, s, and iterations of the contact solver: a standing bottle creeps 0.6 mm in 3 s at this step (measured). */
const STEP = 1 / 240;
const ITERATIONS = 60;
/** Sides of the prism that stands for a cylinder. */
const SIDES = 32;
/** The prism's radius over the cylinder's where two balls inside it carry what lies on its side. */
const WITHIN = 0.995;
/** Contact stiffness, N/m^3 of the library's own measure: things of half a kilogram sink under 0.1 mm. */
const STIFFNESS = 1e7;

/**
 * Rigid things let fall between fixed walls until they lie still: how contents come to lie before the cloth has its say. Semi-implicit Euler with contact
 * constraints (cannon-es); its moments of inertia come from the bounding box (a sphere's by 67 % too large), so ours are written over them. No cloth.
 * Deterministic: same input, same bytes. specs: friction is the smaller of two that meet; walls take the thing's own.
 */
export function drop(specs: readonly BodySpec[], walls: readonly Wall[], o: DropOptions): Dropped {
  readyForBodies();
  const solver = new GSSolver();
  solver.iterations = ITERATIONS;
  solver.tolerance = 0;
  const world = new World({ gravity: new Vec3(...o.gravity), solver, allowSleep: false });
  const wallMaterial = new Material('wall');
  const materials = specs.map((s) => new Material(s.name));
  const meet = (a: Material, b: Material, friction: number): void => {
    world.addContactMaterial(new ContactMaterial(a, b, { friction, restitution: 0, contactEquationStiffness: STIFFNESS, contactEquationRelaxation: 4 }));
  };
  specs.forEach((s, i) => {
    meet(materials[i]!, wallMaterial, s.friction);
    for (let j = 0; j < i; j++) meet(materials[i]!, materials[j]!, Math.min(s.friction, specs[j]!.friction));
  });
  for (const w of walls) {
    const plane = new Body({ type: Body.STATIC, shape: new Plane(), material: wallMaterial });
    plane.position.set(...w.point);
    plane.quaternion.setFromVectors(new Vec3(0, 0, 1), new Vec3(...w.normal));
    world.addBody(plane);
  }
  const bodies = specs.map((s, i) => {
    const body = new Body({ mass: s.mass, material: materials[i]!, linearDamping: 0, angularDamping: 0 });
    for (const part of partsOf(grown(s.shape, o.apart ?? 0))) body.addShape(part.shape, new Vec3(...part.at));
    body.position.set(...s.at);
    body.quaternion.copy(quaternionOf(s.axes));
    const [a, b, c] = momentsOf(s.shape, s.mass);
    body.inertia.set(a, b, c);
    body.invInertia.set(1 / a, 1 / b, 1 / c);
    body.updateInertiaWorld(true);
    world.addBody(body);
    return body;
  });
  // The library's own damping takes the engine's pow, which is not the same everywhere.
  const kept = libm.exp(STEP * libm.log(1 - (o.damping ?? 0.3)));
  world.addEventListener('preStep', () => {
    for (const b of bodies) {
      b.velocity.scale(kept, b.velocity);
      b.angularVelocity.scale(kept, b.angularVelocity);
    }
  });
  const poses = (): Pose[] => bodies.map((b) => ({ at: [b.position.x, b.position.y, b.position.z], axes: axesOf(b.quaternion) }));
  const fastest = (): number => bodies.reduce((worst, b) => Math.max(worst, b.velocity.length() + b.angularVelocity.length() * b.boundingRadius), 0);
  let calm = 0,
    t = 0;
  while (t < o.seconds && calm < 0.25) {
    world.step(STEP);
    t += STEP;
    calm = fastest() < (o.still ?? 0) ? calm + STEP : 0;
    if (o.each?.(t, poses()) === false) break;
  }
  return { poses: poses(), speed: fastest(), seconds: t };
}

/** The shape with every size larger by `by` all round. */
function grown(s: BodySpec['shape'], by: number): BodySpec['shape'] {
  switch (s.kind) {
    case 'sphere':
      return { ...s, radius: s.radius + by };
    case 'box':
      return { ...s, half: [s.half[0] + by, s.half[1] + by, s.half[2] + by] };
    case 'cylinder': {
      const h = lengthOf(s) / 2 + by;
      return { ...s, a: [0, 0, -h], b: [0, 0, h], radius: s.radius + by };
    }
    default:
      return s;
  }
}

interface Part {
  readonly shape: Shape;
  readonly at: readonly [number, number, number];
}

/**
 * The library's shapes of one body, cylinders along z. A prism does not roll (measured: 9 % late down a slope of 10 degrees with 32
 * sides, 11 % with 128, because friction acts at several corners at once); two balls of the cylinder's own radius inside it do.
 */
function partsOf(shape: BodySpec['shape']): Part[] {
  switch (shape.kind) {
    case 'sphere':
      return [{ shape: new Sphere(shape.radius), at: [0, 0, 0] }];
    case 'box':
      return [{ shape: new Box(new Vec3(...shape.half)), at: [0, 0, 0] }];
    case 'cylinder': {
      const length = lengthOf(shape),
        out = length / 2 - shape.radius,
        rolls = out >= 0,
        r = shape.radius * (rolls ? WITHIN : 1);
      const prism = { shape: prismOf(r, length), at: [0, 0, 0] as const };
      return rolls ? [prism, ...[-out, out].map((z): Part => ({ shape: new Sphere(shape.radius), at: [0, 0, z] }))] : [prism];
    }
    default:
      throw new Error(`a ${shape.kind} cannot be dropped`);
  }
}

/** The prism that stands for a cylinder along z; the library's own takes the engine's sin and cos, which are not the same everywhere. */
function prismOf(radius: number, length: number): ConvexPolyhedron {
  const ring = Array.from({ length: SIDES }, (_, i) => (2 * Math.PI * i) / SIDES);
  const at = (z: number): Vec3[] => ring.map((turn) => new Vec3(radius * libm.cos(turn), radius * libm.sin(turn), z));
  const faces = ring.map((_, i) => [i, (i + 1) % SIDES, SIDES + ((i + 1) % SIDES), SIDES + i]);
  faces.push(
    ring.map((_, i) => SIDES + i),
    ring.map((_, i) => SIDES - 1 - i),
  );
  // Its sides' directions for the test of separating planes: half of them, since the other half points the other way.
  const axes = [...ring.slice(0, SIDES / 2).map((turn) => new Vec3(libm.cos(turn + Math.PI / SIDES), libm.sin(turn + Math.PI / SIDES), 0)), new Vec3(0, 0, 1)];
  return new ConvexPolyhedron({ vertices: [...at(-length / 2), ...at(length / 2)], faces, axes });
}

/** Quaternion that carries the world's axes onto a body's (rows of `axes`). */
function quaternionOf(axes: RigidBody['axes']): Quaternion {
  const q = new Quaternion();
  // Columns of the rotation matrix are the body's axes.
  const m = (r: number, c: number): number => axes[3 * c + r]!;
  const trace = m(0, 0) + m(1, 1) + m(2, 2);
  if (trace > 0) {
    const s = 2 * Math.sqrt(1 + trace);
    q.set((m(2, 1) - m(1, 2)) / s, (m(0, 2) - m(2, 0)) / s, (m(1, 0) - m(0, 1)) / s, s / 4);
  } else {
    const i = m(0, 0) >= m(1, 1) && m(0, 0) >= m(2, 2) ? 0 : m(1, 1) >= m(2, 2) ? 1 : 2,
      j = (i + 1) % 3,
      k = (i + 2) % 3;
    const s = 2 * Math.sqrt(1 + m(i, i) - m(j, j) - m(k, k)),
      v = [0, 0, 0];
    v[i] = s / 4;
    v[j] = (m(j, i) + m(i, j)) / s;
    v[k] = (m(k, i) + m(i, k)) / s;
    q.set(v[0]!, v[1]!, v[2]!, (m(k, j) - m(j, k)) / s);
  }
  q.normalize();
  return q;
}

function axesOf(q: Quaternion): RigidBody['axes'] {
  const [a, b, c] = [new Vec3(1, 0, 0), new Vec3(0, 1, 0), new Vec3(0, 0, 1)].map((v) => q.vmult(v)) as [Vec3, Vec3, Vec3];
  return [a.x, a.y, a.z, b.x, b.y, b.z, c.x, c.y, c.z];
}
