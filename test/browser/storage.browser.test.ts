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

/** From now on the browser has no room for anything. */
const fill = (page: Page): Promise<void> =>
  page.evaluate(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });

test('a dropped picture is told to be no text, two files at once are both refused, and the bag stays', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await drop(page, { 'photo.png': [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0] });
    await expect.poll(() => faults(page).textContent(), SOON).toContain('this file is not text');
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
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('not saved: this browser stores nothing');
  });
});

test('a settle whose worker crashes once is asked again and comes to its verdict', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED|planned crash/ }, async ({ page }) => {
    let crashes = 0;
    await page.route(/\/solver-worker-[^/]*\.js$/, (route) =>
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
    expect(await page.locator('main').textContent()).not.toContain('The solver stopped');
  });
});

test('a tab killed in the middle of an edit, the hand at rest: opened again, what was entered is there, with its undo', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED|page crashed/ }, async ({ page, url }) => {
    const width = page.locator('[data-key="parameter W"]');
    await width.fill('320 mm');
    await page.keyboard.press('Enter');
    await page.locator('[data-key="lining"]').selectOption({ label: 'none' });
    // Letters that were not entered yet are not part of the bag.
    await width.fill('33');
    // The bag is kept at once, its steps when the hand rests; and the browser's own process must have taken both over.
    await expect
      .poll(() => page.evaluate(() => (JSON.parse(localStorage.getItem('slumpline.history') ?? '{"past":[]}') as { past: unknown[] }).past.length), SOON)
      .toBe(2);
    await page.waitForTimeout(500);
    // The renderer dies without a word: no event of leaving the page reaches it. Nothing ever answers this call.
    const devtools = await page.context().newCDPSession(page);
    const dead = page.waitForEvent('crash');
    void devtools.send('Page.crash').catch(() => {});
    await dead;
    const again = await page.context().newPage();
    await again.goto(url, { waitUntil: 'load' });
    await expect.poll(() => again.locator('[data-key="parameter W"]').inputValue(), SOON).toBe('320 mm');
    expect(await again.locator('[data-key="lining"]').inputValue()).toBe('none');
    await again.locator('canvas').focus();
    await again.keyboard.press('Control+z');
    await expect.poll(() => again.locator('[data-key="lining"]').inputValue(), SOON).not.toBe('none');
    await again.keyboard.press('Control+z');
    await expect.poll(() => again.locator('[data-key="parameter W"]').inputValue(), SOON).toBe('300 mm');
  });
});

test('a full browser: what changes after opening is told as not saved, the fields of the bench as well, and the bag goes on', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('saved on this machine');
    await fill(page);
    await page.locator('[data-key="parameter W"]').fill('320 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('not saved: this browser stores nothing');
    expect(await page.locator('[data-key="parameter W"]').inputValue()).toBe('320 mm');
    await page.getByRole('link', { name: 'What is my swatch?' }).click();
    await page.getByRole('radio', { name: 'My swatch' }).check();
    await expect.poll(() => page.locator('.swatch .notice').isVisible(), SOON).toBe(true);
    expect(await page.locator('.swatch .notice').textContent()).toContain('did not store the fields of the bench');
  });
});

test('a browser that is full by the time another view is chosen is told so in the header', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('saved on this machine');
    await fill(page);
    await page.getByRole('radio', { name: 'curvature' }).check();
    await expect.poll(() => page.locator('header').textContent(), SOON).toContain('not saved: this browser stores nothing');
  });
});
