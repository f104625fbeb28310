import { stripRigidity } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import { DEGREE } from '../units/index.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { cutStrip, middleOf, place } from './strip.ts';

/**
 * Strip hung by its upper end, cut on the bias (45 deg unless told): how much its own weight lengthens it, over L.
 * Theory: w L/(2 C_strip), 1/C_strip = S11 c^4 + S22 s^4 + (2 S12 + S66) c^2 s^2, S the inverse of the in-plane stiffness: a narrow strip free
 * to draw in and to shear, small strains; the held end, which cannot draw in, makes the true figure smaller by about width/L times a part of it.
 * `more.sideways`: how far the lower end swings out over L, which a cut off the axes does when warp and weft differ. Without a length L = 0.3 m.
 * Source: compliance transformation of an orthotropic sheet (Lekhnitskii).
 */
export function bias(setup: Setup): TestResult {
  const cut = setup.cut ?? 45 * DEGREE;
  const s = cutStrip({ ...setup, cut, length: setup.length ?? 0.3 });
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [0, 0, 1] }]);
  const state = settleFor(
    setup,
    model,
    place(s, (u, v) => [0, v, -u]),
  );
  const [, side, z] = middleOf(s, s.last, state.x);
  const stiffness = stripRigidity(setup.sheet.inPlane, cut);
  return finished(
    {
      test: 'bias',
      reading: -z / s.length - 1,
      theory: (s.w * s.length) / (2 * stiffness),
      unit: '1',
      quantity: 'lengthening of a hanging strip under its own weight, over its length',
      formula: 'w L/(2 C_strip), 1/C_strip = S11 c^4 + S22 s^4 + (2 S12 + S66) c^2 s^2',
      source: 'compliance transformation of an orthotropic sheet (Lekhnitskii)',
      load: (s.w * libm.cube(s.length)) / s.B,
      more: { length: s.length, stripStiffness: stiffness, sideways: (side - s.width / 2) / s.length },
    },
    model,
    state,
  );
}
