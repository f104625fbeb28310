import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { SOON, waitForMiddles, withPage } from './tools.ts';

afterAll(stopBrowser);

const faults = (page: Page) => page.locator('.faults tbody');
const name = (page: Page) => page.locator('.bag-name').textContent();

/** Drops files of the given bytes on the page. */
const drop = (page: Page, files: Record<string, number[]>): Promise<void> =>
  page.evaluate((given) => {
    const dataTransfer = new DataTransfer();
    for (const [called, bytes] of Object.entries(given)) dataTransfer.items.add(new File([new Uint8Array(bytes)], called));
    window.dispatchEvent(new DragEvent('drop', { dataTransfer, cancelable: true, bubbles: true }));
  }, files);

test('a dropped picture is told to be no text, two files at once are both refused, and the bag stays', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await drop(page, { 'photo.png': [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0] });
    await expect.poll(() => faults(page).textContent(), SOON).toContain('bytes that are no text');
    await drop(page, { 'a.json': [0x7b, 0x7d], 'b.json': [0x7b, 0x7d] });
    await expect.poll(() => faults(page).textContent(), SOON).toContain('2 files at once');
    expect(await name(page)).toBe('Harbour tote');
  });
});

test('blocked storage is told on opening, before anything is said to be saved', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException('full', 'QuotaExceededError');
      };
    });
    await page.reload();
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('not saved: this browser keeps nothing');
  });
});

test('a settle whose worker crashes once is asked again and comes to its verdict', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED|planned crash/ }, async ({ page }) => {
    let crashes = 0;
    await page.route(/\/worker-[^/]*\.js$/, (route) =>
      crashes++ === 0
        ? route.fulfill({ contentType: 'text/javascript', body: 'self.onmessage = () => { throw new Error("planned crash"); };' })
        : route.continue(),
    );
    await page.reload();
    // The example opens settled: only a change needs a worker.
    await waitForMiddles(page);
    await page.locator('[data-key="parameter H"]').fill('120 mm');
    await page.keyboard.press('Enter');
    await page.waitForSelector('td.stale');
    await page.waitForFunction(() => document.querySelector('td.stale') === null, null, { timeout: 100_000 });
    expect(crashes).toBeGreaterThan(1);
    expect(await page.locator('main').textContent()).not.toContain('stopped unexpectedly');
  });
});
