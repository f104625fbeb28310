/** Runs of a plan settled for real: coarse meshes of firm leather. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type PlannedRun, previewBag } from '../../../src/index.ts';
import { type Executor, planRuns, runPlan, shardOf } from '../../../src/run/index.ts';

const harbour = readFileSync(new URL('../../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const plan = planRuns(harbour, { vary: 'W=280|320,H=220|2 mm,option=vegetable-tanned leather', edgeLength: 0.08 });

async function told(o: Partial<Parameters<typeof runPlan>[2]> = {}): Promise<PlannedRun[]> {
  const runs: PlannedRun[] = [];
  await runPlan(harbour, plan, { onRun: (r) => void runs.push(r), ...o });
  return runs;
}

describe('runPlan', () => {
  it('settles every run; a bag that cannot be made (2 mm high under a hem of 30) is a run without a word, with its faults', async () => {
    const runs = await told();
    expect(runs.map((r) => [r.run, r.values.W, r.values.H, r.word])).toEqual([
      [0, 280, 220, 'holds'],
      [1, 280, 2, null],
      [2, 320, 220, 'holds'],
      [3, 320, 2, null],
    ]);
    expect(runs[1]!.reason).toContain('expected');
    expect(runs[0]!.heightKept).toBeGreaterThan(0.95);
  });
  it('the same runs from an executor that takes 3 at once and the newest first, and from shards', async () => {
    const one = await told(),
      waiting: (() => void)[] = [];
    const executor: Executor = (job) =>
      new Promise((resolve, reject) => {
        waiting.push(() => {
          try {
            resolve(previewBag(job.bag, job.options));
          } catch (error) {
            reject(error);
          }
        });
        setImmediate(() => waiting.pop()?.());
      });
    const order = (runs: PlannedRun[]) => runs.sort((a, b) => a.run - b.run);
    expect(order(await told({ executor, lanes: 3 }))).toEqual(one);
    const shards = await Promise.all([1, 2].map((i) => told({ only: shardOf(plan, [i, 2]) })));
    expect(order(shards.flat())).toEqual(one);
  });
  it('stops at a signal with its reason, at what onRun throws, and for a plan of another bag', async () => {
    const stop = new AbortController(),
      why = new Error('enough');
    await expect(told({ signal: stop.signal, onRun: () => stop.abort(why) })).rejects.toBe(why);
    await expect(
      told({
        onRun: () => {
          throw why;
        },
      }),
    ).rejects.toBe(why);
    await expect(runPlan(harbour.replaceAll('"W"', '"WW"'), plan, { onRun: () => {} })).rejects.toThrow('this plan was made for another bag');
    await expect(told({ lanes: 0 })).rejects.toThrow('a whole number from 1 to 256');
  });
  it('a fault of the program in one run is told, and the others go on', async () => {
    const failed: number[] = [];
    const executor: Executor = async (job) => {
      if (job.bag.parameters[0]!.value > 0.3) throw new TypeError('no such function');
      return previewBag(job.bag, job.options);
    };
    const runs = await told({ executor, onFailed: (run) => void failed.push(run) });
    expect(failed).toEqual([2]);
    expect(runs.map((r) => r.run)).toEqual([0, 1, 3]);
    await expect(told({ executor })).rejects.toThrow('no such function');
  });
});
