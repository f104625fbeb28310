// What settling costs, user CPU seconds of a process each and of its parts: npm run bench:settle [-- PART[,PART]]. PART: what is in the rows' names ("soft", "muslin", "templates");
// without it all but "templates" and "leather". Goals are those set on 2026-11-30, not bars that are asserted; "before" is what commit 29cd4cf took then.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { type Bag, draftPanels, meshPanels, parseBag, prepare, previewBag, sew, templates } from '../../src/index.ts';
import { createSystem } from '../../src/solver/index.ts';
import { rest } from '../../src/solver/rest/settle.ts';
import { factorise } from '../../src/solver/sparse/index.ts';
import { evenBox } from './even-box.ts';
import { inMuslin } from './muslin.ts';

interface Row {
  readonly name: string;
  readonly bag: () => Bag;
  /** m, or about so many points. */ readonly mesh: { readonly edge: number } | { readonly points: number } | 'usual';
  readonly before: string;
  readonly goal: string;
  /** What of the run the goal is for. */ readonly goalOf: string;
}

const demo = (): string => readFileSync('demos/harbour-tote.bag.json', 'utf8');
const template = (name: string): string => templates().find((t) => t.name === name)!.text;
const box = (name: string, D: number, mm: number, before: string, goal: string, goalOf = 'whole'): Row => ({
  name: `${name} ${mm}`,
  bag: () => evenBox(D),
  mesh: { edge: mm / 1000 },
  before,
  goal,
  goalOf,
});
const ROWS: readonly Row[] = [
  box('stiff', 1e-2, 10.6, '3.0', '1.5'),
  box('stiff', 1e-2, 7, '5.6', '3'),
  box('stiff', 1e-2, 4.9, '10', '6'),
  box('mid', 1e-3, 10.6, '8.3-9.4', '2.5'),
  box('mid', 1e-3, 7, '23', '7'),
  box('soft', 1e-5, 10.6, '19', '8, word 2', 'whole'),
  box('soft', 1e-5, 7, '109', '25, word 5', 'whole'),
  ...['flat-tote', 'drawstring-pouch'].map((name, i) => ({
    name: `${name} muslin`,
    bag: () => parseBag(inMuslin(template(name))),
    mesh: { points: 2000 },
    before: ['114', '42'][i]!,
    goal: ['40', '25'][i]!,
    goalOf: 'whole',
  })),
  { name: 'changed option', bag: () => parseBag(demo()), mesh: { points: 2000 }, before: '1.2-1.5', goal: '0.8', goalOf: 'second option' },
];
const TEMPLATES: readonly Row[] = templates().map(({ name }) => ({
  name: `templates ${name}`,
  bag: () => parseBag(template(name)),
  mesh: 'usual',
  before: '-',
  goal: '60, word 15',
  goalOf: 'whole',
}));

/** User CPU seconds of this process. */
const seconds = (): number => process.cpuUsage().user / 1e6;
const asked = (process.argv[2] ?? '').split(',').filter((part) => part !== '');
if (asked[0] === '--row') one([...ROWS, ...TEMPLATES].find((r) => r.name === process.argv[3])!);
else if (asked[0] === 'leather') leather();
else table();

function table(): void {
  console.log('| row | points | before | goal | whole s | set-up s | settle s | nudges s | word after s | word | residual | crossings | iterations |');
  console.log(`|${'---|'.repeat(13)}`);
  const chosen = asked.length === 0 ? ROWS : [...ROWS, ...TEMPLATES].filter((r) => asked.some((part) => r.name.includes(part)));
  if (chosen.length === 0) throw new Error(`no row has "${asked.join(',')}" in its name: ${[...ROWS, ...TEMPLATES].map((r) => r.name).join(', ')}`);
  // A process each: what one leaves compiled must not colour the next.
  for (const row of chosen) spawnSync(process.execPath, [process.argv[1]!, '--row', row.name], { stdio: 'inherit' });
}

/** One row in this process. The goal is for the whole process, or for a second option on the same mesh. */
function one(row: Row): void {
  const bag = row.bag(),
    edgeLength = row.mesh === 'usual' ? undefined : 'edge' in row.mesh ? row.mesh.edge : edgeFor(bag, row.mesh.points),
    second = row.goalOf === 'second option';
  const meshed = edgeLength === undefined ? {} : { edgeLength };
  if (second) previewBag(bag, { ...meshed, option: 'vegetable-tanned leather', bands: ['mid'], askAgain: false });
  const begun = second ? seconds() : 0;
  let wordAt: number | null = null;
  const told = (): void => {
    wordAt ??= seconds() - begun;
  };
  const r = previewBag(bag, {
    ...meshed,
    ...(second ? { option: 'canvas, board, poplin' } : {}),
    ...(row.mesh === 'usual' ? {} : { bands: ['mid'] as const }),
    now: () => 1000 * seconds(),
    onWord: told,
    onUnchecked: told,
  });
  const whole = seconds() - begun,
    of = (part: 'setup' | 'settle' | 'nudge') => r.runs.reduce((sum, run) => sum + run.seconds[part], 0).toFixed(2);
  const cells = [
    row.name,
    r.vertices,
    row.before,
    row.goal,
    whole.toFixed(2),
    of('setup'),
    of('settle'),
    of('nudge'),
    (wordAt ?? whole).toFixed(1),
    r.verdict.word,
    Math.max(...r.runs.map((run) => run.residual)).toExponential(1),
    r.runs.reduce((sum, run) => sum + run.contact.crossings, 0),
    r.runs.reduce((sum, run) => sum + run.iterations, 0),
  ];
  console.log(`| ${cells.join(' | ')} |`);
}

/** m. Two steps: seams and corners keep their points, so that a mesh does not have as many more as its triangles are smaller. */
function edgeFor(bag: Bag, points: number): number {
  let edge = 0.02;
  for (let k = 0; k < 2; k++) edge *= Math.sqrt(sew(bag, edge).mesh.vertexCount / points);
  return edge;
}

/** Whole settle of the demo tote in leather, 2k and 5k points, best of three. Bars: 3 s and 10 s of one core, 25 factor times. */
function leather(): void {
  const bag = parseBag(demo());
  console.log('| mesh mm | vertices | mesh ms | set-up ms | settle ms | iterations | factor ms | settle in factor times | status | residual |');
  console.log('|---|---|---|---|---|---|---|---|---|---|');
  for (const [edge, bar] of [
    [11, 3],
    [6.85, 10],
  ] as const) {
    let best: string[] = [],
      least = Number.POSITIVE_INFINITY;
    for (let round = 0; round < 3; round++) {
      const t0 = performance.now();
      meshPanels(bag, draftPanels(bag), { edgeLength: edge / 1000 });
      const t1 = performance.now();
      const scene = prepare(bag, { option: 'vegetable-tanned leather', edgeLength: edge / 1000 });
      const t2 = performance.now();
      const sys = createSystem(scene.model);
      const t3 = performance.now();
      const r = rest(sys, scene.start);
      const t4 = performance.now();
      const times = Array.from({ length: 5 }, () => {
        const t = performance.now();
        sys.preconditioner.factor = factorise(sys.preconditioner.symbolic, sys.matrix, sys.preconditioner.factor);
        return performance.now() - t;
      }).sort((a, b) => a - b);
      if (t4 - t2 >= least) continue;
      least = t4 - t2;
      const row = [
        edge,
        scene.mesh.vertexCount,
        (t1 - t0).toFixed(0),
        (t3 - t2).toFixed(0),
        `${(t4 - t3).toFixed(0)} (bar ${bar * 1000})`,
        r.iterations,
        times[2]!.toFixed(1),
        ((t4 - t2) / times[2]!).toFixed(1),
        r.status,
        r.residual.toExponential(1),
      ];
      best = row.map(String);
    }
    console.log(`| ${best.join(' | ')} |`);
  }
}
