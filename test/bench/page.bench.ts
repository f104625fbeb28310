// What the page takes to answer, in a real browser: npm run bench:page [quick|medium|fine]; fine (2000 points) changes firm options alone. Needs the built page (npm run build) and a browser (CHROMIUM_PATH or one that is found).
// Times hang on the machine and on how WebGL is drawn: a machine without a graphics card draws on the cores that settle.
import type { Page } from 'playwright-core';
import { openPage, stopBrowser } from '../browser/harness.ts';

const mesh = (['medium', 'fine'] as const).find((m) => m === process.argv[2]) ?? 'quick';
/** Longest that one change is waited for, ms. */
const LONGEST = 150_000;

const seconds = (ms: number): string => (ms / 1000).toFixed(1);

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly dur?: number;
  readonly tdur?: number;
  readonly args: { readonly name?: string };
}

/**
 * What the main thread did during `act` in tasks over 50 ms: how long each took by the clock and, of that, on a core. Where solvers and drawing keep every
 * core busy a task of 10 ms may wait for 100; only what it used is the page's own doing.
 */
async function watched<T>(act: () => Promise<T>): Promise<{ readonly found: T; readonly tasks: string }> {
  const browser = page.context().browser()!;
  await browser.startTracing(page, { categories: ['toplevel', 'disabled-by-default-devtools.timeline', '__metadata'] });
  const found = await act();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { readonly traceEvents: readonly TraceEvent[] };
  const all = traceEvents.filter((e) => e.ph === 'X' && e.name === 'RunTask' && e.dur !== undefined);
  const mains = traceEvents.filter((e) => e.name === 'thread_name' && e.args.name === 'CrRendererMain');
  const own = mains.map((m) => all.filter((e) => e.pid === m.pid && e.tid === m.tid)).sort((a, b) => b.length - a.length)[0] ?? [];
  const ms = (us: number | undefined): number => Math.round((us ?? 0) / 1000);
  const long = own.filter((e) => e.dur! > 50_000).map((e) => `${ms(e.dur)} (${ms(e.tdur)})`);
  const most = Math.max(0, ...own.map((e) => ms(e.tdur)));
  return { found, tasks: `${long.join(', ') || 'none'}; most on a core ${most}` };
}

/** Times, s, at which so many options had the middle of their band, and all of it, after `act`. */
async function answers(page: Page, act: () => Promise<unknown>, most = LONGEST): Promise<{ middles: string[]; whole: string[] }> {
  const begun = performance.now();
  await act();
  await page.waitForSelector('td.stale');
  const middles: string[] = [];
  const whole: string[] = [];
  for (;;) {
    const [options, fresh, done] = await page.evaluate(() => {
      const cells = [...document.querySelectorAll('.row-verdict td')];
      const now = cells.filter((c) => !c.classList.contains('stale'));
      return [cells.length, now.length, now.filter((c) => c.querySelector('.stale-note') === null).length];
    });
    while (middles.length < fresh) middles.push(seconds(performance.now() - begun));
    while (whole.length < done) whole.push(seconds(performance.now() - begun));
    if (whole.length === options || performance.now() - begun > most) return { middles, whole };
    await page.waitForTimeout(50);
  }
}

const open = await openPage();
const { page } = open;
await page.evaluate((fineness) => localStorage.setItem('slumpline.preferences', JSON.stringify({ fineness })), mesh);
const begun = performance.now();
await page.reload();
await page.waitForFunction(
  () =>
    document.querySelectorAll('.row-verdict td').length > 0 &&
    document.querySelectorAll('.verdict-word').length === document.querySelectorAll('.row-verdict td').length,
);
console.log(`example open, words and shapes settled beforehand: ${seconds(performance.now() - begun)} s (bar 2 s)`);
await page.waitForTimeout(4000);

console.log(
  `\n| change, ${mesh} mesh | middles of the options after s | whole bands after s | main-thread tasks over 50 ms, (of it on a core) |\n|---|---|---|---|`,
);
const height = page.locator('[data-key="parameter H"]');
const resize = async (size: string): Promise<void> => {
  await height.fill(size);
  await page.keyboard.press('Enter');
};
const told = async (what: string, act: () => Promise<unknown>, most?: number): Promise<void> => {
  const { found, tasks } = await watched(() => answers(page, act, most));
  console.log(`| ${what} | ${found.middles.join(', ')} | ${found.whole.join(', ')} | ${tasks} |`);
};
if (mesh === 'fine') {
  // The two soft options would settle for minutes, and are not asked about.
  for (const left of [3, 2]) {
    await page.locator('.bay-head').first().click();
    await page.locator('[data-key="remove"]').click();
    await page.waitForFunction((n) => document.querySelectorAll('.row-verdict td').length === n, left);
  }
  await page.waitForFunction(() => document.querySelector('.row-verdict .stale-note') === null && document.querySelector('.bay-stage button') === null, null, {
    timeout: LONGEST,
  });
} else {
  await told('height, while all settle (cut after 10 s)', () => resize('235 mm'), 10_000);
  await told('height, while all settle (cut after 10 s)', () => resize('230 mm'), 10_000);
  await told('height, to the end (bar 8 s)', () => resize('225 mm'));
}
await page
  .locator('.bay-head')
  .nth(mesh === 'fine' ? 0 : 2)
  .click();
// Each lining once: one that was there before is not settled again.
for (const index of [0, 2, 3, 4, 5]) await told('lining of a firm option alone (bar 1.5 s)', () => page.locator('[data-key="lining"]').selectOption({ index }));

await page.locator('.bay-head').first().click();
await page.getByRole('button', { name: 'Take in hand' }).click();
const frames = (): Promise<number> => page.evaluate(() => Number(document.querySelector<HTMLElement>('.bay.in-hand')?.dataset.frames ?? 0));
while ((await frames()) < 10) await page.waitForTimeout(50);
const { found: drawn, tasks } = await watched(async () => {
  const from = await frames();
  await page.waitForTimeout(5000);
  return (await frames()) - from;
});
console.log(
  `\n${mesh === 'fine' ? 'firm' : 'soft'} option in hand, edge 16 mm: ${drawn / 5} frames a second (bar 30 at about 1000 points), ${await page.locator('.live-time').textContent()}; main-thread tasks over 50 ms (of it on a core): ${tasks}`,
);
for (const error of open.errors) console.log(`fault: ${error}`);
await open.close();
await stopBrowser();
