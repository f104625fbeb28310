import { libm } from '../../../numerics/index.ts';
import type { SupportShape } from '../../types.ts';

/** Points round the rim of a cylinder: a 96-sided prism lies 0.05 % of its radius lower than the cylinder. */
const RIM = 96;
/** Largest distance of points along an edge, m. */
const ALONG = 0.015;

/** Even steps from -h to h, none longer than ALONG. */
function steps(h: number): number[] {
  const n = Math.max(1, Math.ceil((2 * h) / ALONG));
  return Array.from({ length: n + 1 }, (_, i) => -h + (2 * h * i) / n);
}

/**
 * Points with balls that stand for a body's surface where it meets flat or convex things, 4 numbers each [x y z radius]: the edges of a box, both rims of
 * a cylinder, the axis of a capsule, the middle of a sphere. Shapes about their own origin; others than these four have none and throw.
 */
export function surfacePoints(shape: SupportShape): Float64Array {
  const out: number[] = [];
  switch (shape.kind) {
    case 'sphere':
      return Float64Array.of(...shape.centre, shape.radius);
    case 'capsule': {
      const [a, b] = [shape.a, shape.b],
        half = libm.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / 2;
      for (const s of half > 0 ? steps(half) : [0]) {
        const t = half > 0 ? (s + half) / (2 * half) : 0;
        out.push(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2]), shape.radius);
      }
      return Float64Array.from(out);
    }
    case 'box': {
      const h = shape.half.map((v) => v - shape.round);
      const seen = new Set<string>();
      for (let axis = 0; axis < 3; axis++)
        for (const s of steps(h[axis]!))
          for (const u of [-1, 1])
            for (const v of [-1, 1]) {
              const p = [0, 0, 0];
              p[axis] = s;
              p[(axis + 1) % 3] = u * h[(axis + 1) % 3]!;
              p[(axis + 2) % 3] = v * h[(axis + 2) % 3]!;
              const key = p.join();
              if (seen.has(key)) continue;
              seen.add(key);
              out.push(shape.centre[0] + p[0]!, shape.centre[1] + p[1]!, shape.centre[2] + p[2]!, shape.round);
            }
      return Float64Array.from(out);
    }
    case 'cylinder': {
      // Own axis z: every cylinder of the contents is written so.
      const half = libm.hypot(shape.b[0] - shape.a[0], shape.b[1] - shape.a[1], shape.b[2] - shape.a[2]) / 2 - shape.round,
        r = shape.radius - shape.round;
      for (const z of [-half, half])
        for (let k = 0; k < RIM; k++) {
          const angle = (2 * Math.PI * k) / RIM;
          out.push(r * libm.cos(angle), r * libm.sin(angle), z, shape.round);
        }
      return Float64Array.from(out);
    }
    default:
      throw new Error(`no surface points for a ${shape.kind}`);
  }
}
