// npm run bench:workers [EDGE in mm]: how fast a preview in threads is given up while every thread is at work, and what memory a thread takes; needs dist/lib (npm run build).
import { readFileSync } from 'node:fs';
import { availableParallelism, cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { seeded } from '../../src/numerics/index.ts';

const root = process.cwd();
const entry = (name: string) => import(/* @vite-ignore */ pathToFileURL(join(root, `dist/lib/public/${name}.js`)).href);
const { parseBag, preview } = await entry('slumpline');
const { meshPanels, draftPanels } = await entry('stages');
const { startWorkers } = await entry('worker');

const bag = parseBag(readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8'));
const edgeLength = Number(process.argv[2] ?? 12) / 1000;
const points = meshPanels(bag, draftPanels(bag), { edgeLength }).vertexCount;
const asked = { option: 'canvas and poplin', edgeLength, bands: ['mid'] };
const MB = 1e6,
  CORES = availableParallelism();
const pause = (ms: number) => new Promise((then) => setTimeout(then, ms));
const load = () => loadavg()[0]!.toFixed(1);

/** Resident memory while so many threads settle for a while, MB: the largest of looks ten times a second. */
async function memoryOf(count: number): Promise<number> {
  const workers = startWorkers({ count }),
    stop = new AbortController();
  const jobs = Array.from({ length: count }, () => preview(bag, { ...asked, executor: workers.executor, signal: stop.signal }).catch(() => null));
  let most = 0;
  for (let k = 0; k < 80; k++) {
    most = Math.max(most, process.memoryUsage().rss / MB);
    await pause(100);
  }
  stop.abort();
  await Promise.all(jobs);
  workers.end();
  await pause(500);
  return most;
}

/** At chance moments of settles that keep every thread busy: times from abort to rejection, ms, and CPU ms that are still used from 100 to 300 ms after the last. */
async function cancels(tries: number) {
  const workers = startWorkers({ count: CORES }),
    chance = seeded(31),
    took: number[] = [];
  let after = 0;
  for (let k = 0; k < tries; k++) {
    const stops = Array.from({ length: CORES }, () => new AbortController());
    const ends = stops.map((s) =>
      preview(bag, { ...asked, executor: workers.executor, signal: s.signal }).then(
        () => Number.NaN,
        () => performance.now(),
      ),
    );
    await pause(300 + 3000 * chance());
    // One after another, so that the others are at work while each is given up.
    for (const [i, stop] of stops.entries()) {
      const from = performance.now();
      stop.abort();
      took.push((await ends[i]!) - from);
    }
    await pause(100);
    const cpu = process.cpuUsage();
    await pause(200);
    const { user, system } = process.cpuUsage(cpu);
    after = Math.max(after, (user + system) / 1000);
  }
  workers.end();
  return { took: took.sort((a, b) => a - b), after };
}

console.log(`${points} points at ${edgeLength * 1000} mm, ${CORES} threads; ${cpus()[0]?.model ?? '?'}; load ${load()}`);
const rest = process.memoryUsage().rss / MB;
const one = await memoryOf(1),
  two = await memoryOf(2);
console.log(
  `memory: ${rest.toFixed(0)} MB at rest, ${one.toFixed(0)} with one thread at work, ${two.toFixed(0)} with two: ${(two - one).toFixed(0)} MB a thread`,
);
const { took, after } = await cancels(15);
const at = (q: number) => took[Math.min(took.length - 1, Math.floor(q * took.length))]!.toFixed(1);
console.log(
  `given up ${took.length} times: half within ${at(0.5)} ms, nine of ten within ${at(0.9)}, worst ${at(1)}; bar 100. From 100 to 300 ms after the last of them at most ${after.toFixed(0)} CPU ms are used; load ${load()}`,
);
