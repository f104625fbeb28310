import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { SOON, waitForMiddles, withPage } from './tools.ts';

afterAll(stopBrowser);

/** Text and titles of everything that is shown, fields too. */
const shown = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const root = document.querySelector<HTMLElement>('.page')!;
    const fields = [...root.querySelectorAll<HTMLInputElement>('input[type=text]')].filter((f) => f.checkVisibility()).map((f) => f.value);
    // Lists of materials are names, and a leather goes by its thickness.
    for (const list of root.querySelectorAll<HTMLElement>('select')) list.style.display = 'none';
    // biome-ignore lint/performance/useDomNodeTextContent: what is shown is asked for, not what is hidden
    const parts = [root.innerText];
    for (const list of root.querySelectorAll<HTMLElement>('select')) list.style.display = '';
    return [...parts, ...fields, ...[...root.querySelectorAll('svg text')].map((t) => t.textContent ?? '')].join('\n');
  });
const INCHES = /\d[\d/ ]* in(?![a-z])(?! \+)/g;
const MILLIMETRES = /\d mm\b/g;

test('a reader in Britain sees no inch on the first view, the drafting table and the straps; one in America no millimetre of a bag’s sizes; nobody sees both unasked', async () => {
  await withPage({ quick: true, units: 'none' }, async ({ page, shot }) => {
    await waitForMiddles(page);
    await page.waitForSelector('[data-key="parameter W"]');
    expect(await page.getByRole('radio', { name: 'mm', exact: true }).isChecked()).toBe(true);
    expect((await shown(page)).match(INCHES)).toBeNull();
    await page.evaluate(() => {
      location.hash = 'cut';
    });
    await page.waitForSelector('[data-hold="front/edge/right"]');
    expect((await shown(page)).match(INCHES)).toBeNull();
    await shot('units-mm-1440');
  });
  await withPage({ quick: true, units: 'none', locale: 'en-US' }, async ({ page, shot }) => {
    await waitForMiddles(page);
    const width = page.locator('[data-key="parameter W"]');
    await expect.poll(() => width.inputValue(), SOON).toBe('11 13/16 in');
    expect((await shown(page)).match(MILLIMETRES)).toBeNull();
    // Left as it is, the file keeps its millimetres; typed over, it takes what was typed.
    await width.focus();
    await width.press('Tab');
    expect(await page.evaluate(() => localStorage.getItem('slumpline.bag'))).toBeNull();
    await page.evaluate(() => {
      location.hash = 'cut';
    });
    await page.waitForSelector('[data-hold="front/edge/right"]');
    expect((await shown(page)).match(MILLIMETRES)).toBeNull();
    await shot('units-in-1440');
    await page.getByRole('radio', { name: 'in + mm', exact: true }).check();
    await expect.poll(() => width.inputValue(), SOON).toBe('300 mm');
    // biome-ignore lint/performance/useDomNodeTextContent: what is shown is asked for, not what is hidden
    expect(await page.locator('.controls').innerText()).toContain('11 13/16 in');
  });
});
