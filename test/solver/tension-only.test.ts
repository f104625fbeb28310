import { describe, expect, test } from 'vitest';
import { slackPull } from '../../src/material/ease.ts';
import { apply } from '../../src/solver/elastic/action.ts';
import { createElastic, evaluate, linearise } from '../../src/solver/elastic/elastic.ts';
import { assembleMatrix } from '../../src/solver/elastic/matrix.ts';
import type { Model } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

const D = [1e-4, 6e-5, 1e-5, 3e-5] as const;
const C = [2e3, 1.2e3, 2e2, 4e2] as const;

/** The model with a slack layer behind it, in two directions a right angle apart, on every triangle. */
function lined(model: Model, angle: number, stiffness: readonly [number, number], ease: readonly [number, number]): Model {
  const m = model.triVerts.length / 3;
  const both = (k: (i: number) => number) => Float64Array.from({ length: 2 * m }, (_, b) => k(b % 2));
  return {
    ...model,
    tensionOnly: {
      tri: Uint32Array.from({ length: 2 * m }, (_, b) => b >> 1),
      angle: both((i) => angle + (i * Math.PI) / 2),
      stiffness: both((i) => stiffness[i]),
      ease: both((i) => ease[i]),
    },
  };
}

/** Pull per width, N/m, that holds a sheet drawn along x by the strain: force on its end over the width it was cut to. */
function pullAt(model: Model, flat: Float64Array, strain: number, length: number, width: number): number {
  const x = flat.map((v, i) => (i % 3 === 0 ? v * (1 + strain) : v));
  const g = new Float64Array(x.length);
  evaluate(createElastic(model), x, g, 'plain');
  let sum = 0;
  for (let i = 0; i < g.length; i += 3) if (flat[i]! > length - 1e-9) sum += g[i]!;
  return sum / width;
}

describe('a lining cut with ease behind a sheet', () => {
  const sheet = flatSheet({ nx: 4, ny: 3, length: 0.08, width: 0.06, arealMass: 0.3, D, C, jitter: 0.5 });
  const [own, across] = [900, 0.03];

  test.each([0, 0.4])('pulls nothing up to its ease; beyond it as a layer of its own length does, to 1e-12 (warp turned by %d)', (turn) => {
    const turned = turn === 0 ? sheet : flatSheet({ nx: 4, ny: 3, length: 0.08, width: 0.06, arealMass: 0.3, D, C, jitter: 0.5, angle: turn });
    // Its directions are given from the sheet's warp, which is turned; laid back it lies along x again.
    const model = lined(turned.model, -turn, [own * (1 + across), 1], [0.02, across]);
    const added = (s: number) => pullAt(model, turned.x, s, 0.08, 0.06) - pullAt(turned.model, turned.x, s, 0.08, 0.06);
    expect([0, 0.01, 0.02].map((s) => Math.abs(added(s)) < 1e-9)).toEqual([true, true, true]);
    for (const s of [0.021, 0.03, 0.06]) {
      // St. Venant-Kirchhoff strip of its own length 1 + e, stretched to 1 + s: lambda = (1 + s)/(1 + e), P = C lambda (lambda^2 - 1)/2, on 1 + across of width.
      const l = (1 + s) / 1.02;
      const exact = own * (1 + across) * l * 0.5 * (l * l - 1);
      console.log(
        `strain ${s}, turned ${turn}: ${added(s).toFixed(6)} N/m, own length ${exact.toFixed(6)}, small strains ${slackPull(own, s, 0.02, across).toFixed(6)}`,
      );
      expect(Math.abs(added(s) / exact - 1)).toBeLessThan(1e-9);
      // The law of material/ease.ts is its small-strain form: 3/2 of the strain beyond the ease is what it leaves out.
      expect(Math.abs(slackPull(own, s, 0.02, across) / exact - 1)).toBeLessThan(1.6 * (l - 1));
    }
  });
});

describe.each(['plain', 'arc-corrected'] as const)('derivatives with layers partly taut, %s', (formulation) => {
  const base = flatSheet({ nx: 6, ny: 4, length: 0.06, width: 0.04, arealMass: 0.34, D, C, jitter: 0.5, angle: 0.4, clamp: true });
  const model = lined(base.model, 0.7, [800, 500], [0.05, 0.02]);
  const rand = random(7);
  const x = base.x.map((v, i) => {
    if (model.held[(i / 3) | 0]) return v;
    const [u, w] = [base.x[i - (i % 3)]!, base.x[i - (i % 3) + 1]!];
    return i % 3 === 2 ? 4 * u * u + 6 * u * w + 0.0006 * (rand() - 0.5) : v * (i % 3 === 0 ? 1.003 : 0.999) + 0.0002 * (rand() - 0.5);
  });
  const d = Float64Array.from(x, (_, i) => (model.held[(i / 3) | 0] ? 0 : rand() - 0.5));
  const moved = (h: number) => x.map((v, i) => v + h * d[i]!);
  const el = createElastic(model);

  test('some pull and some do not; the gradient equals the difference of the energy, and the action that of the gradient, to 1e-8', () => {
    const grad = (h: number) => {
      const g = new Float64Array(x.length);
      evaluate(el, moved(h), g, formulation);
      return g;
    };
    const energy = (h: number) => {
      const e = evaluate(el, moved(h), null, formulation);
      return e.bend + e.stretch;
    };
    const h = 1e-7;
    const g = grad(0);
    const taut = el.tensionOnly!.active.filter((k) => k > 0).length;
    expect(taut).toBeGreaterThan(el.tensionOnly!.count / 10);
    expect(taut).toBeLessThan(0.9 * el.tensionOnly!.count);
    const fd = (8 * (energy(h) - energy(-h)) - (energy(2 * h) - energy(-2 * h))) / (12 * h);
    const exact = g.reduce((s, v, i) => s + v * d[i]!, 0);
    console.log(`${formulation}: ${taut} of ${el.tensionOnly!.count} taut; gradient off by ${Math.abs(fd / exact - 1).toExponential(2)}`);
    expect(Math.abs(fd / exact - 1)).toBeLessThan(1e-8);
    const [a, b, c, e] = [grad(h), grad(-h), grad(2 * h), grad(-2 * h)];
    const dg = a.map((v, i) => (8 * (v - b[i]!) - (c[i]! - e[i]!)) / (12 * h));
    grad(0);
    linearise(el, null, false);
    const out = new Float64Array(x.length);
    apply(el, d, out);
    const norm = (v: Float64Array) => Math.sqrt(v.reduce((s, w) => s + w * w, 0));
    const off = norm(out.map((v, i) => v - dg[i]!)) / norm(dg);
    console.log(`${formulation}: Hessian action off by ${off.toExponential(2)}`);
    expect(off).toBeLessThan(1e-8);
  });

  test('the assembled matrix gains by a lining square to the sheet exactly what the action gains, to 1e-12', () => {
    const matrixOf = (m: Model) => {
      const e = createElastic(m);
      evaluate(e, x, new Float64Array(x.length), 'plain');
      linearise(e, new Float64Array(3 * (m.triVerts.length / 3)), false);
      const matrix = new Float64Array(e.shell.values.length);
      assembleMatrix(e, matrix, new Float64Array(3 * x.length), 0);
      return { e, matrix };
    };
    const square = lined(base.model, 0, [800, 500], [0.002, 0.0005]);
    const [with_, without] = [matrixOf(square), matrixOf(base.model)];
    const { rowPtr, colIdx } = with_.e.shell.pattern;
    const free = Float64Array.from(d);
    const product = new Float64Array(x.length);
    for (let i = 0; i < square.vertexCount; i++)
      for (let p = rowPtr[i]!; p < rowPtr[i + 1]!; p++) {
        const j = colIdx[p]!;
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) {
            const v = with_.matrix[9 * p + 3 * a + b]! - without.matrix[9 * p + 3 * a + b]!;
            product[3 * i + a]! += v * free[3 * j + b]!;
            if (i !== j) product[3 * j + b]! += v * free[3 * i + a]!;
          }
      }
    const [u, v] = [with_, without].map(({ e }) => {
      const out = new Float64Array(x.length);
      apply(e, free, out);
      return out;
    });
    let [off, size] = [0, 0];
    u!.forEach((w, i) => {
      if (model.held[(i / 3) | 0]) return;
      off = Math.max(off, Math.abs(w - v![i]! - product[i]!));
      size = Math.max(size, Math.abs(product[i]!));
    });
    expect(size).toBeGreaterThan(0);
    expect(off / size).toBeLessThan(1e-12);
  });
});
