/** A sheet with a rod along one edge against a general-purpose finite-element program with beams on a shell's edge: sheet and rod share the load, and the rod's side hangs less. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { joinRods } from '../../src/solver/elastic/rod-chains.ts';
import { settle } from '../../src/solver/index.ts';
import { rodThrough } from '../solver/chains.ts';
import { flatSheet } from '../solver/sheets.ts';

const {
  about,
  sheet: s,
  points,
} = JSON.parse(readFileSync(new URL('../data/calculix/rod-on-edge.json', import.meta.url), 'utf8')) as {
  about: { program: string };
  sheet: Record<'length' | 'width' | 'bending' | 'arealMass' | 'rigidityOfRod' | 'lineMass' | 'gravity', number>;
  points: readonly { at: readonly [number, number]; down: number; coarser: number; finer: number }[];
};

const large = JSON.parse(readFileSync(new URL('../data/calculix/rod-hung.json', import.meta.url), 'utf8')) as {
  sheet: { gravity: number };
  points: readonly Readonly<Record<'moved' | 'coarser' | 'finer' | 'stiffer', readonly [number, number, number]> & { at: readonly [number, number] }>[];
};

/** Times the reference's weight: its deflection goes with the weight, and ours does to 1e-4 as long as the tip hangs by less than a hundredth of the length. */
const HEAVIER = 10;

/** How far the points hang, m, for the reference's weight, on a mesh of nx x ny. */
function hung(nx: number, ny: number, withRod: boolean): { status: string; down: number[] } {
  const { status, moved } = under(HEAVIER * s.gravity, nx, ny, withRod);
  return { status, down: moved.map(([, , z]) => -z / HEAVIER) };
}

/** How far the points move, m, under a gravity, m/s2. */
function under(gravity: number, nx: number, ny: number, withRod: boolean): { status: string; moved: [number, number, number][] } {
  // As the reference's shell: 1 mm thick, C = 12 D/t^2.
  const C = 12e6 * s.bending;
  const { model, x, vertex } = flatSheet({
    nx,
    ny,
    length: s.length,
    width: s.width,
    arealMass: s.arealMass,
    D: [s.bending, s.bending, 0, s.bending / 2],
    C: [C, C, 0, C / 2],
    clamp: true,
  });
  const edge = Array.from({ length: nx + 1 }, (_, i) => vertex(i, 0)),
    at = (v: number) => [x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!] as const;
  const rod = rodThrough(edge.map(at), { rigidity: s.rigidityOfRod, stiffness: 1e4, walls: [[1, 0, 0], null] });
  const mass = model.mass.slice();
  if (withRod)
    rod.lengths.forEach((l, i) => {
      for (const v of [edge[i]!, edge[i + 1]!]) mass[v]! += (s.lineMass * l) / 2;
    });
  const r = settle(
    { ...model, mass, gravity: [0, 0, -gravity], ...(withRod ? { rods: joinRods([{ ...rod, verts: rod.verts.map((i) => edge[i]!) }]) } : {}) },
    x,
  );
  const movedOf = (v: number) => [0, 1, 2].map((k) => r.x[3 * v + k]! - x[3 * v + k]!) as [number, number, number];
  return { status: r.status, moved: points.map(({ at: [u, v] }) => movedOf(vertex(u * nx, v * ny))) };
}

describe(`a strip of 80 x 25 mm with a rod of twice its rigidity along one edge, against ${about.program}`, () => {
  it('three tip points and the middle of the rod within 2 percent of what they hang; without its rod the tip hangs twice as far', () => {
    for (const [nx, ny] of [
      [16, 4],
      [32, 10],
    ] as const) {
      const { status, down } = hung(nx, ny, true);
      const off = down.map((d, i) => d / points[i]!.down - 1);
      const line = `${nx} x ${ny}: ${off.map((o) => `${(100 * o).toFixed(2)} %`).join(', ')}; reference to ${(100 * Math.max(...points.map((p) => Math.abs(p.finer / p.down - 1)))).toFixed(3)} %`;
      console.log(line);
      expect(status).toBe('settled');
      for (const o of off) expect(Math.abs(o), line).toBeLessThan(0.02);
      // The free side hangs further than the rod's.
      expect(down[2]!).toBeGreaterThan(down[0]!);
    }
    // q l^4/(8 D) for the sheet alone.
    expect(hung(16, 4, false).down[1]! / points[1]!.down).toBeGreaterThan(1.9);
  });

  it('under its whole weight, bent down by 35 mm of its 80 and twisted by the rod: tip and middle within 2 percent of what they move', () => {
    const apart = (a: readonly number[], b: readonly number[]) => Math.hypot(...a.map((v, k) => v - b[k]!)) / Math.hypot(...b);
    // How far the reference itself is settled: by its mesh, and by what a beam that twists leaves.
    for (const p of large.points) {
      expect(apart(p.finer, p.moved)).toBeLessThan(0.003);
      expect(apart(p.stiffer, p.moved)).toBeLessThan(0.007);
    }
    for (const [nx, ny] of [
      [16, 4],
      [32, 10],
    ] as const) {
      const { status, moved } = under(large.sheet.gravity, nx, ny, true),
        off = moved.map((m, i) => apart(m, large.points[i]!.moved)),
        line = `${nx} x ${ny}: ${off.map((o) => `${(100 * o).toFixed(2)} %`).join(', ')}`;
      console.log(line);
      expect(status).toBe('settled');
      for (const o of off) expect(o, line).toBeLessThan(0.02);
    }
  });
});
