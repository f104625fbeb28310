import { truncateAtSupports } from './contact/support.ts';
import { capStep } from './relax.ts';
import { commit, createSystem, forces, newtonDirection, type System } from './system.ts';
import type { Model } from './types.ts';

/** Damping by the air, 1/s. */
const DRAG = 0.5;

/** A sheet in motion: real masses, one Newton step of implicit Euler per frame. */
export interface Fall {
  readonly sys: System;
  /** Advances by dt (default 1/60 s). Returns positions (3n, the working array) and the largest speed, m/s. */
  step(dt?: number): { readonly x: Float64Array; readonly speed: number };
  /** Pulls vertex v toward a point with a spring, N/m; null lets go. */
  pull(v: number, to: readonly [number, number, number] | null, stiffness?: number): void;
  readonly x: Float64Array;
}

/**
 * Motion of the model from x0 (copied): M (x - x_old - dt v)/dt^2 + drag + forces(x) = 0 by one Newton step a frame, projected only
 * when the exact Hessian is not positive. For watching; a verdict comes from stand().
 */
export function createFall(model: Model, x0: Float64Array, arcs = true): Fall {
  const sys = createSystem(model, { arcs }), N = x0.length;
  const x = x0.slice(), v = new Float64Array(N), g = new Float64Array(N), d = new Float64Array(N);
  let grip: { v: number; to: readonly [number, number, number]; k: number } | null = null;
  commit(sys, x);
  return {
    sys,
    x,
    pull(vertex, to, stiffness = 50) {
      grip = to ? { v: vertex, to, k: stiffness } : null;
    },
    step(dt = 1 / 60) {
      forces(sys, x, g);
      const inertia = 1 / (dt * dt) + DRAG / dt;
      for (let i = 0; i < N; i++) if (!model.held[(i / 3) | 0]) g[i] = g[i]! - (model.mass[(i / 3) | 0]! * v[i]!) / dt;
      if (grip) {
        for (let k = 0; k < 3; k++) {
          g[3 * grip.v + k] = g[3 * grip.v + k]! + grip.k * (x[3 * grip.v + k]! - grip.to[k]!);
          sys.diag[9 * grip.v + 4 * k] = sys.diag[9 * grip.v + 4 * k]! + grip.k;
        }
      }
      const step = newtonDirection(sys, g, d, { massFactor: inertia, predicted: null, tolerance: 0.03, positive: false });
      if (!step.ok) d.fill(0);
      capStep(d, 0.02);
      truncateAtSupports(sys.contact, x, d);
      let speed = 0;
      for (let i = 0; i < N; i++) {
        x[i] = x[i]! + d[i]!;
        v[i] = d[i]! / dt;
        if (Math.abs(v[i]!) > speed) speed = Math.abs(v[i]!);
      }
      commit(sys, x);
      return { x, speed };
    },
  };
}
