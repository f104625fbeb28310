import { describe, expect, it } from 'vitest';
import { applyCables, cableLengths, createCables, evaluateCables, lineariseCables } from '../../src/solver/elastic/cables.ts';
import { commitCords, createCords } from '../../src/solver/elastic/cords.ts';
import { closing, createSystem, forces, pseudoTransient, toEnd } from '../../src/solver/index.ts';
import type { Cables, Model } from '../../src/solver/types.ts';
import { flatSheet, random } from './sheets.ts';

const norm = (a: ArrayLike<number>) => Math.sqrt(Array.from(a).reduce((s, v) => s + v * v, 0));

/** One cord through vertices in order, drawn to a length. */
function cordOf(verts: readonly number[], drawnTo: number, friction: number, loop: boolean): Cables {
  const pieces = loop ? verts.length : verts.length - 1;
  return {
    start: Uint32Array.from({ length: pieces + 1 }, (_, i) => 2 * i),
    verts: Uint32Array.from({ length: 2 * pieces }, (_, i) => verts[((i >> 1) + (i & 1)) % verts.length]!),
    weights: Float64Array.from({ length: 2 * pieces }, (_, i) => (i & 1 ? 1 : -1)),
    cableOf: new Uint32Array(pieces),
    rest: Float64Array.of(drawnTo),
    stiffness: Float64Array.of(5e4),
    contactEdges: new Uint32Array(0),
    ties: { first: 0, group: Uint32Array.of(0), along: Float64Array.of(0), cords: [{ cable: 0, friction, loop }] },
  };
}

const stateOf = (cables: Cables, x: Float64Array) => {
  const state = createCables(cables),
    cords = createCords({ cables } as Model, state)!;
  commitCords(cords, state, x);
  return { state, cords };
};

describe('a cord in its channel', () => {
  // Euler; Eytelwein 1808: T2/T1 = exp(mu theta). The pulls are read off the forces on the channel, by moments about the arc's centre.
  it.each([
    [0.1, 10, 180],
    [0.3, 8, 180],
    [0.3, 40, 340],
    [0.5, 16, 360],
  ])(
    'capstan ratio at friction %f over %i pieces and half of %i degrees within 3 %% of exp(mu theta), from the forces it puts on its channel',
    (mu, pieces, degrees) => {
      const R = 0.05,
        theta = (degrees * Math.PI) / 180;
      const x = Float64Array.from({ length: 3 * (pieces + 1) }, (_, i) => {
        const a = (theta * ((i / 3) | 0)) / pieces;
        return [R * Math.cos(a), R * Math.sin(a), 0][i % 3]!;
      });
      const { state } = stateOf(
          cordOf(
            Array.from({ length: pieces + 1 }, (_, i) => i),
            0.9 * R * theta,
            mu,
            false,
          ),
          x,
        ),
        g = new Float64Array(x.length);
      evaluateCables(state, x, g);
      // What the channel's first half bears: its moment is what the pull loses from the first piece to the middle.
      const chord = R * Math.cos(theta / pieces / 2);
      const first = norm(g.slice(0, 3));
      let lost = 0;
      for (let v = 1; v < pieces / 2; v++) lost -= x[3 * v]! * g[3 * v + 1]! - x[3 * v + 1]! * g[3 * v]!;
      const ratio = first / (first - Math.abs(lost) / chord),
        // From the middle of the first piece to that of the last one before the middle.
        exact = Math.exp(mu * (theta / pieces) * Math.floor((pieces - 1) / 2));
      console.log(`capstan: ${ratio.toFixed(5)} against ${exact.toFixed(5)} (${((ratio / exact - 1) * 100).toExponential(1)} %)`);
      expect(exact).toBeGreaterThan(1.1);
      expect(Math.abs(ratio / exact - 1)).toBeLessThan(0.03);
    },
  );

  it('with friction its gradient and Hessian action equal fourth-order differences to 1e-8, and what a commit moves leaves its pull as it is', () => {
    const rand = random(5),
      n = 9,
      x = Float64Array.from({ length: 3 * n }, () => 0.1 * rand()),
      verts = Array.from({ length: n }, (_, i) => i);
    const { state, cords } = stateOf(cordOf(verts, 0.3, 0.4, true), x);
    evaluateCables(state, x, null);
    const before = state.tension[0]!;
    commitCords(cords, state, x);
    evaluateCables(state, x, null);
    expect(before).toBeGreaterThan(1);
    expect(state.tension[0]!).toBeCloseTo(before, 9);
    expect(Math.min(...state.share)).toBeLessThan(0.3);
    const d = Float64Array.from(x, () => rand() - 0.5),
      h = 1e-5;
    const at = (t: number) => {
      const g = new Float64Array(x.length);
      return {
        e: evaluateCables(
          state,
          x.map((v, i) => v + t * d[i]!),
          g,
        ),
        g,
      };
    };
    const [p1, m1, p2, m2] = [at(h), at(-h), at(2 * h), at(-2 * h)],
      { g } = at(0),
      exact = g.reduce((s, v, i) => s + v * d[i]!, 0),
      slope = (8 * (p1.e - m1.e) - (p2.e - m2.e)) / (12 * h),
      turned = g.map((_, i) => (8 * (p1.g[i]! - m1.g[i]!) - (p2.g[i]! - m2.g[i]!)) / (12 * h)),
      out = new Float64Array(x.length);
    lineariseCables(state, false, false);
    applyCables(state, d, out);
    const [one, two] = [Math.abs(slope / exact - 1), norm(out.map((v, i) => v - turned[i]!)) / norm(turned)];
    console.log(`cord: gradient ${one.toExponential(2)}, Hessian ${two.toExponential(2)}, bar 1e-8`);
    expect(one).toBeLessThan(1e-8);
    expect(two).toBeLessThan(1e-8);
  });

  /** A clamped sheet with a ring of channel, its cord drawn to a share of it. */
  const ring = (share: number, friction: number) => {
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
    const verts = [
      ...[3, 4, 5, 6, 7].map((i) => s.vertex(i, 3)),
      ...[4, 5, 6].map((j) => s.vertex(7, j)),
      ...[7, 6, 5, 4, 3].map((i) => s.vertex(i, 7)),
      ...[6, 5, 4].map((j) => s.vertex(3, j)),
    ];
    const open = verts.reduce((sum, v, i) => sum + Math.hypot(...[0, 1, 2].map((k) => s.x[3 * v + k]! - s.x[3 * verts[(i + 1) % verts.length]! + k]!)), 0);
    const sys = createSystem({ ...s.model, gravity: [0, 0, 0], cables: cordOf(verts, share * open, friction, true) });
    const { x } = toEnd(closing(sys, s.x, [], () => true));
    const r = pseudoTransient(sys, x, {
      formulation: 'plain',
      tolerance: 1e-5,
      dt: 0.1,
      grow: 10,
      dtMax: 1e5,
      cap: 0.01,
      monotone: false,
      maxIterations: 200,
      cg: 1e-8,
    });
    expect(r.status).toBe('settled');
    const { total } = forces(sys, x, new Float64Array(x.length), 'plain'),
      c = sys.el.cables!;
    // The cord's own energy is a device of the method: what counts is the sheet's.
    return {
      energy: total - (0.5 * c.tension[0]! * c.tension[0]!) / c.spring[0]!,
      pull: c.tension[0]!,
      off: cableLengths(c, x)[0]! / (share * open) - 1,
      open,
    };
  };

  // Virtual work (Castigliano): without friction the pull is minus the derivative of the sheet's energy by the length that the cord is drawn to.
  it('drawn by 1 % it comes to its length to 1e-6, and without friction its pull equals the change of energy over the change of length within 1 %', () => {
    const [less, middle, more] = [ring(0.9895, 0), ring(0.99, 0), ring(0.9905, 0)],
      work = (less.energy - more.energy) / (0.001 * middle.open);
    console.log(`cord: length off by ${middle.off.toExponential(2)}; pull ${middle.pull.toFixed(5)} N, by virtual work ${work.toFixed(5)} N`);
    expect(Math.abs(middle.off)).toBeLessThan(1e-6);
    expect(Math.abs(middle.pull / work - 1)).toBeLessThan(0.01);
  });

  it('with friction 0.3 it comes to the same length to 1e-6, at rest, and takes a harder pull', () => {
    const [free, rubs] = [ring(0.99, 0), ring(0.99, 0.3)];
    console.log(`pull ${free.pull.toFixed(4)} N without, ${rubs.pull.toFixed(4)} N with friction`);
    expect(Math.abs(rubs.off)).toBeLessThan(1e-6);
    // The mean of exp(-0.3 a) over a from 0 to pi is 0.646: about so much of the pull is left round the ring.
    expect(rubs.pull / free.pull).toBeGreaterThan(1.2);
    expect(rubs.pull / free.pull).toBeLessThan(Math.exp(0.3 * Math.PI));
  });
});
