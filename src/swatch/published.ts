/** Published cloth beside a reading: where it falls among tested fabrics, and what two ways of testing bending make of one cloth. Shown, never gated. */

import type { Three } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { formatRigidity } from '../units/index.ts';
import type { TestResult } from './result.ts';

/**
 * Bending length, mm, at percentiles of 251 cantilever-tested fabrics, with the percentile's place on a normal distribution.
 * Source: Feng, Huang, Xu, Wang 2022, ACM TOG, doi 10.1145/3550454.3555464 (statistics over its distinct fabrics).
 */
const FABRICS: readonly (readonly [percentile: number, z: number, length: number])[] = [
  [1, -2.326, 9.1],
  [10, -1.282, 13.1],
  [50, 0, 18.9],
  [90, 1.282, 26.4],
  [99, 2.326, 32.9],
];

/** [percentile, bending length m] of the same fabrics. Source: as FABRICS. */
export const PUBLISHED_LENGTHS: readonly (readonly [percentile: number, length: number])[] = FABRICS.map(([p, , mm]) => [p, mm / 1000]);

/** Phi(z), to 1e-5. Source: Abramowitz and Stegun 26.2.16 (from memory). */
function normal(z: number): number {
  const t = 1 / (1 + 0.33267 * Math.abs(z));
  const tail = (libm.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * t * (0.4361836 + t * (-0.1201676 + t * 0.937298));
  return z < 0 ? tail : 1 - tail;
}

/**
 * Percentile of a bending length (m) among the 251 fabrics, between the published ones by straight lines of log length over the normal variate;
 * 0 below the first and 100 above the last. Source: as FABRICS.
 */
export function fabricPercentile(bendingLength: number): number {
  const length = bendingLength * 1000;
  if (length < FABRICS[0][2]) return 0;
  for (let i = 0; i + 1 < FABRICS.length; i++) {
    const [, z0, l0] = FABRICS[i];
    const [, z1, l1] = FABRICS[i + 1];
    if (length <= l1) return 100 * normal(z0 + ((z1 - z0) * libm.log(length / l0)) / libm.log(l1 / l0));
  }
  return 100;
}

/**
 * What a 41.5 deg cantilever reads over the slope of a pure-bending tester: 1 where yarns slide freely, 1.7 to 2.8 on cottons. The slope leaves out the
 * moment that starts the yarns sliding; a hanging strip has to overcome it as well. Source: comparison of published readings in the materials table; an estimate.
 */
export const CANTILEVER_OVER_SLOPE: Three = [1, 1.7, 2.8];

/** Rigidity that a 41.5 deg cantilever would read, low / mid / high, N*m, from a pure-bending slope, N*m. An estimate: see CANTILEVER_OVER_SLOPE. */
export const cantileverFromSlope = (slope: number): Three => CANTILEVER_OVER_SLOPE.map((f) => f * slope) as unknown as Three;

/** Pure-bending slope behind a cantilever's rigidity, low / mid / high, N*m. An estimate: see CANTILEVER_OVER_SLOPE. */
export const slopeFromCantilever = (rigidity: number): Three => {
  const [low, mid, high] = CANTILEVER_OVER_SLOPE;
  return [rigidity / high, rigidity / mid, rigidity / low];
};

/** The 11 oz denim whose figures are published with a convention that its files do not state. B in uN*m along warp, at 45 deg, along weft. */
export const DENIM = {
  name: '11 oz black denim, 324 g/m2',
  files: [64.2, 73.4, 97],
  taken: [16, 18.3, 24.2],
  source: "Wang, O'Brien, Ramamoorthi 2011, ACM TOG 30(4) 71 (material files, second-hand)",
  question: 'its files fit a hinge energy k l^2/(2 (A1 + A2)) theta^2/4, so B = k/4 is inferred; were they B itself, the cloth would be 4 times as stiff',
} as const;

/** Lines that set a reading beside published cloth. Parameters: result; preset id or null. */
export function besidePublished(r: TestResult, preset: string | null): string[] {
  const lines: string[] = [];
  if (r.test === 'cantilever' && Number.isFinite(r.load) && r.load > 0) {
    const c = r.more.length / libm.cbrt(r.load);
    const p = fabricPercentile(c);
    const place = p <= 0 ? 'under the limpest hundredth' : p >= 100 ? 'above the stiffest hundredth' : `stiffer than ${Math.round(p)} in 100`;
    lines.push(`bending length ${(c * 1000).toFixed(1)} mm: ${place} of 251 fabrics tested so (Feng et al. 2022)`);
  }
  if (r.test === 'cantilever' && r.more.length > 0 && r.more.rigidity > 0) {
    const [low, , high] = slopeFromCantilever(r.more.rigidity);
    lines.push(
      `if it is woven: a pure-bending tester reports the slope of moment over curvature alone, ${formatRigidity(low)} to ${formatRigidity(high)} here; a strip pushed out over an edge has the friction of its yarns to overcome as well, and a strip let back is helped by it`,
    );
  }
  if (preset?.startsWith('denim') && r.test === 'cantilever')
    lines.push(`${DENIM.name}: B ${DENIM.taken.join(' / ')} uN·m at 0 / 45 / 90 deg (files ${DENIM.files.join(' / ')}); ${DENIM.question}. ${DENIM.source}`);
  if (r.test === 'drape') lines.push('cloth on the tester reads lower: its friction keeps the folds that handling makes, which springs alone let go');
  return lines;
}
