import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/index.ts';
import { rimOf } from '../../src/measures/index.ts';
import { countCrossings } from '../../src/mesh/index.ts';
import { prepareScene } from '../../src/run/scene.ts';
import { createSystem, meanHeight, standing, toEnd } from '../../src/solver/index.ts';
import { rest } from '../../src/solver/rest/settle.ts';
import { withoutFinishes } from './without-finishes.ts';

// Its hem of a fixed 30 mm would not grow with the box.
const text = withoutFinishes(JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8')));
/** Width, height and depth of the box, mm; mesh, mm. */
const [W, H, D] = [280, 220, 110];
const EDGE = 28;

/** The box of five panels, 340 g/m2, rigidity in uN*m, C = 20 kN/m, free on a table of friction 0.4; all its lengths x s: rigidity x s^3, in-plane stiffness x s. */
function settled(rigidity: number, hardness: number | null, s = 1) {
  const mm = (v: number): string => `${v * s} mm`,
    uNm = (v: number): string => `${(v * s ** 3).toPrecision(12)} uN.m`,
    kN = (v: number): string => `${v * s} kN/m`;
  const bending = { D11: uNm(rigidity), D22: uNm(rigidity), D12: '0 uN.m', D66: uNm(rigidity / 2) };
  const stack = { mass: '340 g/m2', thickness: mm(0.6), ...bending, C11: kN(20), C22: kN(20), C12: '0 N/m', C66: kN(10) };
  const parameters = { ...text.parameters, W: mm(W), H: mm(H), D: mm(D), SA: '0 mm' };
  const bag = parseBag(JSON.stringify({ ...text, parameters, stacks: { even: stack }, options: { even: { 'every panel': 'even' } } }));
  const scene = prepareScene(bag, { edgeLength: (EDGE * s) / 1000 }),
    sys = createSystem(scene.model, { selfContact: true }),
    rim = rimOf(bag, scene.mesh, scene.drafted)!,
    watch = { verts: rim.verts, height: meanHeight(scene.drafted, rim.verts) };
  const r = hardness === null ? rest(sys, scene.start, { watch }) : toEnd(standing(sys, scene.start, { watch, nudge: false, hardness })).rest;
  let [out, sinking] = [0, 0];
  for (let v = 0; v < scene.mesh.vertexCount; v++) {
    sinking = Math.max(sinking, -r.x[3 * v + 2]!);
    out = Math.max(out, Math.abs(r.x[3 * v + 1]!) - (D * s) / 2000);
  }
  return { r, bulge: (1000 * out) / (W * s), sinking, crossings: countCrossings(r.x, scene.mesh.triVerts) };
}

describe('a box of 280 x 220 x 110 mm on a hard table (bars: ours; a table does not give)', () => {
  it.each([510, 650])('D = %d uN*m: a table ten times harder changes its bulge by less than 2 %% and it sinks by less than 1 um', (rigidity) => {
    const [soft, hard, harder] = [settled(rigidity, null), settled(rigidity, 1), settled(rigidity, 10)];
    console.log(
      `bulge ${[soft, hard, harder].map((b) => `${(100 * b.bulge).toFixed(3)} %`).join(' / ')} on soft, hard, ten times harder supports; sinks by ${[soft, hard, harder].map((b) => (1e6 * b.sinking).toFixed(2)).join(' / ')} um; ${hard.r.iterations} iterations, soft ${soft.r.iterations}`,
    );
    for (const b of [hard, harder]) {
      expect(b.r.status).toBe('settled');
      expect(b.r.stable).toBe(true);
      expect(b.crossings).toBe(0);
      expect(b.sinking).toBeLessThan(1e-6);
    }
    expect(Math.abs(harder.bulge / hard.bulge - 1)).toBeLessThan(0.02);
    // What the test is there for: on soft supports the figure depends on how soft they are.
    expect(Math.abs(soft.bulge / hard.bulge - 1)).toBeGreaterThan(0.05);
  });

  it.each([450, 650])('D = %d uN*m: half and twice its size rest in the same shape within 1e-3 of its height (similarity: D x s^3, C x s)', (rigidity) => {
    const one = settled(rigidity, 1);
    for (const s of [0.5, 2]) {
      const other = settled(rigidity, 1, s);
      let worst = 0;
      for (let i = 0; i < one.r.x.length; i++) worst = Math.max(worst, Math.abs(other.r.x[i]! / s - one.r.x[i]!));
      console.log(
        `s = ${s}: ${((1000 * worst) / H).toExponential(1)} of the height, bulge ${(100 * other.bulge).toFixed(3)} of ${(100 * one.bulge).toFixed(3)} %`,
      );
      expect(other.r.status).toBe('settled');
      expect((1000 * worst) / H).toBeLessThan(1e-3);
    }
  });
});
