import { libm } from '../numerics/index.ts';
import type { SupportShape } from './types.ts';

/**
 * Principal moments of inertia about a shape's own axes, kg m2, of a solid of even density (rounded edges counted as sharp): box m (b^2 + c^2)/3 in half
 * sizes, cylinder m r^2/2 and m (3 r^2 + l^2)/12, sphere 2 m r^2/5, ellipsoid m (b^2 + c^2)/5, capsule as cylinder and two half spheres. Cylinder and
 * capsule lie along their own z. Throws for shapes without a volume of their own. Source: handbook tables of moments of inertia (from memory).
 */
export function momentsOf(shape: SupportShape, mass: number): [number, number, number] {
  switch (shape.kind) {
    case 'box':
    case 'ellipsoid': {
      const [a, b, c] = shape.half.map((h) => h * h) as [number, number, number],
        k = mass / (shape.kind === 'box' ? 3 : 5);
      return [k * (b + c), k * (a + c), k * (a + b)];
    }
    case 'sphere': {
      const i = 0.4 * mass * libm.square(shape.radius);
      return [i, i, i];
    }
    case 'cylinder': {
      const l = lengthOf(shape),
        across = (mass * (3 * libm.square(shape.radius) + l * l)) / 12;
      return [across, across, (mass * libm.square(shape.radius)) / 2];
    }
    case 'capsule': {
      const l = lengthOf(shape),
        r = shape.radius,
        density = mass / (Math.PI * r * r * l + (4 / 3) * Math.PI * libm.cube(r)),
        rod = density * Math.PI * r * r * l,
        ends = mass - rod;
      const across = (rod * (3 * r * r + l * l)) / 12 + ends * (0.4 * r * r + (l * l) / 4 + (3 / 8) * l * r);
      return [across, across, rod * r * r * 0.5 + ends * 0.4 * r * r];
    }
    default:
      throw new Error(`a ${shape.kind} has no moments of inertia here`);
  }
}

/** Distance between the two ends that a cylinder or a capsule is written with, m. */
export const lengthOf = (s: Extract<SupportShape, { kind: 'cylinder' | 'capsule' }>): number => libm.hypot(s.b[0] - s.a[0], s.b[1] - s.a[1], s.b[2] - s.a[2]);

/** Largest distance of a shape's surface from its own origin, m (of the sharp shape where edges are rounded). */
export function reachOf(shape: SupportShape): number {
  switch (shape.kind) {
    case 'box':
      return libm.norm(shape.half);
    case 'ellipsoid':
      return Math.max(...shape.half);
    case 'sphere':
      return shape.radius;
    case 'cylinder':
      return libm.hypot(shape.radius, lengthOf(shape) / 2);
    case 'capsule':
      return shape.radius + lengthOf(shape) / 2;
    default:
      throw new Error(`a ${shape.kind} has no end`);
  }
}
