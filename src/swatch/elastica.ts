import { type Bending, shoot as follow, type Ray } from '../material/index.ts';
import { libm } from '../numerics/index.ts';

/**
 * Exact shapes of an inextensible strip, linear in bending, to set beside the bench's readings. Lengths over the strip's L, load K = w L^3/B.
 * All are B theta'' = (moment of what hangs on that side), solved by fourth-order Runge-Kutta and shooting. Fixed steps, so that the
 * shooting functions are smooth; with 600 steps the tables of check-values.json are met to their last digit.
 */
const STEPS = 600;
const shoot = (bending: Bending, theta0: number, bend0: number, end: number, visit?: Parameters<typeof follow>[5]): Ray =>
  follow(bending, theta0, bend0, end, STEPS, visit);

/** Newton's method with a difference Jacobian, for two or three unknowns; returns the root or null. */
function solveFor(f: (p: readonly number[]) => readonly number[], start: readonly number[]): number[] | null {
  const p = [...start];
  const n = p.length;
  for (let it = 0; it < 60; it++) {
    const r = f(p);
    if (!r.every(Number.isFinite)) return null;
    if (Math.max(...r.map(Math.abs)) < 1e-11) return p;
    const rows = Array.from({ length: n }, (_, i) => [...new Array<number>(n).fill(0), -r[i]]);
    for (let j = 0; j < n; j++) {
      const d = 1e-6 * Math.max(1, Math.abs(p[j]));
      const at = (sign: number) => f(p.map((v, i) => (i === j ? v + sign * d : v)));
      const [plus, minus] = [at(1), at(-1)];
      for (let i = 0; i < n; i++) rows[i][j] = (plus[i] - minus[i]) / (2 * d);
    }
    for (let c = 0; c < n; c++) {
      let best = c;
      for (let i = c + 1; i < n; i++) if (Math.abs(rows[i][c]) > Math.abs(rows[best][c])) best = i;
      [rows[c], rows[best]] = [rows[best], rows[c]];
      for (let i = 0; i < n; i++) {
        if (i === c) continue;
        const q = rows[i][c] / rows[c][c];
        for (let j = c; j <= n; j++) rows[i][j] -= q * rows[c][j];
      }
    }
    for (let i = 0; i < n; i++) p[i] += rows[i][n] / rows[i][i];
  }
  return null;
}

export type LoopKind = 'heart' | 'ring' | 'pear';

/** Turning of the tangent from one clamped end to the other, rad: the pear leaves its clamp downward, the ring level, the heart upward. */
export const TURNING: Readonly<Record<LoopKind, number>> = { pear: Math.PI, ring: 2 * Math.PI, heart: 3 * Math.PI };

/** A closed symmetric curve theta = T (u - 1/2) + A sin(2 pi u), u = 0..1, whose ends meet: the bench's start shape and the first guess. */
export function closedCurve(turning: number): { amplitude: number; slope: (u: number) => number } {
  const gap = (A: number): number => {
    let sum = 0;
    for (let i = 0; i < 400; i++) {
      const u = (i + 0.5) / 400;
      sum += libm.cos(turning * (u - 0.5) + A * libm.sin(2 * Math.PI * u)) / 400;
    }
    return sum;
  };
  // The ring closes with A = 0, the pear with a negative amplitude (it bulges first), the heart with a positive one.
  let [low, high] = turning < 5 ? [-2.2, -0.2] : turning > 8 ? [0.1, 1.6] : [-0.3, 0.3];
  const sign = Math.sign(gap(high));
  for (let i = 0; i < 80; i++) {
    const mid = (low + high) / 2;
    if (Math.sign(gap(mid)) === sign) high = mid;
    else low = mid;
  }
  const amplitude = (low + high) / 2;
  return { amplitude, slope: (u) => turning * (u - 0.5) + amplitude * libm.sin(2 * Math.PI * u) };
}

/**
 * Height over L of a loop hanging from its clamp, both ends held together: from the clamp down to the lowest point.
 * Half the loop from its lowest point, s = 0..1/2: theta'' = H sin(theta) - K s cos(theta), theta(0) = 0, theta(1/2) = T/2, x(1/2) = 0;
 * H the tension at the bottom. Reached by raising K step by step, because several shapes solve the same equations.
 * Parameter: K = w L^3/B, 0 <= K <= 1000; returns null where the steps lose the shape. Source: the problem of Peirce 1930 and Plaut 2015.
 */
export const loopHeight = (kind: LoopKind, K: number): number | null => loopSize(kind, K)?.height ?? null;

/** The same for several loads. */
export const loopHeights = (kind: LoopKind, loads: readonly number[]): (number | null)[] => loads.map((K) => loopHeight(kind, K));

/** Greatest width over L of a hanging pear loop, which falls as the load grows; null where the steps lose the shape. Parameter: K = w L^3/B, 0 to 1000. */
export const pearWidth = (K: number): number | null => loopSize('pear', K)?.width ?? null;

/** Half a loop under a load, from its lowest point; unknowns: curvature and tension there. */
const halfLoop = (K: number, visit?: Parameters<typeof follow>[5]) => (q: readonly number[]) =>
  shoot((s, t) => q[1] * libm.sin(t) - K * s * libm.cos(t), 0, q[0], 0.5, visit);

function solvedLoop(kind: LoopKind, K: number, from: readonly number[]): number[] | null {
  return solveFor((q) => {
    const end = halfLoop(K)(q);
    return [end.theta - TURNING[kind] / 2, end.along];
  }, from);
}

/** Loads 0, 10, 20 ... as far as they have been asked for, each reached from the one before; a load between them is one step away. The rungs are the same whoever asks first. */
const RUNG = 10;
const ladders = new Map<LoopKind, (number[] | null)[]>();

function loopSize(kind: LoopKind, K: number): { readonly height: number; readonly width: number } | null {
  let rungs = ladders.get(kind);
  if (!rungs) {
    const start = [TURNING[kind] - 2 * Math.PI * closedCurve(TURNING[kind]).amplitude, kind === 'ring' ? 0 : kind === 'pear' ? -20 : 40];
    rungs = [solvedLoop(kind, 0, start)];
    ladders.set(kind, rungs);
  }
  const below = Math.floor(K / RUNG);
  while (rungs.length <= below) {
    const last: number[] | null = rungs.at(-1)!;
    rungs.push(last && solvedLoop(kind, rungs.length * RUNG, last));
  }
  const rung = rungs[below]!;
  const p = rung && solvedLoop(kind, K, rung);
  if (!p) return null;
  let widest = 0;
  const height = halfLoop(K, (_, along) => {
    widest = Math.max(widest, along);
  })(p).up;
  return { height, width: 2 * widest };
}

/**
 * Tip slope, height and reach over L of a strip clamped at its foot, `lean` rad off the vertical: B phi'' = -w s sin(phi), s from the tip,
 * phi from the upward vertical. Of several solutions the one that has fallen over furthest to the side of the lean.
 * Parameters: K = w L^3/B; lean rad >= 0 (0: the buckled branch; below Greenhill's 7.83735 it stands straight). Source: Greenhill 1881 (onset).
 */
export function standingStrip(K: number, lean: number): { readonly tipSlope: number; readonly height: number; readonly reach: number } {
  const ray = (tip: number) => shoot((s, phi) => -K * s * libm.sin(phi), tip, 0, 1);
  const miss = (tip: number) => ray(tip).theta - lean;
  let high = Math.PI - 1e-6;
  let low = high;
  const step = Math.PI / 400;
  while (low > 1e-4 && miss(low) > 0) {
    high = low;
    low = Math.max(1e-4, low - step);
  }
  if (miss(low) > 0) return { tipSlope: 0, height: 1, reach: 0 };
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (miss(mid) > 0) high = mid;
    else low = mid;
  }
  const tipSlope = (low + high) / 2;
  const end = ray(tipSlope);
  return { tipSlope, height: end.along, reach: end.up };
}

/** Load w L^3/B at which a strip clamped upright at its foot begins to lean. Source: Greenhill 1881; computed (9/4) z^2, z first zero of J_-1/3. */
export const GREENHILL = 7.83735;

/**
 * Drop and reach of the tip over L of a strip clamped level with a dead load P at its tip: theta'' = -(p + K s) cos(theta), s from the tip.
 * Parameters: p = P L^2/B > 0; K = w L^3/B of its own weight (0: weightless). Source: Bisshopp and Drucker 1945, Quart. Appl. Math. 3, 272 (K = 0).
 */
export function tipLoaded(p: number, K = 0): { readonly drop: number; readonly reach: number } {
  const ray = (tip: number) => shoot((s, t) => -(p + K * s) * libm.cos(t), tip, 0, 1);
  let [low, high] = [0, Math.PI / 2];
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (ray(mid).theta > 0) high = mid;
    else low = mid;
  }
  const end = ray((low + high) / 2);
  return { drop: end.up, reach: end.along };
}

/** K = w L^3/B above which a tube lies on the table with a flat patch. Source: computed. */
const FLAT_FROM = 147.1;

/**
 * Height and width over D = L/pi of a tube of circumference L lying on a table. Half of it from the top, turned upside down:
 * theta'' = H sin(theta) + K s cos(theta), theta(0) = 0; it ends at theta = pi on the middle line (a line contact), or, when heavier than
 * K = 147.1, where the curvature vanishes, at the edge of a flat patch of width 2b. Returns null where the steps lose the shape.
 * Parameter: K, 0 <= K <= 1500. Assumes no friction (symmetry needs none).
 */
export function tubeHeight(K: number): { readonly height: number; readonly contact: number } | null {
  const half = (load: number, q: readonly number[], b: number) => shoot((s, t) => q[1] * libm.sin(t) + load * s * libm.cos(t), 0, q[0], 0.5 - b);
  let p: number[] | null = [2 * Math.PI, 0];
  const line = Math.min(K, FLAT_FROM);
  const steps = Math.max(1, Math.ceil(line / 10));
  const onLine = (load: number) => (q: readonly number[]) => {
    const end = half(load, q, 0);
    return [end.theta - Math.PI, end.along];
  };
  for (let i = 0; i <= steps && p; i++) p = solveFor(onLine((line * i) / steps), p);
  if (!p) return null;
  if (K <= FLAT_FROM) return { height: Math.PI * half(K, p, 0).up, contact: 0 };
  const onPatch = (load: number) => (q: readonly number[]) => {
    const end = half(load, q, q[2]);
    return [end.theta - Math.PI, end.bend, end.along - q[2]];
  };
  p = [...p, 1e-4];
  const more = Math.ceil((K - FLAT_FROM) / 5);
  for (let i = 1; i <= more && p; i++) p = solveFor(onPatch(FLAT_FROM + ((K - FLAT_FROM) * i) / more), p);
  return p && { height: Math.PI * half(K, p, p[2]).up, contact: 2 * p[2] };
}

/**
 * Load w L^3/D at which a long strip clamped at one end, its width upright, tips over sideways: 12.85 sqrt(2 (1 - nu^2)(1 - nu)); for an
 * orthotropic sheet 12.85 sqrt(4 B D66)/D with B the strip's rigidity and 4 D66 its torsional rigidity per width.
 * Returns w L^3 (N*m). Assumes width well under length. Source: lateral buckling of a cantilever under its own weight (Timoshenko and Gere; from memory).
 */
export const onEdgeLoad = (B: number, D66: number): number => 12.85 * Math.sqrt(4 * B * D66);
