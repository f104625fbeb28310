import { existsSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { findBrowser, launchOptions } from '../../.ci/browser.mjs';
import { type Served, serveFolder } from './serve.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const pageFolder = join(root, 'dist/page');
const artifacts = join(root, 'artifacts');

/** A browser as .ci/browser.mjs describes it. */
interface Found {
  readonly source: string;
  readonly path?: string;
  readonly args: readonly string[];
  readonly env: Readonly<Record<string, string>>;
}

export interface PageOptions {
  /** Path and query after the page's address; default '' (the page itself). */
  readonly path?: string;
  /** CSS pixels; default 1440 x 900. */
  readonly width?: number;
  readonly height?: number;
  /** Default true: nothing but physics may move, and pictures must not depend on when they were taken. */
  readonly reducedMotion?: boolean;
  /** The quick mesh, for tests that look at the page and not at the shapes. Default false: what a first visit gets. */
  readonly quick?: boolean;
  /** Units that the reader has chosen; 'none': nothing chosen yet. Default both, so that either can be looked for. */
  readonly units?: 'metric' | 'inch' | 'both' | 'none';
  /** The reader's language. Default en-GB. */
  readonly locale?: string;
  /** With the worker that keeps the page for use without a network; without it requests can be answered by a test. Default false. */
  readonly serviceWorker?: boolean;
  /** Console errors that a test brings about on purpose. */
  readonly expectedErrors?: RegExp;
}

export interface OpenPage {
  readonly page: Page;
  readonly url: string;
  /** Console errors, uncaught exceptions, failed requests and requests to other hosts, as they come. Must be empty in the end. */
  readonly errors: readonly string[];
  /** Saves artifacts/NAME.png and returns its path. */
  readonly shot: (name: string) => Promise<string>;
  readonly close: () => Promise<void>;
}

let shared: { browser: Browser; served: Served } | null = null;

/** How to launch the browser of the tests: the runner has looked for it already; a test started by itself, from an editor for one, looks now. */
export async function browserFound(): Promise<ReturnType<typeof launchOptions>> {
  const told = process.env.SLUMPLINE_BROWSER_FOUND;
  const found = told === 'none' ? null : told === undefined ? await findBrowser() : (JSON.parse(told) as Found);
  if (found === null) throw new Error('no browser found: name one with CHROMIUM_PATH=/path/to/chromium');
  return launchOptions(found);
}

/** One browser and one server per test file: starting them costs more than any test does. */
async function start(): Promise<{ browser: Browser; served: Served }> {
  if (shared !== null) return shared;
  if (!existsSync(join(pageFolder, 'index.html'))) throw new Error('missing dist/page/index.html: run npm run build first (npm test does)');
  const options = await browserFound();
  const served = await serveFolder(pageFolder);
  try {
    shared = { browser: await chromium.launch(options), served };
  } catch (error) {
    await served.close();
    throw error;
  }
  return shared;
}

/** Opens the built page in a window of its own (own storage, nothing left over from other tests). Call stopBrowser() in afterAll. */
export async function openPage(options: PageOptions = {}): Promise<OpenPage> {
  const { browser, served } = await start();
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1440, height: options.height ?? 900 },
    reducedMotion: (options.reducedMotion ?? true) ? 'reduce' : 'no-preference',
    locale: options.locale ?? 'en-GB',
    timezoneId: 'UTC',
    serviceWorkers: options.serviceWorker ? 'allow' : 'block',
  });
  const units = options.units ?? 'both';
  const chosen = { ...(options.quick ? { fineness: 'quick' } : {}), ...(units === 'none' ? {} : { units }) };
  if (Object.keys(chosen).length > 0) {
    await context.addInitScript((kept) => {
      if (localStorage.getItem('slumpline.preferences') === null) localStorage.setItem('slumpline.preferences', kept);
    }, JSON.stringify(chosen));
  }
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  const errors: string[] = [];
  const note = (line: string): void => {
    if (!options.expectedErrors?.test(line)) errors.push(line);
  };
  page.on('console', (message) => {
    if (message.type() === 'error') note(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => note(`uncaught: ${error.stack ?? error.message}`));
  // A worker the page ends while its script still loads aborts that request: the page's own doing, and no fault. A request refused or unanswered is one.
  page.on('requestfailed', (request) => {
    const why = request.failure()?.errorText ?? '';
    if (why !== 'net::ERR_ABORTED') note(`request failed: ${request.url()} ${why}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 400) note(`status ${response.status()}: ${response.url()}`);
  });
  page.on('crash', () => note('the page crashed'));
  // The page must work without a network: anything asked of another host is a fault.
  await context.route(
    (url) => (url.protocol === 'http:' || url.protocol === 'https:') && url.origin !== new URL(served.url).origin,
    (route) => {
      note(`outside request: ${route.request().url()}`);
      return route.abort();
    },
  );
  const url = served.url + (options.path ?? '');
  try {
    await page.goto(url, { waitUntil: 'load' });
  } catch (error) {
    // The caller never gets a handle to close when the very first load fails.
    await context.close();
    throw error;
  }
  return {
    page,
    url,
    errors,
    shot: async (name) => {
      const file = join(artifacts, `${name}.png`);
      mkdirSync(dirname(file), { recursive: true });
      await page.screenshot({ path: file, animations: 'disabled' });
      return file;
    },
    close: () => context.close(),
  };
}

export async function stopBrowser(): Promise<void> {
  const running = shared;
  shared = null;
  await running?.browser.close();
  await running?.served.close();
}
