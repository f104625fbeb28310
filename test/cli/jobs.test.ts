/** Several runs at once, several bags at once, and the word that fails a check. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { type Executor, type PreviewOptions, previewBag, type Result, readBatch } from '../../src/index.ts';
import { resultOf, runOf, sunk, tote } from '../report/results.ts';
import { createDesk, ran, run } from './desk.ts';

const demo = (name: string): string => readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const harbour = demo('harbour-tote');

/** Threads of a kind: each job waits its turn, the newest first, and is run as it would be elsewhere. */
function fakeThreads(hired: number[]): { readonly startWorkers: NonNullable<Io['startWorkers']>; readonly ended: () => number } {
  let ended = 0;
  const waiting: (() => void)[] = [];
  const executor: Executor = (job, { onProgress }) =>
    new Promise((resolve, reject) => {
      waiting.push(() => {
        try {
          resolve(structuredClone(previewBag(job.bag, { ...job.options, ...(onProgress ? { onProgress: (at) => void onProgress(at) } : {}) })));
        } catch (error) {
          reject(error);
        }
      });
      setImmediate(() => waiting.pop()?.());
    });
  return {
    startWorkers: (count) => {
      hired.push(count);
      return { executor, end: () => void ended++ };
    },
    ended: () => ended,
  };
}

/** The demo with its two firm options alone, and a second stance: coarse meshes of firm cloth settle in tenths of a second. */
const firm = (() => {
  const file = JSON.parse(harbour);
  file.options = Object.fromEntries(['vegetable-tanned leather', 'canvas, board, poplin'].map((name) => [name, file.options[name]]));
  file.stances = { standing: { kind: 'standing' }, 'with 1 kg': { kind: 'standing', load: '1 kg' } };
  return JSON.stringify(file);
})();

/** What a call leaves: everything said on stdout, every file. */
async function leaves(argv: readonly string[], threads?: ReturnType<typeof fakeThreads>) {
  const desk = Object.assign(
    createDesk({ 'a.bag.json': firm, 'b.bag.json': firm.replace('"Harbour tote"', '"Other tote"'), 'm.bag.json': demo('market-tote') }),
    threads ? { startWorkers: threads.startWorkers } : {},
  );
  const code = await run(desk, argv);
  return { code, out: desk.out, err: desk.err, files: Object.fromEntries(desk.files) };
}

describe('--jobs', () => {
  const calls = [
    ['settle', ['settle', 'a.bag.json', '--option', 'all', '--mesh', '60', '--bands', 'mid,high', '--out', 'o', '--json'], 8],
    // One bag: this thread is one of the five.
    ['settle of one option', ['settle', 'a.bag.json', '--mesh', '60', '--out', 'o'], 4],
    [
      'settle of two bags in every option and stance',
      ['settle', 'a.bag.json', 'b.bag.json', '--option', 'all', '--stance', 'all', '--mesh', '80', '--bands', 'mid', '--out', 'o'],
      24,
    ],
    ['change', ['change', 'a.bag.json', '--mesh', '80', '--out', 'o'], 256],
    ['need', ['need', 'a.bag.json', '--mesh', '80', '--option', 'vegetable-tanned leather', '--json'], 3],
    ['hang', ['hang', 'm.bag.json', '--mesh', '80', '--anchors', '90 mm', '--out', 'o'], 256],
  ] as const;
  it.each(calls)(
    '%s: the same words and files with 256 as with 1, no more threads than parts, ended afterwards, shares that only grow',
    async (_, argv, parts) => {
      const hired: number[] = [],
        threads = fakeThreads(hired);
      const [one, many] = [await leaves([...argv, '--jobs', '1'], threads), await leaves([...argv, '--jobs', '256'], threads)];
      expect(hired).toEqual([parts]);
      expect(threads.ended()).toBe(1);
      expect([many.code, many.out]).toEqual([one.code, one.out]);
      expect(many.files).toEqual(one.files);
      if ((argv as readonly string[]).includes('--out')) expect(Object.keys(many.files).length).toBeGreaterThan(3);
      const shares = [...many.err.matchAll(/^ *(\d+) %/gm)].map((m) => Number(m[1]));
      for (const [i, share] of shares.entries()) expect(share).toBeGreaterThanOrEqual(shares[i - 1] ?? 0);
      expect(new Set(many.err.split('\n')).size, 'no line of progress twice but with another share').toBe(many.err.split('\n').length);
    },
  );

  it('is refused with exit 2 where it is no whole number from 1 to 256', async () => {
    for (const jobs of ['0', '1.5', 'all', '257', '-1', ''])
      for (const command of ['settle', 'change', 'hang']) {
        const r = await leaves([command, command === 'hang' ? 'm.bag.json' : 'a.bag.json', `--jobs=${jobs}`]);
        expect(r).toMatchObject({ code: 2, out: '' });
        expect(r.err).toBe(`invalid --jobs "${jobs}": expected a whole number from 1 to 256\n`);
      }
  });
});

describe('a folder of bags', () => {
  const preview = async (bag: { readonly name: string }, o: PreviewOptions = {}): Promise<Result> => ({
    ...resultOf([runOf('mid', bag.name === 'Harbour tote' ? sunk(0.7, 0.02) : tote.drafted, 0.143)]),
    bag: bag.name,
    option: o.option ?? '?',
  });
  const files = { 'a.bag.json': harbour, '=b, c.bag.json': harbour.replace('"Harbour tote"', '"Other tote"') };
  const settled = (...flags: string[]) => ran(['settle', ...Object.keys(files), '--quiet', ...flags], files, null, { preview: preview as never });

  it('one table over all, a line each, after the reports; table.csv and batch.json beside the folders, the latter as readBatch reads it', async () => {
    const r = await settled('--out', 'o');
    expect(r.code).toBe(0);
    const table = r.out.slice(r.out.lastIndexOf('\nfile ')).trim().split('\n');
    expect(table).toHaveLength(3);
    expect(table[0]).toMatch(/^file +option +stance +verdict +soft +typical +stiff +height kept +margin +wanted +mass$/);
    expect(table[1]).toMatch(/^a\.bag\.json +canvas and poplin .* slumps /);
    expect(table[2]).toMatch(/^=b, c\.bag\.json .* holds /);
    expect(r.files['o/table.csv']!.split('\r\n')[2]).toMatch(/^"'=b, c\.bag\.json",canvas and poplin,/);
    expect(readBatch(r.files['o/batch.json']!).files.map((f) => [f.file, f.results[0]!.verdict.word])).toEqual([
      ['a.bag.json', 'slumps'],
      ['=b, c.bag.json', 'holds'],
    ]);
    expect(Object.keys(r.files)).toEqual(expect.arrayContaining(['o/a/result.json', 'o/b-c/result.json']));
  });

  it('--fail-on: exit 4 where any verdict is the word or worse, 0 where none is; an unknown word is refused with the list', async () => {
    expect((await settled('--fail-on', 'slumps')).code).toBe(4);
    expect((await settled('--fail-on', 'Softens')).code).toBe(4);
    expect((await settled('--fail-on', 'lies flat')).code).toBe(0);
    const wrong = await settled('--fail-on', 'slump');
    expect(wrong).toMatchObject({ code: 2, out: '' });
    expect(wrong.err).toContain('did you mean "slumps"?');
    expect(wrong.err).toContain('holds, hangs true, softens');
  });
});
