import { GRAVITY, libm } from '../../../numerics/index.ts';
import type { Model, Support } from '../../types.ts';
import type { SupportContact } from './support.ts';

/**
 * Soft supports: k = 180 w_v / offset, w_v a vertex's weight or what presses it. A sheet lying flat sinks by 1/180 of the offset; whole walls on one line of
 * vertices sink by tens of times that. Falls, heaps and straps on bars rest on these: hard ones cost them twice the steps and change no word.
 */
const SOFT = 180;

/**
 * Hard supports: k = W/(c L) for every vertex alike, W the weight of what stands, L the root of the sheet's area. A vertex that carries a share s of the weight sinks
 * by s c L: the less the finer the mesh, and in proportion where everything is scaled. c of the normal spring, and of the tangential one that holds by friction:
 * that one hardly moves the figures, and as stiff as the normal one it takes several times the steps (bench:contact).
 */
const NORMAL = 2e-6;
const TANGENTIAL = 7e-3;

/** Stiffness of each vertex (n) on a soft support, N/m, along its normal and along its surface. */
export function softStiffness(model: Model, { offset, only }: Support): Float64Array {
  const { mass, gravity, pressed } = model,
    g = libm.norm(gravity) || GRAVITY;
  // A few points that carry all of it sink as far as many do.
  if (only) return new Float64Array(mass.length).fill((SOFT * weightOf(model)) / only.reduce((sum, v) => sum + v, 0) / offset);
  return mass.map((m, v) => (SOFT * Math.max(m * g, pressed?.[v] ?? 0)) / offset);
}

/** Root of the sheet's area at rest, m. */
function sizeOf({ triRest: X }: Model): number {
  let twice = 0;
  for (let q = 0; q < X.length; q += 6) twice += Math.abs((X[q + 2]! - X[q]!) * (X[q + 5]! - X[q + 1]!) - (X[q + 4]! - X[q]!) * (X[q + 3]! - X[q + 1]!));
  return Math.sqrt(twice / 2);
}

/** Weight of sheet, straps and contents, N. */
function weightOf({ mass, gravity, load, bodies, vertexCount }: Model): number {
  const g = libm.norm(gravity) || GRAVITY,
    sheet = bodies?.[0]?.at ?? vertexCount;
  let W = 0;
  for (let v = 0; v < sheet; v++) {
    W += mass[v]! * g;
    // Forces against gravity, such as a lid that is held up, take nothing off.
    if (load) W += Math.max(0, load[3 * v]! * gravity[0] + load[3 * v + 1]! * gravity[1] + load[3 * v + 2]! * gravity[2]) / g;
  }
  for (const b of bodies ?? []) W += mass[b.at]! * g;
  return W;
}

/** Supports become hard: see NORMAL. `hardness` divides the normal spring's c; 1 but for measuring what is left to gain. Mutates c. */
export function hardenSupports(c: SupportContact, hardness = 1): void {
  const perLength = weightOf(c.model) / sizeOf(c.model);
  for (const k of c.stiffness) k.fill((hardness * perLength) / NORMAL);
  for (const k of c.tangential) k.fill(perLength / TANGENTIAL);
}

/** Supports become soft again, as they were made. Mutates c. */
export function softenSupports(c: SupportContact): void {
  c.model.supports.forEach((s, i) => {
    const soft = softStiffness(c.model, s);
    c.stiffness[i]!.set(soft);
    c.tangential[i]!.set(soft);
  });
}
