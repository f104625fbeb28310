// npm run bench:order [EDGE in mm]: does the page's order (typical bolts firm first, then the other ends longest first) end a line-up later than longest first throughout?
// Every job is settled here by itself, its CPU seconds are measured, and both orders are laid out on the page's benches by adding up. Needs dist/lib (npm run build).
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = process.cwd();
const entry = (name: string) => import(/* @vite-ignore */ pathToFileURL(join(root, `dist/lib/public/${name}.js`)).href);
const { parseBag, previewSync } = await entry('slumpline');
const { newBag } = await entry('bag');
const edgeLength = Number(process.argv[2] ?? 20) / 1000;

/** One option of a line-up: CPU seconds of its typical bolt and of the ends asked after it, and the steps that the page knows it by. */
interface Column {
  readonly name: string;
  readonly mid: number;
  readonly ends: number;
  readonly steps: number;
}

function timed<T>(work: () => T): readonly [T, number] {
  const from = process.cpuUsage(),
    result = work(),
    { user, system } = process.cpuUsage(from);
  return [result, (user + system) / 1e6];
}

function columnOf(bag: object, option: string): Column {
  const [mid, took] = timed(() => previewSync(bag, { option, edgeLength, bands: ['mid'] }));
  const [whole] = timed(() => previewSync(bag, { option, edgeLength }));
  const asked = whole.runs.map((r: { band: string }) => r.band).filter((b: string) => b !== 'mid');
  const [, ends] = asked.length > 0 ? timed(() => previewSync(bag, { option, edgeLength, bands: asked })) : [null, 0];
  return { name: option, mid: took, ends, steps: mid.runs[0].iterations };
}

/** When the last typical word and the last of all is told, s, with so many hands: typical bolts in this order, then whatever ends are due, the longest first. */
function laidOut(order: readonly Column[], hands: number) {
  const free = new Array<number>(hands).fill(0),
    due: { at: number; took: number; steps: number }[] = [];
  let words = 0,
    sum = 0,
    last = 0;
  const next = () => free.indexOf(Math.min(...free));
  for (const c of order) {
    const hand = next();
    free[hand]! += c.mid;
    words = Math.max(words, free[hand]!);
    sum += free[hand]!;
    due.push({ at: free[hand]!, took: c.ends, steps: c.steps });
  }
  while (due.length > 0) {
    const hand = next(),
      ready = due.filter((d) => d.at <= free[hand]!);
    if (ready.length === 0) {
      free[hand] = Math.min(...due.map((d) => d.at));
      continue;
    }
    const job = ready.reduce((a, b) => (b.steps > a.steps ? b : a));
    due.splice(due.indexOf(job), 1);
    free[hand]! += job.took;
    last = Math.max(last, free[hand]!);
  }
  return { mean: sum / order.length, words, last: Math.max(last, words) };
}

const bags: [string, unknown][] = [['harbour tote', readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8')]];
for (const name of ['boxed-tote', 'bucket', 'satchel', 'envelope-clutch']) bags.push([name, newBag(name)]);
console.log(`at ${edgeLength * 1000} mm, two hands; seconds of a core: mean of the typical words / last typical word / end of the line-up`);
for (const [name, text] of bags) {
  const bag = parseBag(text);
  const columns: Column[] = bag.options.map((o: { name: string }) => columnOf(bag, o.name));
  const firm = laidOut(
      [...columns].sort((a, b) => a.steps - b.steps),
      2,
    ),
    long = laidOut(
      [...columns].sort((a, b) => b.steps - a.steps),
      2,
    );
  const told = ({ mean, words, last }: ReturnType<typeof laidOut>) => `${mean.toFixed(1)} / ${words.toFixed(1)} / ${last.toFixed(1)}`;
  console.log(`${name}: ${columns.map((c) => `${c.steps} steps ${c.mid.toFixed(1)} + ${c.ends.toFixed(1)} s`).join('; ')}`);
  console.log(`  firm first ${told(firm)}; longest first ${told(long)}`);
}
