import { describe, expect, it } from 'vitest';
import { createSystem, pseudoTransient, toEnd } from '../../src/solver/index.ts';
import { nudgeFourWays } from '../../src/solver/rest/nudge.ts';
import { NUDGE, nudged } from '../../src/solver/rest/nudge-load.ts';
import { rest } from '../../src/solver/rest/settle.ts';
import { flatSheet } from './sheets.ts';

const g = 9.80665;
const [L, b, w, D, C] = [0.03, 0.01, 0.34, 1e-3, 2e4];

/** A strip that stands clamped at its foot, out of its plane along x. */
function standingStrip() {
  const s = flatSheet({ nx: 20, ny: 4, length: L, width: b, arealMass: w, D: [D, D, 0, D / 2], C: [C, C, 0, C / 2], clamp: true });
  const x = s.x.slice();
  for (let v = 0; v < s.model.vertexCount; v++) x.set([0, s.x[3 * v + 1]!, s.x[3 * v]!], 3 * v);
  const clampDir = s.model.clampDir.map((_, i) => (i % 3 === 2 ? -1 : 0));
  return { model: { ...s.model, clampDir }, x };
}

describe('the linear answer to a nudge', () => {
  it('of a standing strip is that of a cantilever under 3 % of its weight, q L^4/(8 D) over 1 - K/7.837, within 1 %; in its plane that of C b^2/12, within 10 %; its tip sinks by 4/7 d^2/L, within 3 %', () => {
    const { model, x } = standingStrip(),
      sys = createSystem(model),
      state = rest(sys, x),
      { answer, sides, worstShift } = toEnd(nudgeFourWays(sys, state, {}));
    const K = (w * g * L ** 3) / D,
      // Beam deflection, made larger by its own weight as Greenhill's critical K = 7.837 says (first order).
      expected = (NUDGE * w * g * L ** 4) / (8 * D) / (1 - K / 7.837);
    console.log(
      `answer ${(1e6 * answer![0]!.linear).toFixed(3)} um out of its plane, cantilever ${(1e6 * expected).toFixed(3)}; in its plane ${answer![1]!.linear.toExponential(1)} m`,
    );
    expect(Math.abs(answer![0]!.linear / expected - 1)).toBeLessThan(0.01);
    // Four constant-strain triangles across bend too stiffly in their plane, and shear lets them go further: 10 %.
    expect(Math.abs(answer![1]!.linear / ((NUDGE * w * g * L ** 4) / (8 * ((C * b * b) / 12))) - 1)).toBeLessThan(0.1);
    // Second order: aside by d, an inextensible strip's tip sinks by half the integral of its slope squared, 4/7 d^2/L for the shape under an even load.
    const sinks = ((4 / 7) * answer![0]!.linear ** 2) / L;
    console.log(`second order ${answer![0]!.quadratic.toExponential(3)} m, 4/7 d^2/L = ${sinks.toExponential(3)}`);
    expect(Math.abs(answer![0]!.quadratic / sinks - 1)).toBeLessThan(0.03);
    // Both are under 5 mm: nothing is nudged, and nothing is left behind.
    expect([sides, worstShift]).toEqual([0, 0]);
    expect([...sys.acceleration]).toEqual([...model.gravity]);
  });

  it('is where the strip really goes, within 0.1 %, while it goes a hundredth of its height', () => {
    const soft = standingStrip(),
      model = { ...soft.model, triBend: soft.model.triBend.map((d) => d / 30) },
      sys = createSystem(model),
      state = rest(sys, soft.x),
      { answer } = toEnd(nudgeFourWays(sys, state, {}));
    sys.acceleration.set(nudged(model.gravity, 0));
    const y = state.x.slice(),
      r = pseudoTransient(sys, y, {
        formulation: state.formulation,
        tolerance: 1e-7,
        dt: 1,
        grow: 10,
        dtMax: 1e4,
        cap: 0.01,
        monotone: false,
        maxIterations: 40,
      });
    let went = 0;
    for (let q = 0; q < y.length; q += 3) went = Math.max(went, Math.hypot(y[q]! - state.x[q]!, y[q + 1]! - state.x[q + 1]!, y[q + 2]! - state.x[q + 2]!));
    console.log(`answer ${(1e3 * answer![0]!.linear).toFixed(4)} mm, went ${(1e3 * went).toFixed(4)} mm of ${1e3 * L} mm`);
    expect(r.status).toBe('settled');
    expect(went).toBeGreaterThan(0.009 * L);
    expect(Math.abs(answer![0]!.linear / went - 1)).toBeLessThan(1e-3);
  });

  it('is not asked where every nudge is wanted: all four sides are tried, and the strip comes back within 0.01 mm', () => {
    const { model, x } = standingStrip(),
      sys = createSystem(model),
      { answer, sides, worstShift } = toEnd(nudgeFourWays(sys, rest(sys, x), { every: true }));
    expect([answer, sides]).toEqual([null, 4]);
    expect(worstShift).toBeLessThan(1e-5);
  });
});
