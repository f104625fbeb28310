/** Flat sheets under stress in their plane: the load that buckles them, and how fast they swing. */
import { createSystem } from '../../src/solver/index.ts';
import { newtonDirection } from '../../src/solver/newton.ts';
import { forces } from '../../src/solver/system.ts';
import type { Model } from '../../src/solver/types.ts';
import { firstZero } from '../../src/swatch/critical.ts';

type System = ReturnType<typeof createSystem>;

/** H^-1 r at x, or null past the point where H has a negative direction. Gravity plays no part: only the stress at x does. */
function yielding(sys: System, x: Float64Array, r: Float64Array): Float64Array | null {
  const d = new Float64Array(x.length);
  forces(sys, x, new Float64Array(x.length), 'arc-corrected');
  const g = r.map((v) => -v);
  const step = newtonDirection(sys, g, d, { massFactor: 0, predicted: null, tolerance: 1e-8, positive: false, keepFactor: true });
  return step.ok && !step.projected ? d : null;
}

/**
 * Factor at which a flat sheet, put through `at(factor)` in its plane (3n, in equilibrium there), yields to a sideways pull without bound. The pull is
 * uneven, so that no mode escapes it. Parameters: model; positions of a factor; a factor surely below the sought one.
 */
export function bucklingFactor(model: Model, at: (factor: number) => Float64Array, from: number): number {
  const sys = createSystem(model);
  sys.acceleration.fill(0);
  const rest = at(0);
  const [wide, deep] = [0, 1].map((k) => Math.max(...rest.filter((_, i) => i % 3 === k)));
  const pull = new Float64Array(rest.length);
  for (let v = 0; v < model.vertexCount; v++) {
    const [u, w] = [rest[3 * v] / wide, rest[3 * v + 1] / deep];
    if (!model.held[v]) pull[3 * v + 2] = model.mass[v] * (1 + 0.8 * Math.sin(5 * u + 1) + 0.6 * Math.cos(4 * w - 2 * u));
  }
  return firstZero(
    (factor) => {
      const d = yielding(sys, at(factor), pull);
      return d === null ? Number.NaN : 1 / d.reduce((sum, v, i) => sum + v * pull[i], 0);
    },
    from,
    1,
  );
}

/** The lowest `count` angular frequencies, rad/s, of swinging out of the plane about x, by inverse iteration with the lumped masses. */
export function frequencies(model: Model, x: Float64Array, count: number): number[] {
  const sys = createSystem(model);
  sys.acceleration.fill(0);
  const times = (a: Float64Array, b: Float64Array) => a.reduce((sum, v, i) => sum + v * b[i] * model.mass[(i / 3) | 0], 0);
  const found: Float64Array[] = [];
  const out: number[] = [];
  for (let mode = 0; mode < count; mode++) {
    let q = new Float64Array(x.length);
    for (let v = 0; v < model.vertexCount; v++) if (!model.held[v]) q[3 * v + 2] = 1 + 0.5 * Math.sin(7 * v);
    let square = 0;
    for (let it = 0; it < 40; it++) {
      for (const f of found) {
        const part = times(q, f);
        q = q.map((v, i) => v - part * f[i]);
      }
      const size = Math.sqrt(times(q, q));
      q = q.map((v) => v / size);
      const d = yielding(
        sys,
        x,
        q.map((v, i) => v * model.mass[(i / 3) | 0]),
      );
      if (d === null) return [...out, Number.NaN];
      const next = 1 / times(q, d);
      q = Float64Array.from(d);
      if (Math.abs(next / square - 1) < 1e-8) break;
      square = next;
    }
    const size = Math.sqrt(times(q, q));
    found.push(q.map((v) => v / size));
    out.push(Math.sqrt(square));
  }
  return out;
}
