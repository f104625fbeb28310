import { posix } from 'node:path';
import { type GlobalUse, globalsOf, type ImportSite, importsOf, powersOf } from './imports.ts';

/** One broken rule: which, where, and what stands there. */
export interface Violation {
  readonly file: string;
  readonly line: number;
  readonly rule: string;
  readonly found: string;
}

/** Data flows one way: a stage may use values of the stages before it in this list, never of those after it. */
const stages = [
  'numerics',
  'units',
  'bag',
  'panels',
  'mesh',
  'material',
  'shelf',
  'solver',
  'placement',
  'assembly',
  'measures',
  'report',
  'swatch',
  'pattern',
  'run',
];

/** Values these may not take even though the order would let them: [from, to]. */
const apart: readonly (readonly [string, string])[] = [
  ['measures', 'assembly'],
  ['measures', 'material'],
  ['report', 'solver'],
];

/** What is loaded only when it is needed, and so has a door of its own beside its stage's index. */
const lazyDoors: readonly string[] = ['src/solver/rigid.ts', 'src/solver/arcs.ts', 'src/pattern/cutting.ts', 'src/report/shapes.ts'];

/** Packages the core may use at run time: those that a program which installs slumpline gets with it. */
export interface Packages {
  readonly runtime: readonly string[];
}

/** Names that tie code to a browser, to node, to the clock or to chance. A dotted one is that member only. */
const outside: readonly { readonly names: readonly string[]; readonly rule: string }[] = [
  {
    names: [
      'document',
      'window',
      'self',
      'globalThis',
      'navigator',
      'location',
      'localStorage',
      'fetch',
      'Worker',
      'requestAnimationFrame',
      'HTMLElement',
      'Document',
    ],
    rule: 'the core knows no browser',
  },
  { names: ['process', 'Buffer', 'require', '__dirname', '__filename'], rule: 'the core knows no node' },
  { names: ['Date', 'performance', 'setTimeout', 'setInterval'], rule: 'the core reads no clock: it is given a function `now`' },
  { names: ['console', 'alert'], rule: 'the core does not print: it returns' },
  {
    names: [
      ...['sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'atan2', 'sinh', 'cosh', 'tanh', 'asinh', 'acosh', 'atanh'],
      ...['exp', 'expm1', 'log', 'log1p', 'log2', 'log10', 'pow', 'hypot', 'cbrt'],
    ].map((name) => `Math.${name}`),
    rule: 'engines differ in the last bits of this: the core takes libm of numerics, where it is the same everywhere',
  },
  { names: ['Math.random', 'crypto'], rule: 'the core has no unseeded chance: same input, same bytes' },
];

const packageName = (from: string): string => from.split('/', from.startsWith('@') ? 2 : 1).join('/');

/** src/mesh/grid.ts -> mesh; src/index.ts -> index (any file directly in src); everything else null. */
function layerOf(file: string): string | null {
  const [top, second, ...rest] = file.split('/');
  if (top !== 'src' || second === undefined) return null;
  return rest.length === 0 ? 'index' : second;
}

/** All broken rules of one source file. `file` is its path from the repository's root, with forward slashes. */
export function checkFile(file: string, code: string, packages: Packages): Violation[] {
  const layer = layerOf(file);
  if (layer === null) return [];
  const found: Violation[] = [];
  const face = layer === 'app' || layer === 'cli' || layer === 'workers';
  for (const site of importsOf(file, code)) {
    for (const rule of face ? faceRules(layer, file, site) : coreRules(layer, file, site, packages)) {
      found.push({ file, line: site.line, rule, found: `${site.typeOnly ? 'type ' : ''}import of '${site.from}'` });
    }
  }
  if (!face) {
    for (const use of globalsOf(file, code)) {
      const rule = outsideRule(use);
      if (rule !== null) found.push({ file, line: use.line, rule, found: use.text });
    }
    for (const line of powersOf(file, code))
      found.push({ file, line, rule: 'engines differ in the last bits of a power: the core takes square, cube or pow of libm', found: '**' });
  }
  return found;
}

function outsideRule({ name, text }: GlobalUse): string | null {
  if (text === 'Math') return 'the core has no unseeded chance: Math only with a fixed member name, so that this test can read it';
  return outside.find(({ names }) => names.includes(name) || names.includes(text))?.rule ?? null;
}

/** What of the workers others may start; the rest is between them and their threads. */
const workerDoors: readonly string[] = ['src/workers/node.ts', 'src/workers/browser.ts', 'src/workers/pool.ts'];

/** app, cli and workers: their own folder, the core's one door, and things that are not source; cli starts workers as well. */
function faceRules(layer: string, file: string, { from }: ImportSite): string[] {
  if (!from.startsWith('.')) {
    if (from === '(computed)') return [`${layer} imports by fixed names only, so that this test can read them`];
    if (from.startsWith('node:') && layer === 'app') return ['app runs in a browser: nothing of node'];
    if (from === 'slumpline') return [`${layer} reaches the core through src/index.ts`];
    return [];
  }
  const to = posix.join(posix.dirname(file), from.replace(/\?.*$/, ''));
  const target = layerOf(to);
  if (target === null || target === layer || to === 'src/index.ts') return [];
  if (layer === 'workers' && target === 'public') return [];
  if (layer === 'cli' && target === 'workers') return workerDoors.includes(to) ? [] : ['workers are started through node.ts, browser.ts or pool.ts'];
  if (target === 'app' || target === 'cli' || target === 'workers') return ['app, cli and workers do not know each other'];
  return [`${layer} reaches the core only through src/index.ts`];
}

function coreRules(layer: string, file: string, { from, typeOnly }: ImportSite, packages: Packages): string[] {
  if (from === '(computed)') return ['the core imports by fixed names only, so that this test can read them'];
  if (!from.startsWith('.')) return packageRules(file, from, packages);
  const to = posix.join(posix.dirname(file), from.replace(/\?.*$/, ''));
  const target = layerOf(to);
  if (target === null) return ['the core imports nothing from outside src'];
  if (target === layer) return [];
  if (layer === 'public' && workerDoors.includes(to)) return [];
  if (target === 'app' || target === 'cli' || target === 'workers') return ['the core does not know its faces'];
  if (target === 'index' || target === 'public') return ['a stage does not know the public API that is made of it'];
  const door = [`src/${target}/index.ts`, `src/${target}/types.ts`, ...lazyDoors].includes(to) ? [] : [`${target} is entered through its index.ts or types.ts`];
  if (layer === 'index' || layer === 'public')
    return stages.includes(target) ? door : [`unknown stage "${target}": add it to the order in test/layers/rules.ts`];
  const broken = stageRules(layer, target, to, typeOnly);
  return broken.length > 0 ? broken : door;
}

function stageRules(layer: string, target: string, to: string, typeOnly: boolean): string[] {
  // Three that hold for types as well: what these know is part of what they promise.
  if (layer === 'numerics') return ['numerics imports nothing'];
  if (target === 'numerics') return [];
  if (layer === 'units') return ['units imports nothing but numerics'];
  if (layer === 'solver') return ['solver knows arrays only: it imports no other stage but numerics, types included'];
  if (layer === 'placement' && target === 'material') return ['placement knows no fabric: it does not import material, types included'];
  if (layer === 'mesh' && target === 'material') return ['mesh knows no fabric: it does not import material, types included'];
  if (!stages.includes(layer) || !stages.includes(target))
    return [`unknown stage "${stages.includes(layer) ? target : layer}": add it to the order in test/layers/rules.ts`];
  // The records that pass between stages may be named by anyone.
  if (typeOnly && to === `src/${target}/types.ts`) return [];
  const forward = stages.indexOf(target) > stages.indexOf(layer);
  if (!forward && !apart.some(([a, b]) => a === layer && b === target)) return [];
  return [`${layer} does not import ${target}${typeOnly ? ` except record types from src/${target}/types.ts` : ''}`];
}

function packageRules(file: string, from: string, { runtime }: Packages): string[] {
  const name = packageName(from);
  if (from.startsWith('node:')) return ['the core knows no node'];
  if (name === 'cannon-es' && file !== 'src/solver/rigid.ts') return ['only src/solver/rigid.ts imports cannon-es'];
  if (name === 'three' || name === 'lil-gui') return ['the core draws nothing: no three, no lil-gui'];
  if (name === 'commander') return ['the core parses no arguments: no commander'];
  // Also catches node's modules written without their prefix, which no package.json lists.
  return runtime.includes(name) ? [] : [`the core uses only packages under "dependencies" of package.json, not ${name}`];
}
