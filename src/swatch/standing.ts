import { plateRigidity } from '../material/index.ts';
import { createSystem } from '../solver/index.ts';
import { relax } from '../solver/relax.ts';
import { forces, newtonDirection } from '../solver/system.ts';
import type { Model } from '../solver/types.ts';
import { DEGREE, GRAVITY } from '../units/index.ts';
import { GREENHILL, onEdgeLoad, standingStrip } from './elastica.ts';
import { stripOf } from './hanging.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { endSlope, lengthFor, loadOf, middleOf, place, type Strip } from './strip.ts';

/** What a search for the load of buckling found. */
interface Critical {
  /** Weight at which the straight state gives way, over the true weight. */ readonly factor: number;
  readonly status: 'settled' | 'notConverged' | 'diverged';
  readonly residual: number;
  /** 3n, the straight state nearest to it. */ readonly x: Float64Array;
}

/**
 * Factor on gravity at which a straight state loses its stability, without ever going past it: the compliance c to a small sideways pull grows
 * without bound there, and 1/c falls to zero nearly in a straight line over factor^power (Southwell 1932). Settles the straight state at rising weights
 * and follows the chord of 1/c to zero, halting each time 0.5 % short of it.
 * Parameters: model; arc-corrected edges or not; straight start; sideways direction; a factor surely below the sought one; power 1 where the sign of the weight matters,
 * 2 where it does not (tipping over sideways).
 */
function criticalFactor(model: Model, arcs: boolean, start: Float64Array, side: readonly [number, number, number], from: number, power: 1 | 2): Critical {
  const sys = createSystem(model, { arcs });
  // A second system keeps the factor of the lightest state as preconditioner: nearer the critical weight the factorised matrix, which only
  // resembles the exact operator, gives out first (by 17 % of the load on structured meshes).
  const probe = createSystem(model, { arcs });
  const x = start.slice();
  const N = x.length;
  const g = new Float64Array(N);
  const d = new Float64Array(N);
  let status: Critical['status'] = 'settled';
  let residual = 0;
  const stiffness = (factor: number): number => {
    for (let k = 0; k < 3; k++) sys.pull[k] = probe.pull[k] = model.gravity[k] * factor;
    const r = relax(sys, x, { tolerance: 1e-5, dt: 1, grow: 100, dtMax: 1e8, cap: 0.005, monotone: false, maxIterations: 40, cg: 1e-6 });
    status = r.status;
    residual = r.residual;
    forces(probe, x, g);
    for (let v = 0; v < model.vertexCount; v++) for (let k = 0; k < 3; k++) g[3 * v + k] = model.held[v] ? 0 : -model.mass[v] * side[k];
    const step = newtonDirection(probe, g, d, { massFactor: 0, predicted: null, tolerance: 1e-4, positive: false, keepFactor: true });
    if (!step.ok || step.projected) return Number.NaN;
    let work = 0;
    for (let i = 0; i < N; i++) work -= g[i] * d[i];
    return 1 / work;
  };
  let [before, now, tooMuch] = [from, from * 1.05, Number.POSITIVE_INFINITY];
  let kBefore = stiffness(before);
  for (let it = 0; it < 24; it++) {
    const k = stiffness(now);
    if (!(k > 0)) {
      // The chord overshot: 1/c bends down where in-plane bending goes before tipping.
      tooMuch = now;
      now = (before + now) / 2;
      continue;
    }
    const [p, q] = [before ** power, now ** power];
    const zero = Math.min(tooMuch, (q - (k * (q - p)) / (k - kBefore)) ** (1 / power));
    // At 1 % from it the chord's zero is good to the square of that.
    if (zero - now < 0.01 * zero) return { factor: zero, status, residual, x };
    [before, kBefore] = [now, k];
    now = Math.min(Math.max(now, zero * 0.995), (now + tooMuch) / 2);
  }
  return { factor: Number.NaN, status: 'notConverged', residual, x };
}

/**
 * Standing strip: the tallest that stands by itself, clamped upright at its foot, m. Read off one strip (of that height by theory, or the length
 * given) by raising its weight to the point of buckling: w L^3/B there is the same for every length of an inextensible strip.
 * With a length given, `more` holds where the tip of the strip itself comes to rest when it starts slightly bent. Source: Greenhill 1881.
 */
export function standing(setup: Setup): TestResult {
  const s = stripOf(setup, GREENHILL);
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [0, 0, -1] }]);
  const upright = place(s, (u, v) => [0, v, u]);
  const theory = lengthFor(setup.sheet, GREENHILL, setup.cut);
  const K = loadOf(s);
  const critical = criticalFactor(model, setup.arcs ?? true, upright, [1, 0, 0], (0.8 * GREENHILL) / K, 1);
  const own = setup.length === undefined ? null : fallen(setup, 0);
  return finished(
    {
      test: 'standing',
      reading: s.length * Math.cbrt(critical.factor),
      theory,
      unit: 'm',
      quantity: 'height of the tallest strip that stands by itself',
      formula: 'w H^3/B = 7.83735',
      source: 'Greenhill 1881; computed (first zero of J_-1/3)',
      load: K,
      more: { length: s.length, criticalLoad: K * critical.factor, ...(own ? { restHeight: own.reading, restTipAngle: own.more.tipAngle } : {}) },
    },
    model,
    own && own.status !== 'settled' ? own : { status: critical.status, residual: critical.residual, x: own?.x ?? critical.x },
  );
}

/** Strip clamped at its foot `lean` rad off the vertical: height of the tip over L; `more.tipAngle` its slope from the vertical, deg. */
function fallen(setup: Setup, lean: number): TestResult {
  const s = stripOf(setup, 7);
  const [c, sn] = [Math.cos(lean), Math.sin(lean)];
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [-sn, 0, -c] }]);
  const K = loadOf(s);
  const theory = standingStrip(K, lean);
  const state = settleFor(setup, model, bowed(s, lean));
  const [reach, , height] = middleOf(s, s.last, state.x);
  const tipAngle = 90 - endSlope(s, state.x, 0) / DEGREE;
  return finished(
    {
      test: 'leaning',
      reading: height / s.length,
      theory: theory.height,
      unit: '1',
      quantity: 'height of the tip over the strip length',
      formula: "B phi'' = -w s sin(phi), s from the tip, phi from the vertical; phi(L) = lean",
      source: 'exact elastica computed',
      load: K,
      more: { length: s.length, lean: lean / DEGREE, tipAngle, tipAngleTheory: theory.tipSlope / DEGREE, reach: reach / s.length },
    },
    model,
    state,
  );
}

/** Bend of the start, rad from foot to tip: a strip started straight may be taken for one at rest while it only balances. */
const BEND = 0.3;

/** Start of a standing strip: a circular arc from `lean` at the foot, BEND more at the tip. */
const bowed = (s: Strip, lean: number): Float64Array => {
  const R = s.length / BEND;
  return place(s, (u, v) => [R * (Math.cos(lean) - Math.cos(lean + u / R)), v, R * (Math.sin(lean + u / R) - Math.sin(lean))]);
};

/** Strip clamped off the vertical (5 deg unless told): where its tip comes to rest. Without a length K = 7. */
export const leaning = (setup: Setup): TestResult => fallen(setup, setup.lean ?? 5 * DEGREE);

/** Length over width of the strip on edge where none is given: theory is that of a long one. */
const SLENDER = 10;

/**
 * Strip clamped at one end with its width upright: the load w L^3/D (D = D11 of the sheet along the strip) at which it tips over sideways.
 * 18.17, 14.50, 11.13 for Poisson's ratio 0, 0.3, 0.5. Assumes length over width of 10 or more and no bend-twist coupling (cuts along the axes).
 * Source: lateral buckling of a cantilever under its own weight, 12.85 sqrt(EI GJ)/L^2 (Timoshenko and Gere; from memory).
 */
export function onEdge(setup: Setup): TestResult {
  const cut = setup.cut ?? 0;
  const D = plateRigidity(setup.sheet.bending, cut);
  const w = setup.sheet.arealMass * GRAVITY;
  const wanted = onEdgeLoad(stripOf({ ...setup, length: 0.1, mesh: 0.05, kind: 'structured' }, 1).B, setup.sheet.bending[3]);
  const length = setup.length ?? Math.cbrt(wanted / w);
  const s = stripOf({ ...setup, length, width: setup.width ?? length / SLENDER }, 1);
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [-1, 0, 0] }]);
  const start = place(s, (u, v) => [u, 0, v]);
  const found = criticalFactor(model, setup.arcs ?? true, start, [0, 1, 0], (0.7 * wanted) / (w * length ** 3), 2);
  return finished(
    {
      test: 'on-edge',
      reading: (found.factor * w * length ** 3) / D,
      theory: wanted / D,
      unit: '1',
      quantity: 'load w L^3/D at which a strip held on edge tips over sideways',
      formula: 'w b L^3 = 12.85 sqrt(EI GJ), EI = B b, GJ = 4 D66 b',
      source: 'Timoshenko and Gere, Theory of Elastic Stability (from memory)',
      load: (w * length ** 3) / D,
      more: { length, width: s.width },
    },
    model,
    found,
  );
}
