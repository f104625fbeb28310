import { describe, expect, it } from 'vitest';
import type { BodySpec } from '../../src/solver/join-bodies.ts';
import { drop, type Wall } from '../../src/solver/rigid.ts';
import type { SupportShape } from '../../src/solver/types.ts';

const G = 9.80665;
const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;
/** Own z along world y: rolls toward x. */
const LYING = [1, 0, 0, 0, 0, -1, 0, 1, 0] as const;
const FLOOR: Wall = { point: [0, 0, 0], normal: [0, 0, 1] };
const ball: SupportShape = { kind: 'sphere', centre: [0, 0, 0], radius: 0.05 };
const can: SupportShape = { kind: 'cylinder', a: [0, 0, -0.06], b: [0, 0, 0.06], radius: 0.04, round: 0.003 };
const brick: SupportShape = { kind: 'box', centre: [0, 0, 0], half: [0.1, 0.05, 0.03], round: 0.003 };

const spec = (shape: SupportShape, at: BodySpec['at'], axes: BodySpec['axes'] = UPRIGHT, friction = 0.5): BodySpec => ({
  name: shape.kind,
  shape,
  at,
  axes,
  mass: 0.5,
  friction,
  offset: 1e-3,
});

describe('rigid things let fall', () => {
  it.each([
    ['ball', spec(ball, [0, 0, 0.07]), 0.05],
    ['can', spec(can, [0, 0, 0.075]), 0.06],
    ['brick', spec(brick, [0, 0, 0.045]), 0.03],
  ])('%s lies still on a floor at half its height within 0.1 mm', (_, s, height) => {
    const r = drop([s], [FLOOR], { gravity: [0, 0, -G], seconds: 3, still: 1e-3 });
    console.log(`${s.name}: z ${(r.poses[0]!.at[2] * 1000).toFixed(3)} mm after ${r.seconds.toFixed(2)} s`);
    expect(r.speed).toBeLessThan(1e-3);
    expect(Math.abs(r.poses[0]!.at[2] - height)).toBeLessThan(1e-4);
  });

  // Closed form: a = g sin(theta)/(1 + I/(m r^2)), I/(m r^2) = 2/5 of a sphere, 1/2 of a cylinder; textbook of mechanics (rolling without slipping, from memory).
  it.each([
    ['ball', spec(ball, [0, 0, 0.05]), 0.4],
    ['can', spec(can, [0, 0, 0.04], LYING), 0.5],
  ])('%s rolls 0.5 m down a slope of 10 degrees in the closed-form time within 2 %', (_, s, ratio) => {
    const theta = Math.PI / 18;
    const theory = Math.sqrt((2 * 0.5 * (1 + ratio)) / (G * Math.sin(theta)));
    let took = Number.NaN;
    drop([s], [FLOOR], {
      gravity: [G * Math.sin(theta), 0, -G * Math.cos(theta)],
      seconds: 3,
      damping: 0,
      each: (t, [p]) => {
        if (p!.at[0] < 0.5) return true;
        took = t;
        return false;
      },
    });
    console.log(`${s.name} rolls 0.5 m in ${took.toFixed(4)} s, closed form ${theory.toFixed(4)} s`);
    expect(Math.abs(took / theory - 1)).toBeLessThan(0.02);
  });

  it('is the same to the last byte when run twice, a brick and a can falling on one another between four walls', () => {
    const walls: Wall[] = [
      FLOOR,
      { point: [-0.12, 0, 0], normal: [1, 0, 0] },
      { point: [0.12, 0, 0], normal: [-1, 0, 0] },
      { point: [0, -0.1, 0], normal: [0, 1, 0] },
      { point: [0, 0.1, 0], normal: [0, -1, 0] },
    ];
    const run = () => drop([spec(brick, [0, 0, 0.05]), spec(can, [0.01, 0.01, 0.2])], walls, { gravity: [0, 0, -G], seconds: 2, still: 1e-3 });
    const [a, b] = [run(), run()];
    expect(JSON.stringify(a)).toBe(JSON.stringify(b));
    for (const p of a.poses) expect(p.at[2]).toBeGreaterThan(0.029);
  });
});
