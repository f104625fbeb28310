/** The worked examples of demos/programs, run as they stand. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { build } from 'vite';
import { afterAll, expect, it } from 'vitest';
import { newBag, parseBag, previewSync } from '../../src/index.ts';
import type { Ask, Say } from '../../src/workers/protocol.ts';
import { root } from './packed.ts';

const out = mkdtempSync(join(tmpdir(), 'slumpline-programs-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));

const node = (...argv: string[]) => spawnSync(process.execPath, argv, { cwd: root, encoding: 'utf8' });

it('check-folder, a Node script: a line for every demo with its word, exit 1 only where one slumps', () => {
  const done = node('demos/programs/check-folder.mjs', 'demos');
  expect(done.stderr).toBe('');
  const files = readdirSync(join(root, 'demos')).filter((name) => name.endsWith('.bag.json'));
  const lines = done.stdout.trim().split('\n');
  expect(lines.map((line) => line.split(':')[0])).toEqual(files);
  expect(done.status).toBe(done.stdout.includes(': slumps') ? 1 : 0);
});

it('line-up, a worker pool: the words of 2 options in 2 stances are those of previewSync', () => {
  const file = 'demos/commuter-tote.bag.json';
  const done = node('demos/programs/line-up.mjs', file, '80');
  expect(done.stderr).toBe('');
  const bag = parseBag(readFileSync(join(root, file), 'utf8'));
  const expected = bag.options.flatMap((o) =>
    bag.stances.map((s) => `${o.name} | ${s.name} | ${previewSync(bag, { option: o.name, stance: s.name, edgeLength: 0.08 }).verdict.word}`),
  );
  expect(
    done.stdout
      .trim()
      .split('\n')
      .map((line) => line.split(' | ').slice(0, 3).join(' | ')),
  ).toEqual(expected);
});

it('page, a browser bundle: vite finds page and worker, each without an import left open; the worker settles a bag as previewSync does', async () => {
  await build({ root: join(root, 'demos/programs/page'), configFile: false, logLevel: 'error', build: { outDir: out, emptyOutDir: true, target: 'es2022' } });
  const scripts = readdirSync(join(out, 'assets')).filter((name) => name.endsWith('.js'));
  expect(scripts).toHaveLength(2);
  const worker = scripts.find((name) => name.startsWith('browser-thread'))!;
  expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain(scripts.find((name) => name !== worker));
  for (const name of scripts) expect(readFileSync(join(out, 'assets', name), 'utf8').match(/(?:\bfrom|\bimport)\s*["'](?![./])[^"']+["']/)).toBe(null);
  // A web worker's few names over a thread of Node: the file itself is the one that a browser gets.
  const shim = `const { parentPort } = require('node:worker_threads');
    globalThis.self = globalThis;
    globalThis.addEventListener = (_, heard) => parentPort.on('message', (data) => heard({ data }));
    globalThis.postMessage = (message) => parentPort.postMessage(message);
    import(${JSON.stringify(pathToFileURL(join(out, 'assets', worker)).href)});`;
  const thread = new Worker(shim, { eval: true });
  const bag = parseBag(newBag('boxed-tote')),
    options = { edgeLength: 0.06, bands: ['mid'], skipNudge: true } as const;
  const said = await new Promise<Say>((then, failed) => {
    thread.on('message', (say: Say) => say.kind !== 'progress' && then(say));
    thread.on('error', failed);
    thread.postMessage({ id: 1, job: { bag, options } } satisfies Ask);
  });
  await thread.terminate();
  if (said.kind !== 'done') throw new Error(JSON.stringify(said));
  expect(said.result.verdict).toEqual(previewSync(bag, options).verdict);
});
