// What a bag's figures owe to how hard its table is: npm run bench:contact (about two minutes). Bars: bulge within 2 % between hard supports and ten times harder ones; no more
// than 1.5 times the iterations of soft ones; lengths scaled by a half and by two change the shape by less than 1e-3 of the height; sinking of 1 um at most, 0 crossings.
// Five panels of 340 g/m2, the same in every direction, Poisson 0, C = 20 kN/m, without allowances, free on a table of friction 0.4. Seed 1, as every start.
import { readFileSync } from 'node:fs';
import { parseBag } from '../../src/index.ts';
import { rimOf } from '../../src/measures/index.ts';
import { countCrossings } from '../../src/mesh/index.ts';
import { prepareScene, type Scene } from '../../src/run/scene.ts';
import { createSystem, meanHeight, standing, toEnd } from '../../src/solver/index.ts';
import { rest } from '../../src/solver/rest/settle.ts';

/** Width, height, depth, mm, and D, N*m. */
type Box = readonly [number, number, number, number];
const BOXES: Readonly<Record<string, Box>> = { mono510: [280, 220, 110, 5.1e-4], mono650: [280, 220, 110, 6.5e-4], 'box-mid': [300, 240, 100, 1e-3] };
const text = JSON.parse(readFileSync('demos/harbour-tote.bag.json', 'utf8'));

/** All lengths x s: rigidity x s^3, in-plane stiffness x s, the same areal mass. edge: m at s = 1. */
function sceneOf([W, H, D, rigidity]: Box, s: number, edge: number): Scene {
  const mm = (v: number): string => `${v * s} mm`,
    uNm = (v: number): string => `${(v * 1e6 * s ** 3).toPrecision(12)} uN.m`,
    kN = (v: number): string => `${v * s} kN/m`;
  const bending = { D11: uNm(rigidity), D22: uNm(rigidity), D12: '0 uN.m', D66: uNm(rigidity / 2) };
  const stack = { mass: '340 g/m2', thickness: mm(0.6), ...bending, C11: kN(20), C22: kN(20), C12: '0 N/m', C66: kN(10) };
  const parameters = { ...text.parameters, W: mm(W), H: mm(H), D: mm(D), SA: '0 mm' };
  const bag = parseBag(JSON.stringify({ ...text, parameters, stacks: { even: stack }, options: { even: { 'every panel': 'even' } } }));
  return prepareScene(bag, { edgeLength: edge * s, band: 'mid' });
}

interface Rested {
  readonly scene: Scene;
  readonly x: Float64Array;
  /** Largest distance of front and back outside their drafted planes, over the width. */ readonly bulge: number;
  readonly sinking: number;
  readonly kept: number;
  readonly told: string;
}

/** hardness null: on soft supports. */
function rested(box: Box, hardness: number | null, s = 1, edge = 0.02): Rested {
  const scene = sceneOf(box, s, edge),
    sys = createSystem(scene.model, { selfContact: true }),
    rim = rimOf(scene.bag, scene.mesh, scene.drafted)!,
    watch = { verts: rim.verts, height: meanHeight(scene.drafted, rim.verts) },
    begun = process.cpuUsage();
  const r = hardness === null ? rest(sys, scene.start, { watch }) : toEnd(standing(sys, scene.start, { watch, nudge: false, hardness })).rest;
  const { user, system } = process.cpuUsage(begun);
  let [out, sinking] = [0, 0];
  for (let v = 0; v < scene.mesh.vertexCount; v++) {
    sinking = Math.max(sinking, -r.x[3 * v + 2]!);
    // The front and the back move out along y.
    out = Math.max(out, Math.abs(r.x[3 * v + 1]!) - (box[2] * s) / 2000);
  }
  const crossings = countCrossings(r.x, scene.mesh.triVerts);
  const told = `${r.iterations}/${r.factorisations}/${((user + system) / 1e6).toFixed(1)} ${r.status === 'settled' && r.stable ? '' : `${r.status}! `}x${crossings}`;
  return { scene, x: r.x, bulge: (out * 1000) / (box[0] * s), sinking, kept: meanHeight(r.x, rim.verts) / watch.height, told };
}

const percent = (v: number): string => (100 * v).toFixed(3);
const row = (cells: readonly string[]): void => console.log(`| ${cells.join(' | ')} |`);
const head = (cells: readonly string[]): void => {
  row(cells);
  console.log(`|${cells.map(() => '---|').join('')}`);
};

console.log('Walls out of their plane, % of the width; iterations/factorisations/CPU s xcrossings; largest sinking, um. Mesh 20 mm\n');
head(['supports', ...Object.keys(BOXES)]);
const byHardness = new Map<number | null, Rested[]>();
for (const [name, hardness] of [
  ['soft', null],
  ['hard / 10', 0.1],
  ['hard', 1],
  ['hard x 10', 10],
] as const) {
  const all = Object.values(BOXES).map((box) => rested(box, hardness));
  byHardness.set(hardness, all);
  row([name, ...all.map((r) => `${percent(r.bulge)}; ${r.told}; ${(1e6 * r.sinking).toFixed(2)}`)]);
}
const change = Math.max(...byHardness.get(1)!.map((r, i) => Math.abs(byHardness.get(10)![i]!.bulge / r.bulge - 1)));
console.log(`\nTen times harder supports change the bulge by ${percent(change)} % at most (bar 2 %).`);

console.log('\nLengths x s: height kept; largest difference from s = 1 over the height\n');
head(['D, uN*m (280 x 220 x 110 mm)', 's = 0.5', 's = 1', 's = 2']);
for (const D of [350, 400, 450, 510, 650, 2000]) {
  const box: Box = [280, 220, 110, D * 1e-6],
    one = rested(box, 1),
    away = (s: number): string => {
      const r = rested(box, 1, s);
      let worst = 0;
      for (let i = 0; i < r.x.length; i++) worst = Math.max(worst, Math.abs(r.x[i]! / s - one.x[i]!));
      return `${r.kept.toFixed(5)}; ${(worst / 0.22).toExponential(1)}`;
    };
  row([`${D}`, away(0.5), one.kept.toFixed(5), away(2)]);
}

console.log('\nMeshes: bulge %; sinking um\n');
head(['edge, mm', ...Object.keys(BOXES)]);
for (const edge of [28, 20, 14, 10])
  row([
    `${edge}`,
    ...Object.values(BOXES).map((box) => {
      const r = rested(box, 1, 1, edge / 1000);
      return `${percent(r.bulge)}; ${(1e6 * r.sinking).toFixed(2)}; ${r.told}`;
    }),
  ]);
