/** The runs of runs.ts in other engines: built once as one plain module, then loaded by any node and by a page. */
import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { build } from 'vite';
import { serveFolder } from '../browser/serve.ts';

type Sums = Readonly<Record<string, string>>;
type Runs = typeof import('./runs.ts');

/** Writes runs.js, all packages in it, and a page that holds it into the folder. */
export async function buildRuns(root: string, folder: string): Promise<void> {
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    resolve: { alias: { '/shaders': join(root, 'shaders') } },
    build: {
      outDir: folder,
      emptyOutDir: false,
      minify: false,
      target: 'es2022',
      lib: { entry: join(root, 'test/same-bytes/runs.ts'), formats: ['es'], fileName: () => 'runs.js' },
      rollupOptions: { output: { codeSplitting: false } },
    },
  });
  writeFileSync(
    join(folder, 'index.html'),
    `<!doctype html><title>runs</title><script type="module">import * as runs from './runs.js'; window.runs = runs;</script>`,
  );
}

/** Asks a node for the sums of the runs named. command: `node`, or what starts another one. */
export function sumsInNode(command: readonly string[], folder: string, names: readonly string[]): Promise<Sums> {
  const code = `import(process.argv[1]).then((m) => m.sumsNamed(process.argv.slice(2))).then((s) => console.log(JSON.stringify(s)))`;
  const [program, ...first] = command;
  return new Promise((resolve, reject) => {
    const args = [...first, '--input-type=module', '-e', code, '--', pathToFileURL(join(folder, 'runs.js')).href, ...names];
    execFile(program!, args, { maxBuffer: 1e8 }, (error, out) => (error === null ? resolve(JSON.parse(out) as Sums) : reject(error)));
  });
}

/** Asks a page for the sums of the runs named. */
export async function sumsInBrowser(browser: Browser, folder: string, names: readonly string[]): Promise<Sums> {
  const served = await serveFolder(folder);
  const page = await browser.newPage();
  try {
    await page.goto(served.url);
    await page.waitForFunction(() => 'runs' in window);
    return await page.evaluate((wanted) => (window as unknown as { runs: Runs }).runs.sumsNamed(wanted), names);
  } finally {
    await page.close();
    await served.close();
  }
}

/** The repository's root, from here or from where the benchmarks are built. */
export const rootFrom = (url: string): string => fileURLToPath(new URL('../..', url));
