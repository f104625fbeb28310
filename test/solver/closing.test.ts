import { describe, expect, it } from 'vitest';
import { apply } from '../../src/solver/elastic/action.ts';
import { cableLengths } from '../../src/solver/elastic/cables.ts';
import { createElastic, evaluate, linearise } from '../../src/solver/elastic/elastic.ts';
import { closing, createSystem, forces, pseudoTransient, toEnd } from '../../src/solver/index.ts';
import type { Cables, Model } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

const norm = (a: Float64Array) => Math.sqrt(a.reduce((s, v) => s + v * v, 0));

/** Ties between pairs of vertices, and one tie of many pieces round a loop of vertices. */
function tiesOf(pairs: readonly (readonly [number, number, number])[], loop: readonly number[], drawnTo: number, EA: number): Cables {
  const start = [0],
    verts: number[] = [],
    weights: number[] = [],
    cableOf: number[] = [];
  const piece = (a: number, b: number, c: number): void => {
    verts.push(a, b);
    weights.push(-1, 1);
    start.push(verts.length);
    cableOf.push(c);
  };
  pairs.forEach(([a, b], i) => {
    piece(a, b, i);
  });
  loop.forEach((v, i) => {
    piece(v, loop[(i + 1) % loop.length]!, pairs.length);
  });
  const rest = [...pairs.map((p) => p[2]), ...(loop.length > 0 ? [drawnTo] : [])];
  return {
    start: Uint32Array.from(start),
    verts: Uint32Array.from(verts),
    weights: Float64Array.from(weights),
    cableOf: Uint32Array.from(cableOf),
    rest: Float64Array.from(rest),
    stiffness: Float64Array.from(rest, (r, i) => (i < pairs.length ? 200 * r : EA)),
    contactEdges: new Uint32Array(0),
    ties: { first: 0, group: Uint32Array.from(rest, (_, i) => (i < pairs.length ? 0 : 1)), along: new Float64Array(rest.length) },
  };
}

/** A bent sheet with a taut tie, a slack one and a loop that is drawn shut. */
function tied(): { model: Model; x: Float64Array } {
  const s = flatSheet({
    nx: 6,
    ny: 4,
    length: 0.06,
    width: 0.04,
    arealMass: 0.34,
    D: [1e-4, 6e-5, 1e-5, 3e-5],
    C: [2e3, 1.2e3, 2e2, 4e2],
    jitter: 0.5,
    clamp: true,
  });
  const x = s.x.slice(),
    rand = random(7);
  for (let v = 0; v < s.model.vertexCount; v++) {
    if (s.model.held[v]) continue;
    x[3 * v + 2] = 4 * s.x[3 * v]! * s.x[3 * v]! + 0.0006 * (rand() - 0.5);
  }
  const loop = [s.vertex(2, 1), s.vertex(4, 1), s.vertex(5, 2), s.vertex(4, 3), s.vertex(2, 3)];
  const cables = tiesOf(
    [
      [s.vertex(3, 0), s.vertex(6, 4), 0.03],
      [s.vertex(3, 4), s.vertex(6, 0), 0.2],
    ],
    loop,
    0.08,
    50,
  );
  return { model: { ...s.model, cables }, x };
}

describe('ties', () => {
  it('gradient and Hessian action equal fourth-order differences to 1e-8; a slack tie pulls nothing', () => {
    const { model, x } = tied();
    const el = createElastic(model),
      rand = random(3),
      h = 2e-6;
    const d = Float64Array.from(x, (_, i) => (model.held[(i / 3) | 0] ? 0 : rand() - 0.5));
    const at = (t: number) => {
      const g = new Float64Array(x.length),
        e = evaluate(
          el,
          x.map((v, i) => v + t * d[i]!),
          g,
          'plain',
        );
      return { e: e.bend + e.stretch, g };
    };
    const [p1, m1, p2, m2] = [at(h), at(-h), at(2 * h), at(-2 * h)];
    const { g } = at(0);
    expect(el.cables!.tension[0]!).toBeGreaterThan(0);
    expect(el.cables!.tension[1]!).toBe(0);
    expect(el.cables!.tension[2]!).toBeGreaterThan(0);
    const slope = (8 * (p1.e - m1.e) - (p2.e - m2.e)) / (12 * h),
      exact = g.reduce((s, v, i) => s + v * d[i]!, 0);
    const turned = g.map((_, i) => (8 * (p1.g[i]! - m1.g[i]!) - (p2.g[i]! - m2.g[i]!)) / (12 * h));
    linearise(el, null, false);
    const out = new Float64Array(x.length);
    apply(el, d, out);
    const [first, second] = [Math.abs(slope - exact) / Math.abs(exact), norm(out.map((v, i) => v - turned[i]!)) / norm(turned)];
    console.log(`ties: gradient ${first.toExponential(2)}, Hessian ${second.toExponential(2)}, bar 1e-8`);
    expect(first).toBeLessThan(1e-8);
    expect(second).toBeLessThan(1e-8);
  });

  // Virtual work (Castigliano): of a system at rest, the pull in a string is minus the derivative of its energy by the length that the string is drawn to.
  it('a loop pulled shut by 1 % comes to its length to 1e-6, and its pull equals the change of energy over the change of length within 1 %', () => {
    const s = flatSheet({
      nx: 10,
      ny: 10,
      length: 0.1,
      width: 0.1,
      arealMass: 0.3,
      D: [2e-2, 2e-2, 5e-3, 7e-3],
      C: [2e3, 2e3, 4e2, 8e2],
      jitter: 0.3,
      clamp: true,
    });
    const ring = [
      ...[3, 4, 5, 6, 7].map((i) => s.vertex(i, 3)),
      ...[4, 5, 6].map((j) => s.vertex(7, j)),
      ...[7, 6, 5, 4, 3].map((i) => s.vertex(i, 7)),
      ...[6, 5, 4].map((j) => s.vertex(3, j)),
    ];
    const open = ring.reduce((sum, v, i) => sum + Math.hypot(...[0, 1, 2].map((k) => s.x[3 * v + k]! - s.x[3 * ring[(i + 1) % ring.length]! + k]!)), 0);
    const drawn = (share: number) => {
      const model: Model = { ...s.model, gravity: [0, 0, 0], cables: tiesOf([], ring, share * open, 2e6) };
      const fixed = { ...model, cables: { ...model.cables!, ties: { ...model.cables!.ties!, group: Uint32Array.of(0) } } };
      const sys = createSystem(fixed);
      const x = toEnd(closing(sys, s.x, [], () => true)).x;
      const r = pseudoTransient(sys, x, {
        formulation: 'plain',
        tolerance: 1e-5,
        dt: 0.1,
        grow: 10,
        dtMax: 1e5,
        cap: 0.01,
        monotone: false,
        maxIterations: 100,
        cg: 1e-8,
      });
      expect(r.status).toBe('settled');
      const e = forces(sys, x, new Float64Array(x.length), 'plain');
      return { energy: e.total, pull: sys.el.cables!.tension[0]!, length: cableLengths(sys.el.cables!, x)[0]! };
    };
    const [less, middle, more] = [drawn(0.9895), drawn(0.99), drawn(0.9905)];
    const work = (less.energy - more.energy) / (0.001 * open);
    console.log(
      `loop: length off by ${(middle.length / (0.99 * open) - 1).toExponential(2)}; pull ${middle.pull.toFixed(5)} N, by virtual work ${work.toFixed(5)} N`,
    );
    expect(Math.abs(middle.length / (0.99 * open) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(middle.pull / work - 1)).toBeLessThan(0.01);
  });
});
