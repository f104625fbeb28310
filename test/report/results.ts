import type { Wanted } from '../../src/bag/types.ts';
import type { Band } from '../../src/material/types.ts';
import { measure } from '../../src/measures/measure.ts';
import type { Measures } from '../../src/measures/types.ts';
import { restCorners } from '../../src/mesh/types.ts';
import { judge } from '../../src/report/judge.ts';
import type { BandRun, Result } from '../../src/report/types.ts';
import { box, moved, type Sewn } from '../measures/shapes.ts';

/** Results made by hand from measured shapes, so that reports are tested without a solver. */
const W = 0.3;
export const H = 0.24;
const D = 0.1;
export const tote: Sewn = box(W, H, D, 12);

/** The tote with its mouth sunk by `sag` (m) in the middle of front and back, and everything brought down to `height` (0..1). */
export function sunk(height: number, sag = 0): Float64Array {
  return moved(tote.drafted, (x, y, z) => {
    const wall = Math.abs(y) > D / 2 - 1e-9 ? 1 : 0;
    return [x, y, height * z - wall * sag * (z / H) * (1 - ((2 * x) / W) ** 2)];
  });
}

export function runOf(band: Band, settled: Float64Array, overhang = 0.3, changes: Partial<BandRun> = {}): BandRun {
  const { measures, panels, hasBase } = measure({
    ...tote,
    settled,
    overhangs: [0, 1, 2, 3, 4].map(() => overhang),
    panelMass: [0.033, 0.033, 0.011, 0.011, 0.014],
    stance: 'standing',
  });
  const triangles = tote.mesh.triVerts.length / 3;
  return {
    band,
    status: 'settled',
    residual: 4.2e-5,
    iterations: 61,
    factorisations: 40,
    seconds: { setup: 0.1, settle: 0.9, nudge: 0.2 },
    stable: true,
    stillFalling: false,
    arcs: true,
    measures,
    panels,
    hasBase,
    nudge: { tested: true, comesBack: true, fraction: 0.03, worstShift: 0.0001 },
    inward: { ran: false, heightKept: null, differs: false, measures: null },
    balance: null,
    strain: null,
    hung: null,
    straps: [],
    contents: [],
    positions: settled,
    cloth: { strain: new Float64Array(3 * triangles), stress: new Float64Array(3 * triangles), felt: 5e-4, touches: [] },
    marks: { 'front rim': [0, -0.05, 0.24] },
    reactions: { table: [0, 0, 1.0003], held: [0, 0, 0] },
    contact: { touching: 42, deepestPenetration: 1e-5, crossings: 0 },
    ...changes,
  };
}

/** A run with some measures replaced, everything else as drafted. */
export function runWith(measures: Partial<Measures>, changes: Partial<BandRun> = {}, overhang = 0.3): BandRun {
  const run = runOf('mid', tote.drafted, overhang, changes);
  return { ...run, measures: { ...run.measures, ...measures } };
}

export function resultOf(runs: readonly BandRun[], wanted: Wanted = 'structured', option = 'canvas and poplin', massKg = 0.102): Result {
  return {
    bag: tote.bag.name,
    option,
    stance: 'standing',
    vertices: tote.mesh.vertexCount,
    settings: { edgeLength: 0.02, seed: 1, kernels: 'plain' },
    massKg,
    evidence: 'estimate',
    stacks: tote.mesh.panelNames.map((panel) => ({
      panel,
      region: null,
      story: 'canvas 10 oz/yd2 + poplin (loose): 459 g/m2, 0.85 mm; estimate (bounds)',
      evidence: 'estimate' as const,
      arealMass: 0.459,
      thickness: 0.00085,
      bending: [8.5e-5, 5e-5, 0, 3e-5],
      inPlane: [2e4, 2e4, 0, 900],
      overhang: 0.3,
    })),
    seams: [{ name: 'A', bulk: 0.0031, layers: 4, length: 0.3 }],
    mesh: tote.mesh,
    triRest: restCorners(tote.mesh),
    drafted: tote.drafted,
    runs,
    verdict: judge(runs, wanted),
  };
}
