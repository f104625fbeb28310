import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { checkFile, type Violation } from './layers/rules.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { dependencies: Record<string, string> };
const packages = { runtime: Object.keys(manifest.dependencies) };

const show = (violations: readonly Violation[]): string[] => violations.map(({ file, line, rule, found }) => `${file}:${line}: ${found}: ${rule}`);

/** The rules a planted line breaks, as text. */
const planted = (file: string, code: string): string[] => show(checkFile(file, code, packages));

describe('the layers of src', () => {
  const files = readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
    .map((name) => `src/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .sort();

  it('0 imports and 0 outside names break the rules, over every file of src', () => {
    const broken = files.flatMap((file) => checkFile(file, readFileSync(join(root, file), 'utf8'), packages));
    expect(show(broken)).toEqual([]);
  });

  it('every folder of src is read: at least the 10 that hold records, and src/index.ts', () => {
    const folders = new Set(files.map((file) => file.split('/')[1]));
    for (const name of ['bag', 'mesh', 'material', 'numerics', 'placement', 'solver', 'measures', 'report', 'run', 'index.ts']) expect(folders).toContain(name);
  });
});

describe('the checker catches 1 planted violation of each rule', () => {
  const cases: readonly (readonly [string, string, RegExp])[] = [
    ['src/units/length.ts', "import type { Bag } from '../bag/types.ts';", /units imports nothing but numerics/],
    ['src/bag/parse.ts', "import { draftPanels } from '../panels/draft.ts';", /bag does not import panels/],
    ['src/bag/parse.ts', "import type { Draft } from '../panels/draft.ts';", /except record types from src\/panels\/types.ts/],
    ['src/bag/parse.ts', "import { type BagMesh } from '../mesh/types.ts';", /bag does not import mesh/],
    ['src/mesh/mesh.ts', "import type { Laminate } from '../material/types.ts';", /mesh knows no fabric/],
    ['src/mesh/mesh.ts', "export const d = async () => (await import('../material/layup.ts')).x;", /mesh knows no fabric/],
    ['src/solver/settle.ts', "import type { Bag } from '../bag/types.ts';", /solver knows arrays only/],
    ['src/solver/settle.ts', "let m: import('../mesh/types.ts').BagMesh;", /solver knows arrays only/],
    ['src/solver/settle.ts', "export { deg } from '../units/angle.ts';", /solver knows arrays only/],
    ['src/placement/form.ts', "import type { Laminate } from '../material/types.ts';", /placement knows no fabric/],
    ['src/numerics/random.ts', "import { GRAVITY } from '../units/index.ts';", /numerics imports nothing/],
    ['src/run/scene.ts', "import { assemble } from '../assembly/assemble.ts';", /assembly is entered through its index.ts/],
    ['src/measures/rim.ts', "import { layUp } from '../material/layup.ts';", /measures does not import material/],
    ['src/measures/rim.ts', "export * from '../assembly/assemble.ts';", /measures does not import assembly/],
    ['src/report/judge.ts', "import { settle } from '../solver/settle.ts';", /report does not import solver/],
    ['src/report/judge.ts', "import { preview } from '../index.ts';", /a stage does not know the public API/],
    ['src/report/judge.ts', "import { preview } from '../public/slumpline.ts';", /a stage does not know the public API/],
    ['src/public/bag.ts', "export { parseBag } from '../bag/parse.ts';", /bag is entered through its index.ts/],
    ['src/cli/main.ts', "import { preview } from '../public/slumpline.ts';", /cli reaches the core only through src\/index.ts/],
    ['src/mesh/mesh.ts', "import { show } from '../app/main.ts';", /the core does not know its faces/],
    ['src/index.ts', "import { main } from './cli/main.ts';", /the core does not know its faces/],
    ['src/newstage/x.ts', "import { deg } from '../units/angle.ts';", /unknown stage "newstage"/],
    ['src/mesh/mesh.ts', "import { x } from '../../test/x.ts';", /nothing from outside src/],
    ['src/mesh/mesh.ts', "import * as THREE from 'three';", /no three/],
    ['src/mesh/mesh.ts', "import type { Mesh } from 'three/webgpu';", /no three/],
    ['src/report/html.ts', "import GUI from 'lil-gui';", /no lil-gui/],
    ['src/report/html.ts', "import { readFileSync } from 'node:fs';", /the core knows no node/],
    ['src/report/html.ts', "import { readFileSync } from 'fs';", /only packages under "dependencies"/],
    ['src/solver/settle.ts', "import { Body } from 'cannon-es';", /only src\/solver\/rigid.ts/],
    ['src/mesh/mesh.ts', 'export const load = (name: string) => import(name);', /fixed names only/],
    ['src/report/html.ts', "document.title = 'x';", /no browser/],
    ['src/report/html.ts', 'export const w = (): number => window.innerWidth;', /no browser/],
    ['src/solver/settle.ts', 'export const t = Date.now();', /no clock/],
    ['src/solver/settle.ts', 'export const t = performance.now();', /no clock/],
    ['src/report/html.ts', 'export const t = new Date();', /no clock/],
    ['src/solver/settle.ts', "console.log('x');", /does not print/],
    ['src/mesh/mesh.ts', 'export const r = [1].map(() => Math.random());', /no unseeded chance/],
    ['src/mesh/mesh.ts', "export const r = Math['random']();", /no unseeded chance/],
    ['src/mesh/mesh.ts', 'const { random } = Math; export const r = random();', /no unseeded chance/],
    ['src/solver/settle.ts', 'export const s = (x: number): number => Math.sin(x);', /engines differ in the last bits of this/],
    ['src/numerics/plane.ts', 'export const h = (x: number): number => Math.hypot(x, 1);', /engines differ in the last bits of this/],
    ['src/units/length.ts', 'export const c = (x: number): number => x ** 3;', /engines differ in the last bits of a power/],
    ['src/units/length.ts', 'export const c = (x: number): number => { let y = x; y **= 0.5; return y; };', /engines differ in the last bits of a power/],
    ['src/app/main.ts', "import { meshPanels } from '../mesh/mesh.ts';", /app reaches the core only through src\/index.ts/],
    ['src/app/view/x.ts', "import type { BagMesh } from '../../mesh/types.ts';", /app reaches the core only through src\/index.ts/],
    ['src/app/main.ts', "import { main } from '../cli/main.ts';", /do not know each other/],
    ['src/app/main.ts', "import { serve } from '../workers/serve.ts';", /do not know each other/],
    ['src/cli/main.ts', "import { serve } from '../workers/serve.ts';", /workers are started through/],
    ['src/workers/serve.ts', "import { previewBag } from '../run/preview.ts';", /workers reaches the core only through src\/index.ts/],
    ['src/run/jobs.ts', "import { startWorkers } from '../workers/node.ts';", /the core does not know its faces/],
    ['src/app/main.ts', "import fs from 'node:fs';", /nothing of node/],
    ['src/cli/main.ts', "import { settle } from '../solver/settle.ts';", /cli reaches the core only through src\/index.ts/],
    ['src/cli/main.ts', "export * from '../app/words.ts';", /do not know each other/],
  ];
  it.each(cases)('%s: %s', (file, code, rule) => {
    const found = planted(file, `\n${code}\n`);
    expect(found, `expected exactly one violation matching ${rule}`).toHaveLength(1);
    expect(found[0]).toMatch(rule);
    expect(found[0]).toContain(`${file}:2:`);
  });
});

describe('the checker lets 1 allowed line of each kind pass', () => {
  const cases: readonly (readonly [string, string])[] = [
    ['src/units/constants.ts', "import { GRAVITY } from '../numerics/index.ts';"],
    ['src/panels/draft.ts', "import { type Bag, BagError } from '../bag/types.ts';"],
    ['src/bag/parse.ts', "import type { BagMesh } from '../mesh/types.ts';"],
    ['src/report/judge.ts', "import type { Status } from '../solver/types.ts';"],
    ['src/assembly/assemble.ts', "import { settle } from '../solver/index.ts';"],
    ['src/solver/rest/probe.ts', "import { seeded } from '../../numerics/index.ts';"],
    ['src/solver/settle.ts', "import { factor } from './sparse/factor.ts';"],
    ['src/solver/rigid.ts', "import { Body } from 'cannon-es';"],
    ['src/mesh/mesh.ts', "import Delaunator from 'delaunator';"],
    ['src/index.ts', "export { settle } from './solver/index.ts';"],
    ['src/workers/serve.ts', "import { previewSync } from '../public/slumpline.ts'; previewSync;"],
    ['src/public/worker.ts', "export { startWorkers } from '../workers/node.ts';"],
    ['src/cli/slumpline.ts', "import { startWorkers } from '../workers/node.ts'; startWorkers();"],
    ['src/public/stages.ts', "export { settle } from '../solver/index.ts';"],
    ['src/app/main.ts', "import { preview } from '../index.ts'; import * as THREE from 'three'; console.log(performance.now(), THREE, preview);"],
    ['src/app/main.ts', "import cloth from '../../shaders/cloth.frag.glsl?raw'; export { cloth };"],
    ['src/cli/main.ts', "import { readFileSync } from 'node:fs'; import { preview } from '../index.ts'; export { readFileSync, preview };"],
    ['src/pattern/pdf.ts', 'export function write(document: { title: string }): void { document.title = "x"; }'],
    ['src/pattern/pdf.ts', 'export const f = ({ window }: { window: number }): number => window;'],
    ['src/solver/settle.ts', 'export const wait = (clock: { performance: number }): number => clock.performance; // Date.now() in words'],
    ['src/app/main.ts', 'export const s = (x: number): number => Math.sin(x) ** 2;'],
    ['src/mesh/mesh.ts', 'export const s = (x: number): number => Math.sqrt(Math.abs(x)) * Math.PI;'],
    ['src/mesh/mesh.ts', "export const text = 'console.log(document.title)'; export const o = { window: Math.sqrt(2) };"],
  ];
  it.each(cases)('%s: %s', (file, code) => {
    expect(planted(file, code)).toEqual([]);
  });
});
