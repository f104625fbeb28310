/** Previews in parts: an executor may take them in any order, anywhere; what comes out is the same to the last byte. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  BagError,
  Cancelled,
  type Executor,
  type JobWatch,
  type PreviewJob,
  parseBag,
  preview,
  previewAnchors,
  previewBag,
  previewChanges,
  previewLoads,
  previewSingleChanges,
  previewSync,
  rankChanges,
  resultsJson,
  singleChanges,
  sweepAnchors,
  sweepLoad,
} from '../../src/index.ts';

const demo = (name: string): string => readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const tote = demo('harbour-tote');
const LEATHER = { option: 'vegetable-tanned leather', edgeLength: 0.06, bands: ['low', 'mid', 'high'] } as const;

/** Runs jobs one by one, the last that came first, each as it would be sent elsewhere and back. */
function backwards(seen: PreviewJob[] = []): Executor {
  const waiting: (() => void)[] = [];
  let open = false;
  const work = (): void => {
    waiting.pop()?.();
    // What was done is taken down before the next begins.
    if (waiting.length > 0) setImmediate(work);
    else open = false;
  };
  return (job, { onProgress, signal }) => {
    seen.push(job);
    return new Promise((resolve, reject) => {
      waiting.push(() => {
        if (signal?.aborted) return reject(signal.reason);
        try {
          const sent = structuredClone(job);
          resolve(
            structuredClone(previewBag(sent.bag, { ...sent.options, ...(onProgress ? { onProgress: (at) => void onProgress(structuredClone(at)) } : {}) })),
          );
        } catch (error) {
          reject(error);
        }
      });
      if (!open) setImmediate(work);
      open = true;
    });
  };
}

/** An executor that never ends by itself. */
function patient(heard: string[]): Executor {
  return (job, { signal }: JobWatch) =>
    new Promise((_, reject) => {
      heard.push(job.options.bands!.join());
      signal!.addEventListener!('abort', () => {
        heard.push(`stop ${job.options.bands!.join()}`);
        reject(signal!.reason);
      });
    });
}

describe('preview with an executor', () => {
  it('three ends of a hide are three jobs, the middle first; taken last to first, sent and sent back, they give the same file to the byte', async () => {
    const jobs: PreviewJob[] = [];
    const parts = await preview(tote, { ...LEATHER, executor: backwards(jobs) });
    expect(jobs.map((j) => j.options.bands)).toEqual([['mid'], ['low'], ['high']]);
    expect(resultsJson([parts])).toBe(resultsJson([previewSync(tote, LEATHER)]));
    expect(parts.runs.map((r) => r.band)).toEqual(['low', 'mid', 'high']);
  });

  it('without bands the middle comes first, because an end whose word follows from it is no job', async () => {
    const jobs: PreviewJob[] = [];
    const o = { option: LEATHER.option, edgeLength: LEATHER.edgeLength };
    const whole = await preview(tote, { ...o, executor: backwards(jobs) });
    expect(jobs.map((j) => j.options.bands)).toEqual([['mid'], ['low']]);
    expect(whole.runs.find((r) => r.band === 'mid')!.standsFor).toEqual(['high']);
    expect(resultsJson([whole])).toBe(resultsJson([previewSync(tote, o)]));
    // Beside the middle, the soft end is begun before it is known whether it is needed.
    const ahead: PreviewJob[] = [];
    const sooner = await preview(tote, { ...o, ahead: true, executor: backwards(ahead) });
    expect(ahead.map((j) => j.options.bands)).toEqual([['mid'], ['low']]);
    expect(resultsJson([sooner])).toBe(resultsJson([whole]));
  });

  it('of a middle that slumps the soft end, begun beside it, is given up at its word and the stiff one begun; the same bytes', async () => {
    const heard: string[] = [],
      words: string[] = [];
    const o = { option: 'canvas and poplin', edgeLength: 0.05, skipNudge: true } as const;
    const executor: Executor = (job, { signal, onWord }) =>
      new Promise((resolve, reject) => {
        const band = job.options.bands!.join();
        heard.push(band);
        if (band === 'low')
          signal!.addEventListener!('abort', () => {
            heard.push('low given up');
            reject(signal!.reason);
          });
        else setImmediate(() => resolve(previewBag(job.bag, { ...job.options, ...(onWord ? { onWord } : {}) })));
      });
    const result = await preview(tote, { ...o, ahead: true, executor, onWord: ({ band, word }) => void words.push(`${band} ${word}`) });
    expect(heard).toEqual(['mid', 'low', 'low given up', 'high']);
    expect(words[0]).toBe('mid slumps');
    expect(result.runs.map((r) => r.band)).toEqual(['mid', 'high']);
    expect(resultsJson([result])).toBe(resultsJson([previewSync(tote, o)]));
  });

  it('ends with the same cloth stay one job', async () => {
    const file = JSON.parse(tote);
    file.stacks = {
      board: { mass: '1500 g/m2', thickness: '1.5 mm', D11: '20 mN.m', D22: '20 mN.m', D66: '9 mN.m', C11: '200 kN/m', C22: '200 kN/m', C66: '80 kN/m' },
    };
    file.options = { board: { 'every panel': 'board' } };
    const jobs: PreviewJob[] = [];
    const o = { edgeLength: 0.06, skipNudge: true, bands: ['low', 'mid', 'high'] } as const;
    const parts = await preview(file, { ...o, executor: backwards(jobs) });
    expect(jobs.map((j) => j.options.bands)).toEqual([['low', 'mid', 'high']]);
    expect(resultsJson([parts])).toBe(resultsJson([previewSync(file, o)]));
    // It holds, so that its stiff end would follow: but its figures are there.
    const unnamed = { edgeLength: 0.06 };
    const whole = await preview(file, { ...unnamed, executor: backwards() });
    expect(whole.runs.map((r) => [r.band, r.standsFor])).toEqual([
      ['low', undefined],
      ['mid', undefined],
      ['high', undefined],
    ]);
    expect(resultsJson([whole])).toBe(resultsJson([previewSync(file, unnamed)]));
  });

  it('a middle that is asked what pressed corners make of it brings the answer back', async () => {
    const board = { option: 'canvas, board, poplin', edgeLength: 0.06, bands: ['low', 'mid'] } as const;
    const pressed = await preview(tote, { ...board, executor: backwards() });
    expect(resultsJson([pressed])).toBe(resultsJson([previewSync(tote, board)]));
  });

  it('progress adds up: shares of all ends together only go forward in [0, 1), and are past 2/3 while the last of three is at work', async () => {
    const told: number[] = [];
    await preview(tote, { ...LEATHER, skipNudge: true, executor: backwards(), onProgress: ({ fraction }) => void told.push(fraction) });
    for (const [i, f] of told.entries()) expect(f).toBeGreaterThanOrEqual(i === 0 ? 0 : told[i - 1]!);
    expect(Math.max(...told)).toBeLessThan(1);
    expect(Math.max(...told)).toBeGreaterThanOrEqual(2 / 3 - 1e-12);
  });

  it('an aborted signal reaches every job at once and rejects with its own reason; false from onProgress, or a promise of it, cancels all', async () => {
    const heard: string[] = [];
    const stop = new AbortController();
    const running = preview(tote, { ...LEATHER, signal: stop.signal, executor: patient(heard) });
    await new Promise((then) => setTimeout(then, 1));
    stop.abort(new Error('enough'));
    await expect(running).rejects.toThrow('enough');
    expect(heard).toEqual(['mid', 'low', 'high', 'stop mid', 'stop low', 'stop high']);
    for (const onProgress of [() => false, async () => false])
      await expect(preview(tote, { ...LEATHER, executor: backwards(), onProgress })).rejects.toThrow(Cancelled);
  });

  it('bad input is a BagError before any job is begun; what goes wrong in one job stops the others and is thrown', async () => {
    const never: Executor = () => expect.fail('a job was begun');
    await expect(preview(tote, { option: 'x', seed: 0.5, executor: never })).rejects.toThrow(BagError);
    await expect(preview(tote, { executor: 5 as never })).rejects.toThrow(/executor: got 5; expected a function/);
    const heard: string[] = [];
    const lame: Executor = (job, watch) => (job.options.bands!.includes('low') ? Promise.reject(new Error('out of memory')) : patient(heard)(job, watch));
    await expect(preview(tote, { ...LEATHER, executor: lame })).rejects.toThrow('out of memory');
    expect(heard).toContain('stop mid');
  });
});

describe('series with an executor: the same report, in whatever order the previews come', () => {
  const market = parseBag(demo('market-tote')),
    COARSE = 0.08;
  it('changes', async () => {
    const o = { option: LEATHER.option, edgeLength: 0.08 };
    expect(await previewChanges(tote, { ...o, executor: backwards() })).toEqual(rankChanges(parseBag(tote), o));
  });
  it('anchors, one of them off the panel and one as drawn, and loads', async () => {
    const anchors = { from: 0.005, to: 0.125, steps: 3, edgeLength: COARSE, option: market.options[0]!.name };
    expect(await previewAnchors(market, { ...anchors, executor: backwards() })).toEqual(sweepAnchors(market, anchors));
    const loads = { from: 0, to: 2, steps: 3, edgeLength: COARSE };
    expect(await previewLoads(market, { ...loads, executor: backwards() })).toEqual(sweepLoad(market, loads));
  });
  it('single changes: a chain ends with the first that hangs level, wherever it is run', async () => {
    const o = { edgeLength: COARSE, load: 3 };
    const jobs: PreviewJob[] = [];
    const found = await previewSingleChanges(market, { ...o, executor: backwards(jobs) });
    expect(found).toEqual(singleChanges(market, o));
    expect(jobs.length).toBe(found.length);
  });
  it('is stopped by its signal, and refuses what it does not know', async () => {
    const stop = AbortSignal.abort(new Error('enough'));
    await expect(previewChanges(tote, { edgeLength: 0.05, signal: stop })).rejects.toThrow('enough');
    await expect(previewLoads(market, { to: 2, edgeLength: COARSE, signal: stop, executor: backwards() })).rejects.toThrow('enough');
    await expect(previewChanges(tote, { optionn: 'x' } as object)).rejects.toThrow(/"option"\?/);
  });
});
