/** Cloth against a strap's own line: nothing passes through it, and it bears what lies on it. */
import { describe, expect, it } from 'vitest';
import { findCrossings, strapCrossings } from '../../src/mesh/crossings.ts';
import { createFall } from '../../src/solver/index.ts';
import { reactions, rest } from '../../src/solver/rest/settle.ts';
import { createSystem, forces } from '../../src/solver/system.ts';
import type { Model } from '../../src/solver/types.ts';
import { flatSheet } from './sheets.ts';

const G = 9.80665;
const SIDE = 0.2;

/** A soft sheet of 200 mm, 5 mm over a line of eight pieces from side to side; the line's ends are held 30 mm outside it. share: place of the line along x. */
function over(share: number, met: boolean): { model: Model; x: Float64Array; pieces: number[] } {
  const s = flatSheet({ nx: 12, ny: 12, length: SIDE, width: SIDE, arealMass: 0.3, D: [2e-5, 2e-5, 0, 1e-5], C: [2e3, 2e3, 0, 1e3], jitter: 0.3 }),
    n = s.model.vertexCount,
    count = 9,
    line = Array.from({ length: count }, (_, k) => [share * SIDE, -0.03 + ((SIDE + 0.06) * k) / (count - 1), -0.005] as const),
    pieces = Array.from({ length: count - 1 }, (_, k) => [n + k, n + k + 1]).flat(),
    x = Float64Array.from([...s.x, ...line.flat()]);
  const held = new Uint8Array(n + count);
  held[n] = held[n + count - 1] = 1;
  return {
    pieces,
    x,
    model: {
      ...s.model,
      vertexCount: n + count,
      mass: Float64Array.from([...s.model.mass, ...line.map(() => 2e-4)]),
      held,
      pressed: Float64Array.from({ length: n + count }, (_, v) => (v < n ? 0 : 0.02)),
      cables: {
        start: Uint32Array.from({ length: count }, (_, k) => 2 * k),
        verts: Uint32Array.from(pieces),
        weights: Float64Array.from(pieces, (_, k) => (k % 2 ? 1 : -1)),
        cableOf: Uint32Array.from({ length: count - 1 }, (_, k) => k),
        rest: new Float64Array(count - 1).fill((SIDE + 0.06) / (count - 1)),
        stiffness: new Float64Array(count - 1).fill(500),
        contactEdges: Uint32Array.from(met ? pieces : []),
      },
    },
  };
}

describe('a sheet dropped on a line', () => {
  it('0 crossings of cloth with cloth or line in any of 40 steps; not met, the cloth falls through it', () => {
    const { model, x, pieces } = over(0.47, true),
      fall = createFall(model, x, { selfContact: true, iterations: 3, formulation: 'plain' });
    let [cloth, line] = [0, 0];
    for (let k = 0; k < 40; k++) {
      fall.step(1 / 60);
      cloth += findCrossings(fall.x, model.triVerts).length / 2;
      line += strapCrossings(fall.x, model.triVerts, pieces);
    }
    const loose = over(0.47, false),
      through = createFall(loose.model, loose.x, { selfContact: true, iterations: 3, formulation: 'plain' });
    let [lowest, stopped] = [0, 0];
    for (let k = 0; k < 40; k++) through.step(1 / 60);
    for (let v = 0; v < 169; v++) {
      lowest = Math.min(lowest, through.x[3 * v + 2]!);
      stopped = Math.min(stopped, fall.x[3 * v + 2]!);
    }
    console.log(
      `crossings ${cloth} of cloth, ${line} of the line, expected 0; lowest point ${(1e3 * stopped).toFixed(0)} mm, not met ${(1e3 * lowest).toFixed(0)} mm`,
    );
    expect(cloth).toBe(0);
    expect(line).toBe(0);
    expect(stopped).toBeGreaterThan(-0.2);
    expect(lowest).toBeLessThan(-1);
  });

  it('it comes to rest hanging over the line, whose held ends carry sheet and line within 1 in 1000', () => {
    const { model, x, pieces } = over(0.47, true),
      sys = createSystem(model, { selfContact: true }),
      r = rest(sys, x, {});
    forces(sys, r.x, new Float64Array(x.length), r.formulation);
    const { held } = reactions(sys, r.x, r.formulation),
      carried = held.reduce((sum, f, i) => sum + (i % 3 === 2 ? f : 0), 0),
      weight = G * model.mass.reduce((sum, m) => sum + m, 0);
    console.log(
      `${r.status}, residual ${r.residual.toExponential(1)} after ${r.iterations}; ends carry ${(carried / weight).toFixed(6)} of the weight; ${strapCrossings(r.x, model.triVerts, pieces)} crossings`,
    );
    expect(r.status).toBe('settled');
    expect(Math.abs(carried / weight - 1)).toBeLessThan(1e-3);
    expect(strapCrossings(r.x, model.triVerts, pieces)).toBe(0);
  });
});

it('a straight piece through a triangle is counted once, one beside it or ending short of it is not', () => {
  const x = [0, 0, 0, 1, 0, 0, 0, 1, 0, 0.2, 0.2, -0.5, 0.2, 0.2, 0.5, 0.8, 0.8, 0.5, 0.8, 0.8, -0.5, 0.2, 0.2, 0.1];
  expect([3, 4, 5, 6, 4, 7].flatMap((_, k, all) => (k % 2 ? [] : [strapCrossings(x, [0, 1, 2], [all[k]!, all[k + 1]!])]))).toEqual([1, 0, 0]);
});
