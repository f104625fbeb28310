// Whether every engine settles every demo and template to the same bytes: npm run bench:engines. Settles them on coarse meshes in this node, in the newest node that the npm
// registry brings (package `node`) and in Chromium, and compares the SHA-256 of the positions. `-- NAME` settles what has NAME in its name alone; `-- --here` leaves the newest
// node out, which is downloaded (50 MB). Takes three times what bench:same-bytes does, one engine after another.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { buildRuns, rootFrom, sumsInBrowser, sumsInNode } from '../same-bytes/engines.ts';
import { sumRuns } from '../same-bytes/runs.ts';

// By its address: built into the benchmark it would not find its own folder.
const { findBrowser, launchOptions } = (await import(
  /* @vite-ignore */ pathToFileURL(join(rootFrom(import.meta.url), '.ci/browser.mjs')).href
)) as typeof import('../../.ci/browser.mjs');
const args = process.argv.slice(2);
const part = args.find((a) => !a.startsWith('--')) ?? '';
const names = sumRuns()
  .map((r) => r.name)
  .filter((name) => name.includes(part));
const folder = mkdtempSync(join(tmpdir(), 'slumpline-engines-'));
const engines: { readonly name: string; readonly sums: Readonly<Record<string, string>> }[] = [];

async function ask(name: string, sums: () => Promise<Readonly<Record<string, string>>>): Promise<void> {
  const begun = performance.now();
  engines.push({ name, sums: await sums() });
  console.error(`${name}: ${((performance.now() - begun) / 1000).toFixed(0)} s`);
}

try {
  await buildRuns(rootFrom(import.meta.url), folder);
  await ask(`node ${process.version}`, () => sumsInNode([process.execPath], folder, names));
  if (!args.includes('--here')) {
    const newest = ['npx', '--yes', '--package', 'node@latest', 'node'];
    const version = execFileSync(newest[0]!, [...newest.slice(1), '--version'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
    await ask(`node ${version}`, () => sumsInNode(newest, folder, names));
  }
  const found = await findBrowser();
  if (found === null) console.error('no browser found: name one with CHROMIUM_PATH=/path/to/chromium');
  else {
    const browser = await chromium.launch(launchOptions(found));
    await ask(`Chromium ${browser.version()}`, () => sumsInBrowser(browser, folder, names));
    await browser.close();
  }
} finally {
  rmSync(folder, { recursive: true });
}
let differ = 0;
const [first, ...others] = engines;
for (const [run, sum] of Object.entries(first!.sums)) {
  const unlike = others.filter((e) => e.sums[run] !== sum);
  if (unlike.length > 0) differ++;
  console.log(
    `${unlike.length === 0 ? 'same  ' : 'DIFFER'} ${sum.slice(0, 12)} ${run}${unlike.map((e) => ` | ${e.name}: ${e.sums[run]?.slice(0, 12)}`).join('')}`,
  );
}
console.log(`\n${Object.keys(first!.sums).length} shapes in ${engines.map((e) => e.name).join(', ')}: ${differ} differ`);
if (differ > 0 || others.length === 0) process.exitCode = 1;
