import { hangingStrip } from '../material/index.ts';
import { rigidityFromTipDrop } from '../units/index.ts';
import { stripOf } from './hanging.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { loadOf, middleOf, place } from './strip.ts';

/** Overhangs at which a board is read, as parts of the longest: three readings of one board must give one rigidity. */
const OVERHANGS = [1, 0.85, 0.7] as const;

/**
 * Board at three overhangs, each drop small: the rigidity a maker works out by B = w L^4/(8 delta), over the board's own.
 * Returns the mean of the three; `more` holds each drop over its overhang and each ratio. Without a length the longest has w L^3/B = 0.4, a drop of 5 %.
 * Theory: the same arithmetic on the exact elastica, a few parts in a thousand above 1 because the formula is that of small slopes.
 * Source: uniformly loaded cantilever, small slopes (textbook); exact figures computed.
 */
export function board(setup: Setup): TestResult {
  const longest = stripOf(setup, 0.4).length;
  const runs = OVERHANGS.map((part) => {
    const s = stripOf({ ...setup, length: part * longest }, 0.4);
    const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [-1, 0, 0] }]);
    const state = settleFor(
      setup,
      model,
      place(s, (u, v) => [u, v, 0]),
    );
    const drop = -middleOf(s, s.last, state.x)[2];
    const K = loadOf(s);
    const ratio = rigidityFromTipDrop(setup.sheet.arealMass, s.length, drop) / s.B;
    return { model, state, K, drop: drop / s.length, ratio, theory: K <= 200 ? K / (8 * hangingStrip(K).drop) : Number.NaN };
  });
  const mean = (f: (r: (typeof runs)[number]) => number) => runs.reduce((sum, r) => sum + f(r), 0) / runs.length;
  const worst = runs.find((r) => r.state.status !== 'settled') ?? runs[0];
  const theory = mean((r) => r.theory);
  const more = Object.fromEntries(
    runs.flatMap((r, i) => [
      [`drop${i + 1}`, r.drop],
      [`ratio${i + 1}`, r.ratio],
    ]),
  );
  return finished(
    {
      test: 'board',
      reading: mean((r) => r.ratio),
      theory: Number.isNaN(theory) ? null : theory,
      unit: '1',
      quantity: 'rigidity from three tip drops over the true one',
      formula: 'B = w L^4/(8 drop), drops under a tenth of the overhang',
      source: 'uniformly loaded cantilever, small slopes (textbook); exact elastica computed',
      load: runs[0].K,
      more: { length: longest, ...more },
    },
    worst.model,
    worst.state,
  );
}
