import { libm } from '../../numerics/index.ts';
import type { TensionOnly } from '../types.ts';

/**
 * Slack layers behind the sheet: each pulls along one direction n of a triangle's rest frame, and only once the sheet is stretched there beyond its slack e.
 * With s = n . E . n and s0 = e + e^2/2 (the Green strain of that stretch), per area of the sheet
 *   W = k/2 <s - s0>^2,   S += k <s - s0> n n^T,   k = stiffness / (1 + e)^3, <v> = v for v > 0, else 0.
 * This is the layer's own St. Venant-Kirchhoff energy over its own, longer length, which gives the factor; the pull beyond e begins as stiffness (s - e)/(1 + e).
 * Once continuously differentiable; its Hessian jumps where a layer goes taut. Derived here.
 */
export interface TensionOnlyState {
  readonly count: number;
  /** Triangle of each, rising. */ readonly tri: Uint32Array;
  /** 3 per layer: n1^2, n2^2, n1 n2; its product with a Voigt strain (12 doubled) is n . E . n. */ readonly along: Float64Array;
  /** k, N/m */ readonly stiffness: Float64Array;
  /** s0 */ readonly slack: Float64Array;
  /** k where the layer is taut at the evaluated state, else 0. */ readonly active: Float64Array;
  /** Scratch: rates of s. */ readonly rate: Float64Array;
}

export function createTensionOnly(layers: TensionOnly): TensionOnlyState {
  const count = layers.tri.length;
  const along = new Float64Array(3 * count);
  for (let b = 0; b < count; b++) {
    const c = libm.cos(layers.angle[b]!),
      s = libm.sin(layers.angle[b]!);
    along.set([c * c, s * s, c * s], 3 * b);
  }
  return {
    count,
    tri: layers.tri,
    along,
    stiffness: layers.stiffness.map((k, b) => k / libm.cube(1 + layers.ease[b]!)),
    slack: layers.ease.map((e) => e + 0.5 * e * e),
    active: new Float64Array(count),
    rate: new Float64Array(count),
  };
}

/** Adds the stress of taut layers at these strains (3m) and remembers which are taut; returns their energy, J. Parameter area: m, m2. */
export function addTensionOnly(layers: TensionOnlyState, area: Float64Array, strain: Float64Array, stress: Float64Array): number {
  const { along, tri } = layers;
  let energy = 0;
  for (let b = 0; b < layers.count; b++) {
    const q = 3 * tri[b]!,
      p = 3 * b,
      over = along[p]! * strain[q]! + along[p + 1]! * strain[q + 1]! + along[p + 2]! * strain[q + 2]! - layers.slack[b]!;
    const k = over > 0 ? layers.stiffness[b]! : 0;
    layers.active[b] = k;
    if (k === 0) continue;
    energy += 0.5 * area[tri[b]!]! * k * over * over;
    for (let j = 0; j < 3; j++) stress[q + j] = stress[q + j]! + k * over * along[p + j]!;
  }
  return energy;
}

/** Keeps n . dE . n of every layer for addTensionOnlyRates: `dE` (3m) may be overwritten by its stresses in between. */
export function tensionOnlyRates(layers: TensionOnlyState, dE: Float64Array): void {
  const { along, tri } = layers;
  for (let b = 0; b < layers.count; b++) {
    const q = 3 * tri[b]!,
      p = 3 * b;
    layers.rate[b] = layers.active[b] === 0 ? 0 : along[p]! * dE[q]! + along[p + 1]! * dE[q + 1]! + along[p + 2]! * dE[q + 2]!;
  }
}

/** Adds the stress rates of the layers that are taut, of the rates kept by tensionOnlyRates. */
export function addTensionOnlyRates(layers: TensionOnlyState, dS: Float64Array): void {
  const { along, tri } = layers;
  for (let b = 0; b < layers.count; b++) {
    const v = layers.active[b]! * layers.rate[b]!,
      q = 3 * tri[b]!;
    if (v === 0) continue;
    for (let j = 0; j < 3; j++) dS[q + j] = dS[q + j]! + v * along[3 * b + j]!;
  }
}
