// Finds a Chromium that really starts and really draws WebGL2, bringing one when the machine has none.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { unpackBundled } from './bundled.mjs';

const isRoot = process.getuid?.() === 0;

/** Same pictures on every machine: software WebGL, no background traffic, no colour profile of the monitor. */
export const flags = [
  // Chromium refuses to run as root inside its sandbox, and containers mostly run as root.
  ...(isRoot ? ['--no-sandbox'] : []),
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-domain-reliability',
  '--disable-sync',
  '--no-first-run',
  '--no-pings',
  '--force-color-profile=srgb',
  '--hide-scrollbars',
  '--mute-audio',
  // Some packaged browsers draw text and boxes by WebGL too, which in software costs a tenth of a test run and more.
  '--disable-gpu-rasterization',
];

/** Words of chromium.launch() for a browser as found below. */
export const launchOptions = (found) => ({
  executablePath: found.path,
  headless: true,
  args: [...flags, ...found.args],
  env: { ...process.env, ...found.env },
  timeout: 60_000,
});

const plain = (path) => ({ path, args: [], env: {} });

function onPath(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const file = join(folder, name);
    try {
      accessSync(file, constants.X_OK);
      return file;
    } catch {
      // not in this folder
    }
  }
  return null;
}

function system() {
  const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
  const places = [
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  ];
  return [...names.map(onPath).filter((file) => file !== null), ...places.filter((file) => existsSync(file))].map(plain);
}

function fromApt() {
  // Only where nobody minds: a throw-away machine that says it is one.
  if (!isRoot || process.env.CI === undefined || onPath('apt-get') === null) return [];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const apt = (...args) => spawnSync('apt-get', args, { stdio: ['ignore', 'ignore', 'inherit'], env, timeout: 240_000 }).status === 0;
  apt('update', '-qq');
  return apt('install', '-y', '-qq', '--no-install-recommends', 'chromium', 'fonts-dejavu-core') ? system() : [];
}

function fromDownload() {
  const cli = fileURLToPath(new URL('../node_modules/playwright-core/cli.js', import.meta.url));
  const done = spawnSync(process.execPath, [cli, 'install', 'chromium-headless-shell'], { stdio: ['ignore', 'ignore', 'inherit'], timeout: 240_000 });
  return done.status === 0 ? [{ path: undefined, args: [], env: {} }] : [];
}

/** In the order of least trouble. Each gives candidates; a candidate counts only when it passes `works`. */
const sources = {
  named: () => (process.env.CHROMIUM_PATH ? [plain(process.env.CHROMIUM_PATH)] : []),
  system,
  bundled: unpackBundled,
  apt: fromApt,
  download: fromDownload,
};

/** null when a page of this browser can draw with WebGL2, else what went wrong. A file of the right name may be a stub that only prints advice. */
async function trouble(found) {
  let browser;
  try {
    browser = await chromium.launch(launchOptions(found));
    const page = await browser.newPage();
    await page.setContent('<p>Ag</p>');
    const drew = await page.evaluate(() => {
      const gl = document.createElement('canvas').getContext('webgl2');
      if (gl === null) return 'no WebGL2';
      gl.clearColor(0.2, 0.4, 0.6, 1);
      gl.clear(gl.COLOR_BUFFER_BIT);
      const pixel = new Uint8Array(4);
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      return pixel.join() === '51,102,153,255' ? null : `WebGL2 drew ${pixel.join()} for 51,102,153,255`;
    });
    return drew;
  } catch (error) {
    return String(error?.message ?? error)
      .split('\n')
      .slice(0, 3)
      .join(' ');
  } finally {
    await browser?.close().catch(() => {});
  }
}

/**
 * The first browser that works: { source, path, args, env }, or null when there is none.
 * SLUMPLINE_BROWSER = named | system | bundled | apt | download allows that one source only.
 */
export async function findBrowser(say = console.log) {
  const only = process.env.SLUMPLINE_BROWSER;
  if (only && !(only in sources)) throw new Error(`unknown SLUMPLINE_BROWSER "${only}": expected ${Object.keys(sources).join(', ')}`);
  for (const source of only ? [only] : Object.keys(sources)) {
    let candidates = [];
    try {
      candidates = await sources[source]();
    } catch (error) {
      say(`browser: ${source}: ${error.message}`);
    }
    for (const found of candidates) {
      const bad = await trouble(found);
      if (bad === null) return { source, ...found };
      say(`browser: ${source}: ${found.path ?? 'downloaded'} does not do: ${bad}`);
    }
  }
  return null;
}
