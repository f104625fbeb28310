/** Worker threads as they are shipped: from dist/lib, because a thread of Node 20 reads no TypeScript. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type * as Slumpline from '../../src/public/slumpline.ts';
import type * as WorkerEntry from '../../src/public/worker.ts';

const built = (name: string): string => {
  const url = new URL(`../../dist/lib/public/${name}.js`, import.meta.url);
  if (!existsSync(fileURLToPath(url))) throw new Error(`missing ${url}: run npm run build first (npm test does)`);
  return url.href;
};
const tote = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const LEATHER = { option: 'vegetable-tanned leather', edgeLength: 0.05, bands: ['low', 'mid', 'high'] } as const;
/** A mesh so fine that it would take minutes. */
const LONG = { option: 'canvas and poplin', edgeLength: 0.005, bands: ['low', 'mid', 'high'] } as const;

let lib: typeof Slumpline;
let entry: typeof WorkerEntry;
let workers: WorkerEntry.Workers;
beforeAll(async () => {
  lib = await import(/* @vite-ignore */ built('slumpline'));
  entry = await import(/* @vite-ignore */ built('worker'));
  workers = entry.startWorkers({ count: 2 });
});
afterAll(() => workers?.end());

describe('slumpline/worker in Node', () => {
  it('two threads give the same bytes as this one, tell every end and leave this thread free', async () => {
    const bands = new Set<string>();
    let ticks = 0;
    const timer = setInterval(() => ticks++, 5);
    const result = await workers.preview(tote, { ...LEATHER, onProgress: ({ band, positions }) => void (positions.length > 0 && bands.add(band)) });
    clearInterval(timer);
    const alone = lib.previewSync(tote, LEATHER);
    expect(ticks).toBeGreaterThan(1);
    expect(bands).toEqual(new Set(['low', 'mid', 'high']));
    const bytes = (r: Slumpline.Result) => r.runs.map((run) => Buffer.from(run.positions.buffer).toString('base64'));
    expect(bytes(result)).toEqual(bytes(alone));
    expect(result.verdict).toEqual(alone.verdict);
  });

  it('an aborted preview rejects within 100 ms with its reason, in the middle of a long step as well, and the threads go on with the next', async () => {
    // Three times, and the best counts: what another program takes of the machine meanwhile is none of ours.
    const took: number[] = [];
    for (let k = 0; k < 3; k++) {
      const stop = new AbortController();
      const running = workers.preview(tote, { ...LONG, signal: stop.signal }).catch((why: Error) => [performance.now(), why.message] as const);
      // Long enough that both threads are at work: they mesh or settle.
      await new Promise((then) => setTimeout(then, 1000));
      const from = performance.now();
      stop.abort(new Error('enough'));
      const [at, why] = (await running) as readonly [number, string];
      expect(why).toBe('enough');
      took.push(at - from);
    }
    console.log(`stopped after ${took.map((ms) => ms.toFixed(1)).join(', ')} ms`);
    expect(Math.min(...took)).toBeLessThan(100);
    expect((await workers.preview(tote, { ...LEATHER, bands: ['mid'], skipNudge: true })).verdict.word).toBe('holds');
  });

  it('faults come back as BagError and PatternError with their paths; onProgress that returns false cancels', async () => {
    const file = JSON.parse(tote);
    const [name] = Object.entries(file.seams).find(([, s]) => JSON.stringify(s).includes('front.bottom'))!;
    file.seams[name] = ['front.bottom', 'left.right'];
    const error = await workers.preview(file, { edgeLength: 0.06 }).catch((e) => e);
    expect(error).toBeInstanceOf(lib.PatternError);
    expect(error.faults[0].path).toMatch(/^seams\./);
    expect(error.findings.length).toBeGreaterThan(0);
    await expect(workers.preview(tote, { option: 'cardboard' })).rejects.toBeInstanceOf(lib.BagError);
    await expect(workers.preview(tote, { ...LEATHER, onProgress: () => false })).rejects.toBeInstanceOf(lib.Cancelled);
    expect(() => entry.startWorkers({ threads: 2 } as object)).toThrow(/threads: got an unknown option; expected count/);
    expect(() => entry.startWorkers(4 as unknown as object)).toThrow(/options: got 4; expected an object with count/);
    expect(() => entry.startWorkers({ count: 0 })).toThrow(/count: got 0; expected a whole number from 1 to 256/);
  });

  it('end() rejects what runs and what waits with Cancelled; a later job starts threads anew', async () => {
    const all = [1, 2, 3].map(() => workers.preview(tote, LONG).catch((e) => e));
    await new Promise((then) => setTimeout(then, 50));
    workers.end();
    for (const why of await Promise.all(all)) expect(why).toBeInstanceOf(lib.Cancelled);
    expect((await workers.preview(tote, { ...LEATHER, bands: ['mid'], skipNudge: true })).verdict.word).toBe('holds');
  });
});
