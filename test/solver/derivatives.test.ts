import { describe, expect, it } from 'vitest';
import { apply } from '../../src/solver/elastic/action.ts';
import { createElastic, evaluate, linearise } from '../../src/solver/elastic/elastic.ts';
import { flatSheet, random } from './sheets.ts';

const D = [1e-4, 6e-5, 1e-5, 3e-5] as const;
const C = [2e3, 1.2e3, 2e2, 4e2] as const;

/** A bent, twisted, slightly stretched sheet with a sprung seam, a clamp and orthotropic stiffness at an angle: nothing is zero. */
function crumpled(seam: number) {
  const s = flatSheet({ nx: 6, ny: 4, length: 0.06, width: 0.04, arealMass: 0.34, D, C, jitter: 0.5, angle: 0.4, seamAt: 3, seamStiffness: seam, clamp: true });
  const rand = random(7);
  const x = s.x.slice();
  for (let v = 0; v < s.model.vertexCount; v++) {
    const u = s.x[3 * v]!,
      w = s.x[3 * v + 1]!;
    if (s.model.held[v]) continue;
    x[3 * v + 2] = 4 * u * u + 6 * u * w + 0.0006 * (rand() - 0.5);
    x[3 * v] = u * 1.003 + 0.0002 * (rand() - 0.5);
    x[3 * v + 1] = w * 0.999 + 0.0002 * (rand() - 0.5);
  }
  return { model: s.model, x };
}

const norm = (a: Float64Array) => Math.sqrt(a.reduce((s, v) => s + v * v, 0));

describe.each([['plain'], ['arc-corrected']] as const)('energy derivatives, %s', (formulation) => {
  it.each([0, 5e-3, Number.POSITIVE_INFINITY])('gradient equals the fourth-order difference of the energy to 1e-8, seam spring %d N*m/rad per m', (seam) => {
    const { model, x } = crumpled(seam);
    const el = createElastic(model),
      g = new Float64Array(x.length),
      rand = random(3);
    evaluate(el, x, g, formulation);
    const d = Float64Array.from(x, (_, i) => (model.held[(i / 3) | 0] ? 0 : rand() - 0.5)),
      at = (h: number) => {
        const e = evaluate(
          el,
          x.map((v, i) => v + h * d[i]!),
          null,
          formulation,
        );
        return e.bend + e.stretch;
      };
    const h = 2e-6;
    const fd = (8 * (at(h) - at(-h)) - (at(2 * h) - at(-2 * h))) / (12 * h);
    const exact = g.reduce((s, v, i) => s + v * d[i]!, 0);
    const err = Math.abs(fd - exact) / Math.abs(exact);
    console.log(`gradient, ${formulation}, seam ${seam}: relative error ${err.toExponential(2)}, bar 1e-8`);
    expect(err).toBeLessThan(1e-8);
  });

  it.each([0, 5e-3, Number.POSITIVE_INFINITY])('Hessian action equals the fourth-order difference of the gradient to 1e-8, seam spring %d', (seam) => {
    const { model, x } = crumpled(seam);
    const el = createElastic(model),
      rand = random(5);
    const d = Float64Array.from(x, (_, i) => (model.held[(i / 3) | 0] ? 0 : rand() - 0.5)),
      grad = (h: number) => {
        const g = new Float64Array(x.length);
        evaluate(
          el,
          x.map((v, i) => v + h * d[i]!),
          g,
          formulation,
        );
        return g;
      };
    const h = 2e-6,
      a = grad(h),
      b = grad(-h),
      c = grad(2 * h),
      e = grad(-2 * h);
    const fd = a.map((v, i) => (8 * (v - b[i]!) - (c[i]! - e[i]!)) / (12 * h));
    grad(0);
    linearise(el, null, false);
    const out = new Float64Array(x.length);
    apply(el, d, out);
    const err = norm(out.map((v, i) => v - fd[i]!)) / norm(fd);
    console.log(`Hessian action, ${formulation}, seam ${seam}: relative error ${err.toExponential(2)}, bar 1e-8`);
    expect(err).toBeLessThan(1e-8);
  });

  it('gradient and action to 1e-8 where a clamped edge is free to move and to turn (an end moment)', () => {
    const { model, x } = crumpled(Number.POSITIVE_INFINITY);
    const free = { ...model, held: new Uint8Array(model.vertexCount) },
      el = createElastic(free),
      rand = random(11),
      y = x.map((v) => v + 4e-4 * (rand() - 0.5)),
      d = Float64Array.from(x, () => rand() - 0.5),
      h = 1e-7;
    const at = (t: number) => {
      const g = new Float64Array(x.length),
        e = evaluate(
          el,
          y.map((v, i) => v + t * d[i]!),
          g,
          formulation,
        );
      return { g, e: e.bend + e.stretch };
    };
    const [a, b, c, e] = [at(h), at(-h), at(2 * h), at(-2 * h)],
      g = at(0).g;
    linearise(el, null, false);
    const out = new Float64Array(x.length);
    apply(el, d, out);
    const slope = (8 * (a.e - b.e) - (c.e - e.e)) / (12 * h),
      exact = g.reduce((s, v, i) => s + v * d[i]!, 0),
      fd = out.map((_, i) => (8 * (a.g[i]! - b.g[i]!) - (c.g[i]! - e.g[i]!)) / (12 * h)),
      off = norm(out.map((v, i) => v - fd[i]!)) / norm(fd);
    console.log(`free clamp, ${formulation}: gradient off by ${Math.abs(slope / exact - 1).toExponential(2)}, action by ${off.toExponential(2)}, bars 1e-8`);
    expect(Math.abs(slope / exact - 1)).toBeLessThan(1e-8);
    expect(off).toBeLessThan(1e-8);
  });

  it('no energy and no force under rigid motion', () => {
    const s = flatSheet({ nx: 5, ny: 3, length: 0.05, width: 0.03, arealMass: 0.3, D, C, jitter: 0.6 });
    const a = 0.7,
      x = new Float64Array(s.x.length);
    for (let v = 0; v < s.model.vertexCount; v++) {
      const px = s.x[3 * v]!,
        py = s.x[3 * v + 1]!;
      x[3 * v] = Math.cos(a) * px - Math.sin(a) * py + 0.3;
      x[3 * v + 1] = 0.6 * (Math.sin(a) * px + Math.cos(a) * py) - 1;
      x[3 * v + 2] = 0.8 * (Math.sin(a) * px + Math.cos(a) * py) + 2;
    }
    const el = createElastic(s.model),
      g = new Float64Array(x.length),
      e = evaluate(el, x, g, formulation);
    expect(e.bend + e.stretch).toBeLessThan(1e-20);
    expect(norm(g)).toBeLessThan(1e-10);
  });
});
