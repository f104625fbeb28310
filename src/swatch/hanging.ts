import { hangingStrip } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import type { Model } from '../solver/types.ts';
import { DEGREE, FIXED_ANGLE_LOAD, GRAVITY } from '../units/index.ts';
import { closedCurve, type LoopKind, loopHeight, TURNING, tipLoaded } from './elastica.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { cutStrip, extremeHeight, lengthFor, loadOf, middleOf, place, type Strip } from './strip.ts';

/** The setup's strip, or one of the load K where no length is given. */
export const stripOf = (setup: Setup, K: number, more: { width?: number; closed?: boolean } = {}): Strip =>
  cutStrip({ ...more, ...setup, length: setup.length ?? lengthFor(setup.sheet, K, setup.cut) });

const level = () => [-1, 0, 0] as const;

/**
 * Fixed-angle cantilever: the chord angle below level of a strip clamped level, deg. Without a length the strip is as long as theory lets it hang
 * at 41.5 deg (w L^3/B = 8.0042). Theory: the exact elastica, for K up to 200; beyond, null. Assumes a strip much longer than wide.
 * Source: Peirce 1930; ASTM D1388, ISO 9073-7, BS 3356 (from memory); exact figures computed.
 */
export function cantilever(setup: Setup): TestResult {
  const s = stripOf(setup, FIXED_ANGLE_LOAD);
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: level }]);
  const state = settleFor(
    setup,
    model,
    place(s, (u, v) => [u, v, 0]),
  );
  const [reach, , z] = middleOf(s, s.last, state.x);
  const K = loadOf(s);
  const theory = K <= 200 ? hangingStrip(K) : null;
  return finished(
    {
      test: 'cantilever',
      reading: libm.atan2(-z, reach) / DEGREE,
      theory: theory && theory.chordAngle / DEGREE,
      unit: 'deg',
      quantity: 'angle of the line from the edge to the tip, below level',
      formula: "B theta'' + w (L - s) cos(theta) = 0, theta(0) = 0, theta'(L) = 0",
      source: 'Peirce 1930; exact elastica computed (Rohde 1953 states the problem)',
      load: K,
      more: { length: s.length, rigidity: s.B, drop: -z / s.length, reach: reach / s.length },
    },
    model,
    state,
  );
}

/**
 * Strip clamped level with a dead weight hung from its tip: drop of the tip over the length. The weight is spread over the end's width.
 * Theory: exact elastica with both weights. Source: Bisshopp and Drucker 1945 (without own weight).
 */
export function tip(setup: Setup): TestResult {
  const s = stripOf(setup, 1);
  const p = setup.tipLoad ?? 1;
  const bare = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: level }]);
  // A millionth of the weight stays: the solver measures its residual in vertex weights, and bounds its steps by masses.
  const own = setup.weightless ? 1e-6 : 1;
  const mass = bare.mass.map((m) => m * own);
  const order = [...s.last].sort((a, b) => s.flat[2 * a + 1] - s.flat[2 * b + 1]);
  const total = (((p * s.B) / libm.square(s.length)) * s.width) / GRAVITY;
  for (let i = 0; i + 1 < order.length; i++) {
    const share = (s.flat[2 * order[i + 1] + 1] - s.flat[2 * order[i] + 1]) / s.width;
    for (const v of [order[i], order[i + 1]]) mass[v] += (share * total) / 2;
  }
  const model: Model = { ...bare, mass };
  const state = settleFor(
    setup,
    model,
    place(s, (u, v) => [u, v, 0]),
  );
  const [reach, , z] = middleOf(s, s.last, state.x);
  const K = setup.weightless ? 0 : loadOf(s);
  return finished(
    {
      test: 'tip',
      reading: -z / s.length,
      theory: tipLoaded(p, K).drop,
      unit: '1',
      quantity: 'drop of the tip over the length, under a weight hung from the tip',
      formula: "B theta'' + (P + w (L - s)) cos(theta) = 0, theta(0) = 0, theta'(L) = 0",
      source: 'Bisshopp and Drucker 1945, Quart. Appl. Math. 3, 272; own weight added',
      load: K,
      more: { length: s.length, tipLoad: p, reach: reach / s.length },
    },
    model,
    state,
  );
}

/**
 * Loop of a strip hung from its two ends held together: height from clamp to lowest point over L. heart: ends leave upward, ring: level,
 * pear: downward. Without a length K = 40. The start is a smooth closed curve of the same turning, so that the right shape is found.
 * Theory: exact elastica, K up to 1000. Source: Peirce 1930; Plaut 2015 (why his approximate formulas are not used).
 */
export function loop(kind: LoopKind, setup: Setup): TestResult {
  const s = stripOf(setup, 40);
  const turning = TURNING[kind];
  const points = curvePoints(turning, 2000);
  const L = s.length;
  const at = (u: number, v: number) => {
    const f = (u / L) * 2000;
    const i = Math.min(1999, Math.floor(f));
    const q = f - i;
    const [a, b] = [points[i], points[i + 1]];
    return [L * (a[0] + q * (b[0] - a[0])), v, L * (a[1] + q * (b[1] - a[1]))] as const;
  };
  const c = [libm.cos(turning / 2), libm.sin(turning / 2)];
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [
    { verts: s.first, direction: () => [-c[0], 0, c[1]] },
    { verts: s.last, direction: () => [c[0], 0, c[1]] },
  ]);
  const state = settleFor(setup, model, place(s, at));
  const K = loadOf(s);
  return finished(
    {
      test: kind,
      reading: -extremeHeight(s, state.x, -1) / L,
      theory: K <= 1000 ? loopHeight(kind, K) : null,
      unit: '1',
      quantity: 'height of the loop from clamp to lowest point, over the strip length',
      formula: "B theta'' = H sin(theta) - w s cos(theta), s from the lowest point; ends together",
      source: 'Peirce 1930, J. Text. Inst. 21 T377; Plaut 2015; exact elastica computed',
      load: K,
      more: { length: L },
    },
    model,
    state,
  );
}

/** Points [x, z] of the closed curve of a turning at n + 1 even stations, clamp at the origin, sum of slopes integrated by the midpoint rule. */
function curvePoints(turning: number, n: number): [number, number][] {
  const { slope } = closedCurve(turning);
  const out: [number, number][] = [[0, 0]];
  for (let i = 0; i < n; i++) {
    const t = slope((i + 0.5) / n);
    const [x, z] = out[i];
    out.push([x + libm.cos(t) / n, z + libm.sin(t) / n]);
  }
  return out;
}
