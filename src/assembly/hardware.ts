import type { Bag, Hardware, Point2 } from '../bag/types.ts';
import { hardwareFigures } from '../material/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { trianglesOf } from './under-strip.ts';

/** Tells the mass of every piece of hardware, kg, on each corner of the triangle it sits in: its centre of mass is where it is placed, but for its own height. */
export function eachHardware(bag: Bag, mesh: BagMesh, tell: (vertex: number, kg: number, hardware: Hardware) => void): void {
  for (const hardware of bag.hardware ?? []) {
    const { mass } = hardwareFigures(hardware);
    for (const at of hardware.at) {
      const { t, weights } = triangleAt(mesh, hardware.panel, at);
      for (let k = 0; k < 3; k++) tell(mesh.triVerts[3 * t + k]!, weights[k]! * mass, hardware);
    }
  }
}

/** Triangle of a panel and barycentric weights of a flat place; one a little outside a curve's chords goes to the triangle it is least outside of. */
function triangleAt(mesh: BagMesh, panel: string, [x, y]: Point2): { readonly t: number; readonly weights: readonly [number, number, number] } {
  const near = trianglesOf(mesh, panel, [x - 0.05, y - 0.05, x + 0.05, y + 0.05]),
    whole = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY] as const,
    f = mesh.triFlat;
  let [best, least, weights] = [-1, Number.NEGATIVE_INFINITY, [1, 0, 0] as [number, number, number]];
  for (const t of near.length > 0 ? near : trianglesOf(mesh, panel, whole)) {
    const k = 6 * t,
      area = (f[k + 2]! - f[k]!) * (f[k + 5]! - f[k + 1]!) - (f[k + 3]! - f[k + 1]!) * (f[k + 4]! - f[k]!),
      a = ((f[k + 2]! - x) * (f[k + 5]! - y) - (f[k + 3]! - y) * (f[k + 4]! - x)) / area,
      b = ((f[k + 4]! - x) * (f[k + 1]! - y) - (f[k + 5]! - y) * (f[k]! - x)) / area,
      inside = Math.min(a, b, 1 - a - b);
    if (inside > least) [best, least, weights] = [t, inside, [a, b, 1 - a - b]];
  }
  if (least >= 0) return { t: best, weights };
  const clamped = weights.map((w) => Math.max(0, w)),
    sum = clamped[0]! + clamped[1]! + clamped[2]!;
  return { t: best, weights: [clamped[0]! / sum, clamped[1]! / sum, clamped[2]! / sum] };
}
