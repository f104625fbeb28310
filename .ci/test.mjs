// npm test: builds, checks types and style, runs every test, and closes with one line that adds it all up.
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { countVitest, verdictLine } from './count.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const bin = (name) => join(root, 'node_modules', name);

/** What runs now; ended as a whole family, because a test caught in an endless loop outlives the process that started it. */
let running = null;

function endRunning() {
  try {
    if (running !== null) process.kill(process.platform === 'win32' ? running.pid : -running.pid, 'SIGKILL');
  } catch {
    // gone already
  }
}

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    endRunning();
    process.exit(1);
  });
}

/**
 * Exit code of a node script that shares this terminal; null when it was killed. It takes as long as it takes: a busy machine is no fault of the tests, each of which has its
 * own limit of time (vite.config.ts).
 */
function run(script, args, env = {}) {
  return new Promise((resolve) => {
    // Detached makes it the head of a process group, which is what endRunning() ends.
    const detached = process.platform !== 'win32';
    const child = spawn(process.execPath, [script, ...args], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, ...env }, detached });
    running = child;
    const done = (code) => {
      running = null;
      resolve(code);
    };
    child.on('error', (error) => {
      console.error(error.message);
      done(null);
    });
    child.on('exit', done);
  });
}

async function check(name, script, args) {
  const from = performance.now();
  const passed = (await run(script, args)) === 0;
  console.log(`${passed ? 'passed' : 'FAILED'}: ${name}, ${((performance.now() - from) / 1000).toFixed(1)} s`);
  return { passed: passed ? 1 : 0, failed: passed ? 0 : 1 };
}

/** The browser is looked for once, here; the tests are told through the environment (see test/browser/harness.ts). */
async function browserEnv() {
  try {
    const { findBrowser } = await import('./browser.mjs');
    const found = await findBrowser();
    if (found !== null) {
      console.log(`browser: ${found.source}, ${found.path ?? 'downloaded'}`);
      return { SLUMPLINE_BROWSER_FOUND: JSON.stringify(found) };
    }
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
  }
  console.error('browser: none found; the tests of the page will fail. Name one with CHROMIUM_PATH=/path/to/chromium');
  return { SLUMPLINE_BROWSER_FOUND: 'none' };
}

async function vitest(args) {
  const folder = mkdtempSync(join(tmpdir(), 'slumpline-test-'));
  const report = join(folder, 'report.json');
  const env = { ...(await browserEnv()), SLUMPLINE_TEST_REPORT: report };
  const code = await run(bin('vitest/vitest.mjs'), ['run', '--reporter=default', `--reporter=${join(root, '.ci/reporter.mjs')}`, ...args], env);
  let text = null;
  try {
    text = readFileSync(report, 'utf8');
  } catch {
    // it crashed before it could write; countVitest says so
  }
  rmSync(folder, { recursive: true, force: true });
  return countVitest(text, code);
}

// Anything after `npm test --` goes to vitest, and then only its tests are run.
const filters = process.argv.slice(2);
const counts = [];
if (filters.length === 0) {
  counts.push(await check('types', bin('typescript/bin/tsc'), ['--noEmit']));
  counts.push(await check('lint', bin('@biomejs/biome/bin/biome'), ['lint', '--error-on-warnings']));
}
counts.push(await check('build', join(root, '.ci/build.mjs'), ['--strict']));
const tests = await vitest(filters);
for (const remark of tests.remarks) console.log(remark);
counts.push(tests);
const { line, ok } = verdictLine(counts);
console.log(line);
process.exit(ok ? 0 : 1);
