import { poseAt } from './contact/body/pose.ts';
import type { Pose } from './join-bodies.ts';
import type { System } from './system.ts';
import type { Model, SupportShape } from './types.ts';

/** Mass of cloth and straps, kg: rigid contents are not part of the bag. */
export const clothMass = ({ mass, bodies }: Model): number => mass.subarray(0, bodies?.[0]?.at ?? mass.length).reduce((s, m) => s + m, 0);

/** A rigid body where it lies: shape about its own middle, world directions of its own axes. */
export interface BodyAt extends Pose {
  readonly name: string;
  /** kg */ readonly mass: number;
  readonly shape: SupportShape;
  /** Distance from its surface at which the sheet feels it, m. */ readonly offset: number;
}

/** The model's rigid bodies at x (all its points, m). */
export const bodiesAt = ({ bodies, mass }: Model, x: Float64Array): BodyAt[] =>
  (bodies ?? []).map((b) => ({ name: b.name, mass: mass[b.at]!, shape: b.shape, offset: b.offset, ...poseAt(b, x) }));

/** Forces of loose and rigid contents on the first `length`/3 points of the sheet, N; null where there are none. Call with the forces of the state evaluated. */
export function loadsOnSheet(sys: System, length: number): Float64Array | null {
  const { load } = sys.model;
  if (!load && !sys.bodies) return null;
  const out = new Float64Array(length);
  for (let i = 0; i < length; i++) out[i] = (load?.[i] ?? 0) + (sys.bodies?.onSheet[i] ?? 0);
  return out;
}

/** Sum of forces on points (3n), N. */
export function totalForce(f: Float64Array): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < f.length; i++) out[i % 3]! += f[i]!;
  return out;
}
