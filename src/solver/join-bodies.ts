import { surfacePoints } from './contact/support/surface.ts';
import { momentsOf, reachOf } from './moments.ts';
import type { Model, RigidBody, SupportShape } from './types.ts';

/** Where a rigid thing is: its centre, m, and the world directions of its own x, y, z. */
export interface Pose {
  readonly at: readonly [number, number, number];
  readonly axes: RigidBody['axes'];
}

export interface BodySpec extends Pose {
  readonly name: string;
  /** About its own origin; cylinders and capsules along own z. */ readonly shape: SupportShape;
  /** kg */ readonly mass: number;
  readonly friction: number;
  /** Half the cloth's thickness plus a skin, m. */ readonly offset: number;
}

/** Least share of a body's mass that a rotation counts with: a thin rod's turn about itself would otherwise be free of inertia in the step. */
const LEAST = 0.05;

/**
 * The model with rigid things among its unknowns, and its positions with theirs: two points each at the end (types.ts, RigidBody). x: 3n positions, m.
 * Rotations count with the mean of the three moments of inertia: exact for spheres and cubes, and a bound on the step alone where a rest shape is sought.
 */
export function joinBodies(model: Model, x: Float64Array, specs: readonly BodySpec[]): { readonly model: Model; readonly x: Float64Array } {
  if (specs.length === 0) return { model, x };
  const n = model.vertexCount,
    grown = n + 2 * specs.length,
    longer = (a: Float64Array, size: number): Float64Array => {
      const out = new Float64Array(size * grown);
      out.set(a);
      return out;
    };
  const mass = longer(model.mass, 1),
    positions = longer(x, 3),
    held = new Uint8Array(grown);
  held.set(model.held);
  const bodies = specs.map((s, i): RigidBody => {
    const at = n + 2 * i,
      reach = reachOf(s.shape),
      moments = momentsOf(s.shape, s.mass);
    mass[at] = s.mass;
    mass[at + 1] = Math.max(LEAST * s.mass, (moments[0] + moments[1] + moments[2]) / 3 / (reach * reach));
    positions.set(s.at, 3 * at);
    return { name: s.name, at, shape: s.shape, axes: s.axes, reach, points: surfacePoints(s.shape), friction: s.friction, offset: s.offset };
  });
  return {
    model: {
      ...model,
      vertexCount: grown,
      mass,
      held,
      bodies,
      ...(model.load ? { load: longer(model.load, 3) } : {}),
      ...(model.pressed ? { pressed: longer(model.pressed, 1) } : {}),
    },
    x: positions,
  };
}
