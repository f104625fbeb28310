import { plateRigidity } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import { DEGREE, GRAVITY } from '../units/index.ts';
import { criticalFactor } from './critical.ts';
import { GREENHILL, standingStrip } from './elastica.ts';
import { onEdgeOf } from './figures.ts';
import { stripOf } from './hanging.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { endSlope, lengthFor, loadOf, middleOf, place, type Strip } from './strip.ts';

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
  const critical = criticalFactor(model, setup.formulation ?? 'arc-corrected', upright, [1, 0, 0], (0.8 * GREENHILL) / K, 1);
  const own = setup.length === undefined ? null : fallen(setup, 0);
  return finished(
    {
      test: 'standing',
      reading: s.length * libm.cbrt(critical.factor),
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
  const [c, sn] = [libm.cos(lean), libm.sin(lean)];
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
  return place(s, (u, v) => [R * (libm.cos(lean) - libm.cos(lean + u / R)), v, R * (libm.sin(lean + u / R) - libm.sin(lean))]);
};

/** Strip clamped off the vertical (5 deg unless told): where its tip comes to rest. Without a length K = 7. */
export const leaning = (setup: Setup): TestResult => fallen(setup, setup.lean ?? 5 * DEGREE);

/** Length over width of the strip on edge where none is given: theory is that of a long one. */
const SLENDER = 10;

/**
 * Strip clamped at one end with its width upright: the load w L^3/D (D = D11 of the sheet along the strip) at which it tips over sideways.
 * 18.17, 14.50, 11.13 for Poisson's ratio 0, 0.3, 0.5. Assumes length over width of 10 or more; no theory for cuts off the axes (bend-twist coupling).
 * Source: lateral buckling of a cantilever under its own weight, 12.85 sqrt(EI GJ)/L^2 (Timoshenko and Gere; from memory).
 */
export function onEdge(setup: Setup): TestResult {
  const cut = setup.cut ?? 0;
  const D = plateRigidity(setup.sheet.bending, cut);
  const w = setup.sheet.arealMass * GRAVITY;
  const { load: wanted, known } = onEdgeOf(setup.sheet, cut);
  const length = setup.length ?? libm.cbrt(wanted / w);
  const s = stripOf({ ...setup, length, width: setup.width ?? length / SLENDER }, 1);
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [-1, 0, 0] }]);
  const start = place(s, (u, v) => [u, 0, v]);
  const found = criticalFactor(model, setup.formulation ?? 'arc-corrected', start, [0, 1, 0], (0.7 * wanted) / (w * libm.cube(length)), 2);
  return finished(
    {
      test: 'on-edge',
      reading: (found.factor * w * libm.cube(length)) / D,
      theory: known ? wanted / D : null,
      unit: '1',
      quantity: 'load w L^3/D at which a strip held on edge tips over sideways',
      formula: 'w b L^3 = 12.85 sqrt(EI GJ), EI = B b, GJ = 4 D66 b',
      source: 'Timoshenko and Gere, Theory of Elastic Stability (from memory)',
      load: (w * libm.cube(length)) / D,
      more: { length, width: s.width },
    },
    model,
    found,
  );
}
