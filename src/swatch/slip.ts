import { libm } from '../numerics/index.ts';
import { createSystem, fallOf, forces, reactions, residualOf } from '../solver/index.ts';
import type { Status, Support } from '../solver/types.ts';
import { finished, type Setup, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { cutStrip, place } from './strip.ts';

const SKIN = 1e-3;
/** Length of strip where none is given, m. */
const LENGTH = 0.1;
/** Speed of the pushed end, m/s, slow enough that inertia is nothing beside friction; time step, s; steps to lie down, to push and to read over. */
const SPEED = 1e-4;
const STEP = 1 / 600;
const [LIE, PUSH, READ] = [30, 200, 40];
/** The residual, over a vertex's weight, below which the sliding strip counts as being in equilibrium. */
const STEADY = 1e-3;

/**
 * Strip lying on a floor and pushed along it by one end at a slow even speed, with its real masses: push over the load on the floor while it slides.
 * Theory: the coefficient of friction itself (Coulomb). `more.stuck`: how far the far end had gone when the push was last under half of that, m;
 * `more.slid`: in the end. Held vertices touch no floor: only what rests on it counts as load. A rest state would not do: many pushes between
 * -mu N and mu N can be in balance, and only the motion before says which. The strip stays flat; a real one may ruck up.
 * Default coefficient 0.4. Source: Coulomb friction.
 */
export function slip(setup: Setup): TestResult {
  const s = cutStrip({ ...setup, length: setup.length ?? LENGTH });
  const friction = setup.friction ?? 0.4;
  const floor: Support = { name: 'floor', sdf: { kind: 'plane', point: [0, 0, -SKIN], normal: [0, 0, 1] }, friction, offset: SKIN };
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [{ verts: s.first, direction: () => [-1, 0, 0] }], [floor]);
  const sys = createSystem(model),
    formulation = setup.formulation ?? 'arc-corrected';
  const fall = fallOf(
    sys,
    place(s, (u, v) => [u, v, 0]),
    { formulation, iterations: 4, drag: 3, enough: 1e-9, cg: 1e-3 },
  );
  const { x } = fall;
  for (let i = 0; i < LIE; i++) fall.step(STEP);
  const far = s.last[0];
  const home = x[3 * far];
  const g = new Float64Array(x.length);
  let [ratio, residual, stuck] = [0, 0, 0];
  for (let i = 1; i <= PUSH; i++) {
    for (const v of s.first) x[3 * v] += SPEED * STEP;
    fall.step(STEP);
    forces(sys, x, g, formulation);
    const { held, supports } = reactions(sys, x, formulation);
    let [along, load] = [0, 0];
    for (let v = 0; v < model.vertexCount; v++) {
      along += held[3 * v];
      load += supports[3 * v + 2];
    }
    if (along / load < friction / 2) stuck = x[3 * far] - home;
    if (i <= PUSH - READ) continue;
    ratio += along / load / READ;
    residual = Math.max(residual, residualOf(sys, g));
  }
  const status: Status = residual < STEADY ? 'settled' : 'notConverged';
  return finished(
    {
      test: 'slip',
      reading: ratio,
      theory: friction,
      unit: '1',
      quantity: 'push along the floor over the load on it, when the strip slides',
      formula: 'F = mu N',
      source: 'Coulomb friction',
      load: (s.w * libm.cube(s.length)) / s.B,
      more: { length: s.length, stuck, slid: x[3 * far] - home },
    },
    model,
    { status, residual, x },
  );
}
