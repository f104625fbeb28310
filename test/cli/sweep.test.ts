/** sweep and merge at a desk: what is kept, gone on with, refused. Runs are answered by hand, so that 60 of them take no time. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Executor } from '../../src/index.ts';
import { resultOf, runOf, sunk, tote } from '../report/results.ts';
import { createDesk, type Desk, run } from './desk.ts';

const harbour = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const file = JSON.parse(harbour);
file.options = { canvas: { 'every panel': 'canvas lined' }, hide: { 'every panel': 'veg leather' } };
const bag = JSON.stringify(file);

const WORDS = { slumps: runOf('mid', sunk(0.4, 0.02)), holds: runOf('mid', tote.drafted) };

/** Threads that answer from the width alone, the newest job first: a wide bag slumps. `slow`: jobs that never end. */
function threads(settled: number[], slow = false): Pick<Desk, 'startWorkers'> {
  const waiting: (() => void)[] = [];
  const executor: Executor = (job, { signal }) =>
    new Promise((resolve, reject) => {
      signal?.addEventListener?.('abort', () => reject(signal.reason));
      if (slow) return;
      waiting.push(() => {
        const w = job.bag.parameters.find((p) => p.name === 'W')!.value;
        settled.push(w);
        resolve({ ...resultOf([w > 0.31 ? WORDS.slumps : WORDS.holds]), option: job.options.option!, stance: job.options.stance! });
      });
      setImmediate(() => waiting.pop()?.());
    });
  return { startWorkers: () => ({ executor, end: () => {} }) };
}

const ASKED = ['sweep', 'a.bag.json', '--vary', 'W=260..340/5,friction=0.2..0.5/3,option=*', '--jobs', '4'];
const deskOf = (settled: number[] = [], files: Record<string, string> = {}): Desk =>
  Object.assign(createDesk({ 'a.bag.json': bag, ...files }), threads(settled));
const tables = (desk: Desk, folder: string) =>
  [...desk.files].filter(([path]) => path.startsWith(`${folder}/`) && !/runs-|manifest/.test(path)).map(([path, text]) => [path.slice(folder.length), text]);

/** The whole in one go. */
async function whole() {
  const settled: number[] = [],
    desk = deskOf(settled);
  const code = await run(desk, [...ASKED, '--out', 'o']);
  return { code, desk, settled };
}

describe('sweep', () => {
  it('30 runs: a line each, then table.csv, table.json and plots for both options; the words tell how many hold', async () => {
    const { code, desk } = await whole();
    expect(code).toBe(0);
    expect(desk.files.get('o/runs-1-of-1.jsonl')!.trim().split('\n')).toHaveLength(30);
    expect(
      tables(desk, 'o')
        .map(([name]) => name)
        .sort(),
    ).toEqual(
      ['canvas', 'hide']
        .flatMap((c) => [`/${c}-along-friction.svg`, `/${c}-along-w.svg`, `/${c}-map-w-friction.svg`])
        .concat('/table.csv', '/table.json')
        .sort(),
    );
    expect(desk.files.get('o/table.csv')!.split('\r\n')).toHaveLength(32);
    expect(desk.out).toContain('canvas, standing: holds in 9 of 15 runs');
    expect(desk.err).toMatch(/30 runs in [\d.]+ s: [\d.]+ a minute, [\d.]+ s of a core each/);
    expect(desk.err).toContain('about');
  });

  it('stopped by Ctrl-C, by a full disk and with its last line cut short, it goes on: the same tables to the byte, no run twice', async () => {
    const { desk: at_once } = await whole();
    const settled: number[] = [],
      desk = deskOf(settled);
    const path = 'o/runs-1-of-1.jsonl';
    desk.interruptAt = path;
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(130);
    expect(desk.err).toMatch(/stopped; (\d+) of 30 runs are kept in o, and the same command goes on/);
    const kept = desk.files.get(path)!.trim().split('\n').length;
    expect(kept).toBeLessThan(8);
    desk.interruptAt = null;
    desk.failing = { path, code: 'ENOSPC' };
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(2);
    expect(desk.err).toContain('the disk is full; what was written before is kept');
    expect(tables(desk, 'o')).toEqual([]);
    desk.failing = null;
    desk.files.set(path, `${desk.files.get(path)!.slice(0, -30)}`);
    settled.length = 0;
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(0);
    expect(settled).toHaveLength(30 - (kept - 1));
    expect(desk.files.get(path)!.trim().split('\n')).toHaveLength(30);
    expect(tables(desk, 'o')).toEqual(tables(at_once, 'o'));
    settled.length = 0;
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(0);
    expect(settled).toEqual([]);
  });

  it('a changed bag, question, mesh, draw or band is refused with what differs, and the folder is left as it was', async () => {
    const { desk } = await whole();
    const before = new Map(desk.files);
    const refused = async (argv: readonly string[], words: RegExp) => {
      desk.err = '';
      expect(await run(desk, argv)).toBe(2);
      expect(desk.err).toMatch(words);
      expect(desk.err).toContain('nothing was run');
    };
    await refused([...ASKED.map((a) => a.replace('340/5', '340/6')), '--out', 'o'], /vary\.W\n +got +260\.\.340\/6 mm\n +expected +260\.\.340\/5 mm/);
    await refused([...ASKED, '--mesh', '50', '--out', 'o'], /mesh\n +got +0\.05/);
    await refused([...ASKED, '--bands', 'low,mid', '--out', 'o'], /bands/);
    await refused([...ASKED, '--samples', '30', '--out', 'o'], /samples/);
    expect(desk.files).toEqual(before);
    desk.files.set('a.bag.json', `${bag} `);
    await refused([...ASKED, '--out', 'o'], /bag file\n +got +SHA-256/);
  });

  it('a folder with runs and no manifest, a line damaged in the midst and a folder that cannot be written are refused with 2', async () => {
    const { desk } = await whole();
    const lines = desk.files.get('o/runs-1-of-1.jsonl')!;
    desk.files.set('o/runs-1-of-1.jsonl', lines.replace('\n', ' x\n'));
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(2);
    expect(desk.err).toContain('o/runs-1-of-1.jsonl, line 1');
    desk.files.set('o/runs-1-of-1.jsonl', lines);
    desk.files.delete('o/manifest.json');
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(2);
    expect(desk.err).toContain('runs and no manifest.json');
    const locked = Object.assign(deskOf(), { locked: 'p' });
    expect(await run(locked, [...ASKED, '--out', 'p'])).toBe(2);
    expect(locked.err).toContain('cannot write to p: permission denied');
  });

  it('over a million runs need --yes, told with their number; --plan counts them, --shard and --bag-of are checked', async () => {
    const vary = 'W=260..340/101,H=200..300/101,D=80..120/101';
    const said = async (...argv: string[]) => {
      const desk = deskOf();
      return { code: await run(desk, ['sweep', 'a.bag.json', '--vary', vary, ...argv]), out: desk.out, err: desk.err };
    };
    expect(await said('--out', 'o')).toMatchObject({ code: 2, err: expect.stringContaining('this is 1030301 runs, over a million: give --yes') });
    expect(await said('--plan')).toMatchObject({ code: 0, out: expect.stringContaining('1030301 runs') });
    expect(await said()).toMatchObject({ code: 2, err: expect.stringContaining('--out <dir> is missing') });
    for (const shard of ['0/3', '4/3', '1', '1/0', 'a/b', '1.5/3'])
      expect(await said('--out', 'o', `--shard=${shard}`)).toMatchObject({ code: 2, err: expect.stringContaining(`invalid --shard "${shard}"`) });
    expect(await said('--bag-of', '1030301')).toMatchObject({ code: 2 });
    const bagOf = await said('--bag-of', '1030300');
    expect(JSON.parse(bagOf.out).parameters).toMatchObject({ W: '340 mm', H: '300 mm', D: '120 mm' });
  });

  it.each([
    ['stands still', () => () => 5],
    [
      'runs backwards',
      () => {
        let at = 0;
        return () => {
          at -= 100;
          return at;
        };
      },
    ],
  ])('a clock that %s: the same tables, and no time left that is none', async (_, clock) => {
    const desk = Object.assign(deskOf(), { clock: clock() });
    expect(await run(desk, [...ASKED, '--out', 'o'])).toBe(0);
    expect(desk.err).not.toMatch(/NaN|Infinity|about|-\d/);
    expect(tables(desk, 'o')).toEqual(tables((await whole()).desk, 'o'));
  });
});

describe('merge', () => {
  /** n shards, each in a folder of its own or all in one. */
  async function sharded(n: number, folder: (i: number) => string) {
    const settled: number[] = [],
      desk = deskOf(settled);
    for (let i = n; i >= 1; i--) expect(await run(desk, [...ASKED, '--out', folder(i), '--shard', `${i}/${n}`, '--quiet'])).toBe(0);
    return { desk, settled };
  }

  it('8 shards in 8 folders, or in one, give the tables of one run to the byte, each run settled once', async () => {
    const one = tables((await whole()).desk, 'o');
    const apart = await sharded(8, (i) => `s${i}`);
    expect(apart.settled).toHaveLength(30);
    expect(await run(apart.desk, ['merge', ...[1, 2, 3, 4, 5, 6, 7, 8].map((i) => `s${i}`), '--out', 'm'])).toBe(0);
    expect(tables(apart.desk, 'm')).toEqual(one);
    const together = await sharded(8, () => 's');
    expect(together.settled).toHaveLength(30);
    expect(await run(together.desk, ['merge', 's'])).toBe(0);
    expect(tables(together.desk, 's')).toEqual(one);
  });

  it('refuses missing runs by their numbers, doubles, a folder twice, a folder of another question, and one that is none; --partial takes what is there', async () => {
    const { desk } = await sharded(3, (i) => `s${i}`);
    const said = async (...argv: string[]) => {
      desk.err = desk.out = '';
      return { code: await run(desk, ['merge', ...argv, '--out', 'm']), err: desk.err };
    };
    expect(await said('s1', 's3')).toMatchObject({ code: 2, err: expect.stringContaining('10 of 30 runs are missing: 1, 4, 7, 10') });
    expect(await said('s1', 's3', '--partial')).toMatchObject({ code: 0 });
    expect(await said('s1', 's1', 's2', 's3')).toMatchObject({ code: 2, err: expect.stringContaining('s1 is given twice') });
    for (const [path, text] of [...desk.files]) if (path.startsWith('s1/')) desk.files.set(path.replace('s1/', 'copy/'), text);
    expect(await said('s1', 'copy', 's2', 's3')).toMatchObject({ code: 2, err: expect.stringContaining('which stands in s1/runs-1-of-3.jsonl as well') });
    expect(await run(desk, [...ASKED.map((a) => a.replace('340/5', '340/3')), '--out', 'other', '--quiet'])).toBe(0);
    expect(await said('s1', 's2', 's3', 'other')).toMatchObject({ code: 2, err: expect.stringContaining('other is of another question than s1: vary.W') });
    expect(await said('s1', 'nowhere')).toMatchObject({ code: 2, err: expect.stringContaining('nowhere: there is no manifest.json') });
    // A shard of another plan copied among these.
    desk.files.set('s2/runs-9-of-9.jsonl', desk.files.get('other/runs-1-of-1.jsonl')!);
    expect(await said('s1', 's2', 's3')).toMatchObject({ code: 2, err: expect.stringMatching(/s2\/runs-9-of-9\.jsonl: got 18 runs of plan/) });
  });
});
