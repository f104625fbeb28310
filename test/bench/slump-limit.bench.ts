// npm run bench:slump-limit [BAG ...] (ten minutes of a core): how far a margin moves with mesh and start near the limit at which a bag slumps. Bags of one even sheet of 450 g/m2 whose rigidity
// goes down by ratios until it slumps; what on the first mesh lies within 2 of that limit is settled on three meshes from two seeds. It asserts nothing.
import { readFileSync } from 'node:fs';
import { type Bag, newBag, parseBag, previewBag, sew } from '../../src/index.ts';
import { GONE, gateMargins, THRESHOLDS } from '../../src/report/thresholds.ts';
import { statedStack } from '../bag/stated-stack.ts';

const POINTS = [400, 560, 780];
const SEEDS = [1, 2];
const RATIO = 1.1;
/** uN.m */
const STIFFEST = 3000;
/** On the first mesh a figure must lie so near the limit, in margins; by the mean of all runs, as the table of spreads near "holds" asks, within 1. */
const LOOK = 2;
const NEAR = 1;
const DECIDES: ReadonlySet<string> = new Set(THRESHOLDS.filter((t) => t.decides).map((t) => t.gate));

const asked = process.argv.slice(2);
const texts = (asked.length > 0 ? asked : ['harbour-tote', 'boxed-tote', 'bucket', 'drawstring-pouch']).map((name) =>
  name === 'harbour-tote' ? readFileSync('demos/harbour-tote.bag.json', 'utf8') : newBag(name),
);

function even(text: string, D: number): Bag {
  const file = JSON.parse(text);
  // Hems, pockets and straps keep the stacks that the file gives them.
  const sheet = statedStack(450, D, { thickness: '1.5 mm', D66: `${0.45 * D} uN.m`, C66: '8 kN/m' });
  return parseBag({ ...file, stacks: { ...file.stacks, sheet }, options: { sheet: { 'every panel': 'sheet' } } });
}

function edgeOf(bag: Bag, points: number): number {
  let edge = 0.02;
  for (let k = 0; k < 2; k++) edge *= Math.sqrt(sew(bag, edge).mesh.vertexCount / points);
  return edge;
}

/** Margins of the figures that can make a bag slump; null where it came to no rest. */
function marginsOf(bag: Bag, points: number, seed: number): ReadonlyMap<string, number> | null {
  const o = { bands: ['mid'], edgeLength: edgeOf(bag, points), seed, askAgain: false, corners: false, skipNudge: true } as const,
    run = previewBag(bag, o).runs[0]!;
  if (run.status !== 'settled') return null;
  return new Map(gateMargins(run.measures).flatMap(({ gate, margin }) => (DECIDES.has(gate) ? [[gate, margin]] : [])));
}
const worst = (m: ReadonlyMap<string, number>): number => Math.min(...m.values());

const pooled = new Map<string, { squares: number; free: number; groups: number; most: number }>();
function pool(gate: string, margins: readonly number[]): void {
  const mean = margins.reduce((a, b) => a + b, 0) / margins.length;
  if (margins.length < 2 || Math.abs(mean - GONE) > NEAR) return;
  const p = pooled.get(gate) ?? { squares: 0, free: 0, groups: 0, most: 0 };
  pooled.set(gate, {
    squares: p.squares + margins.reduce((a, m) => a + (m - mean) ** 2, 0),
    free: p.free + margins.length - 1,
    groups: p.groups + 1,
    most: Math.max(p.most, Math.max(...margins) - Math.min(...margins)),
  });
}

console.log('| bag | D, uN.m | least deciding margin by mesh and seed |\n|---|---|---|');
for (const text of texts)
  for (let D = STIFFEST, first = 1; D > 10 && first > GONE - LOOK; D /= RATIO) {
    const bag = even(text, D),
      begun = marginsOf(bag, POINTS[0]!, SEEDS[0]!);
    if (begun === null) break;
    first = worst(begun);
    if (Math.abs(first - GONE) > LOOK) continue;
    const runs = [
      begun,
      ...POINTS.flatMap((points, m) => SEEDS.flatMap((seed) => (m === 0 && seed === SEEDS[0] ? [] : [marginsOf(bag, points, seed)]))),
    ].filter((r) => r !== null);
    for (const gate of DECIDES)
      pool(
        gate,
        runs.flatMap((r) => r.get(gate) ?? []),
      );
    pool('least of them', runs.map(worst));
    console.log(`| ${bag.name} | ${D.toFixed(0)} | ${runs.map((r) => worst(r).toFixed(2)).join(' ')} |`);
  }
console.log('\n| figure | standard deviation of its margin, pooled | groups | runs less groups | largest range |\n|---|---|---|---|---|');
for (const [gate, p] of pooled) console.log(`| ${gate} | ${Math.sqrt(p.squares / p.free).toFixed(3)} | ${p.groups} | ${p.free} | ${p.most.toFixed(2)} |`);
