/**
 * Layers glued to one another: classical lamination about the shared neutral plane, with a compressive stiffness of its own for each layer.
 *
 * Why not the tension stiffness on both sides: cloth in compression gives way by yarns bowing out, so laminate theory with tension moduli
 * over-predicts fused stacks (Kim, Inui, Takatera 2012, Text. Res. J. 82(4) 385: prediction improves with a separate compressive modulus and a
 * neutral axis that is not central). The layer's own bending tells its compressive stiffness: a sheet with tensile modulus Et and compressive Ec
 * bends with Eb = 4 Et Ec/(sqrt Et + sqrt Ec)^2 (Timoshenko, Strength of Materials II, bimodulus beam; from memory), hence
 * Ec/Et = q/(2 - sqrt q)^2 with q = Eb/Et = 12 B/(t^2 C). For a homogeneous sheet q = 1 and Ec = Et: plain lamination theory.
 */

import type { Four } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { inverse, plus, type Sym, sandwich, turned, ZERO } from './orthotropy.ts';

/** One layer in its own warp frame, and where it lies in the stack. */
export interface BondLayer {
  readonly bending: Four;
  readonly inPlane: Four;
  readonly thickness: number;
  /** Warp from the axes of the stack, rad. */ readonly angle: number;
  /** Bond to the layer before it, 0 (slides freely) to 1 (one piece). */ readonly bond: number;
}

/** Compressive over tensile stiffness of a layer along one axis, from its own bending; at most 1. Parameters: D N*m, C N/m, t m. */
export function compressionRatio(bending: number, inPlane: number, thickness: number): number {
  const q = (12 * bending) / (thickness * thickness * inPlane);
  return q >= 1 || !Number.isFinite(q) ? 1 : q / libm.square(2 - Math.sqrt(q));
}

function squeezed(layer: BondLayer): Four {
  const [c11, c22, c12, c66] = layer.inPlane;
  const k1 = compressionRatio(layer.bending[0], c11, layer.thickness);
  const k2 = compressionRatio(layer.bending[1], c22, layer.thickness);
  // Shear has no sign: pulling one diagonal pushes the other.
  return [k1 * c11, k2 * c22, Math.sqrt(k1 * k2) * c12, c66];
}

/** Height of each layer's middle above the outer face of the first, m. */
export function middles(layers: readonly { readonly thickness: number }[]): number[] {
  let top = 0;
  return layers.map((l) => {
    top += l.thickness;
    return top - l.thickness / 2;
  });
}

/**
 * Rigidity that bonding adds for one sense of bending, N*m: sum C z^2 - (sum C z) A^-1 (sum C z), A = sum C (the A-B-D of lamination theory with
 * each layer's own D left out). `stretchedAbove`: layers beyond the neutral plane are in tension, the others in compression; or the other way.
 */
function coupling(layers: readonly BondLayer[], z: readonly number[], stretchedAbove: boolean): Sym {
  const pull = layers.map((l) => turned(l.inPlane, l.angle));
  const push = layers.map((l) => turned(squeezed(l), l.angle));
  const mean = (m: Sym) => (m[0] + m[1]) / 2;
  const used = (i: number, plane: number) => (z[i] > plane === stretchedAbove ? pull[i] : push[i]);
  // The force balance falls steadily as the plane rises, so bisection finds the one neutral plane.
  let low = Math.min(...z);
  let high = Math.max(...z);
  for (let step = 0; step < 60; step++) {
    const plane = (low + high) / 2;
    let force = 0;
    for (let i = 0; i < z.length; i++) force += mean(used(i, plane)) * (z[i] - plane);
    if (force > 0) low = plane;
    else high = plane;
  }
  const plane = (low + high) / 2;
  let a: Sym = ZERO;
  let b: Sym = ZERO;
  let d: Sym = ZERO;
  for (let i = 0; i < z.length; i++) {
    const c = used(i, plane);
    // Heights from the neutral plane, or the small result would be the difference of large numbers.
    const h = z[i] - plane;
    a = plus(a, c);
    b = plus(b, c, h);
    d = plus(d, c, h * h);
  }
  return plus(d, sandwich(b, inverse(a)), -1);
}

/** Mean of both senses of bending: a panel bulges outward as often as inward, and the solver takes one figure. */
function bothSenses(layers: readonly BondLayer[]): Sym {
  const z = middles(layers);
  return plus(plus(ZERO, coupling(layers, z, true), 0.5), coupling(layers, z, false), 0.5);
}

/**
 * Rigidity of a glued stack, N*m, in the axes of the layers' angles: sum of the layers' own D, plus for each joint its bond times the coupling
 * which that joint adds to a stack that is otherwise in one piece. All bonds 1: lamination theory; all 0: the loose sum.
 * Assumes thin layers, no slip beyond the bond figure, no shear of a soft core (foam, fleece: an upper bound).
 */
export function bondedRigidity(layers: readonly BondLayer[]): Sym {
  let total = ZERO;
  let before = ZERO;
  layers.forEach((layer, i) => {
    total = plus(total, turned(layer.bending, layer.angle));
    if (i === 0) return;
    const now = bothSenses(layers.slice(0, i + 1));
    if (layer.bond > 0) total = plus(total, plus(now, before, -1), layer.bond);
    before = now;
  });
  return total;
}

/**
 * Worked form for isotropic strips of given modulus: rigidity glued and loose, N*m, and the neutral plane from the first face, m.
 * A = sum E t, B = sum E (z2^2 - z1^2)/2, D2 = sum E (z2^3 - z1^3)/3; bonded = D2 - B^2/A; loose = sum E t^3/12.
 * Parameters: modulus Pa, thickness m. Source: classical lamination (beam) theory.
 */
export function isotropicStack(layers: readonly { readonly modulus: number; readonly thickness: number }[]): {
  bonded: number;
  loose: number;
  neutral: number;
} {
  let z = 0;
  let a = 0;
  let b = 0;
  let d = 0;
  let loose = 0;
  for (const { modulus, thickness } of layers) {
    const top = z + thickness;
    a += modulus * thickness;
    b += (modulus * (top * top - z * z)) / 2;
    d += (modulus * (libm.cube(top) - libm.cube(z))) / 3;
    loose += (modulus * libm.cube(thickness)) / 12;
    z = top;
  }
  return { bonded: d - (b * b) / a, loose, neutral: b / a };
}
