import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, kept, SOON, TWO_PIECES, waitForMiddles, waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);

const names = (page: Page): Promise<string[]> => page.locator('.own-bag').evaluateAll((all) => all.map((e) => (e as HTMLElement).dataset.bag ?? ''));

/** Opens a bag file as one that was chosen. */
const openFile = (page: Page, bag: unknown): Promise<void> =>
  page.locator('.files input[type="file"]').setInputFiles({ name: 'bag.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(bag)) });

test('what has settled once is shown again after a reload: every word back within 2 s, and no solver at work', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await openFile(page, {
      ...TWO_PIECES,
      stances: { held: { kind: 'standing' } },
      options: { one: { 'every panel': 'plain' }, two: { 'every panel': 'lined' } },
      stacks: { plain: ['canvas10'], lined: ['canvas10', { loose: 'poplin' }] },
    });
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Two flat pieces');
    const words = await waitForVerdicts(page);
    await page.waitForTimeout(500);
    await page.addInitScript(() => {
      const seen = { words: 0, busy: false };
      (window as unknown as { seen: typeof seen }).seen = seen;
      new MutationObserver(() => {
        if (document.querySelector('.bay-stage button')) seen.busy = true;
        const columns = document.querySelectorAll('.row-verdict td').length;
        if (seen.words === 0 && columns === 2 && document.querySelectorAll('.verdict-word').length === 2 && !document.querySelector('.stale-note'))
          seen.words = performance.now();
      }).observe(document, { childList: true, subtree: true });
    });
    await page.reload();
    await expect.poll(() => page.evaluate(() => (window as unknown as { seen: { words: number } }).seen.words), SOON).toBeGreaterThan(0);
    const seen = await page.evaluate(() => (window as unknown as { seen: { words: number; busy: boolean } }).seen);
    console.log(`reload: all words after ${Math.round(seen.words)} ms`);
    expect(await page.locator('.verdict-word').allTextContents()).toEqual(words);
    expect(seen.busy).toBe(false);
    expect(seen.words).toBeLessThan(2000);
  });
});

test('several bags are kept with pictures: duplicated, named, deleted and brought back, saved as one file and added again', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await waitForMiddles(page);
    await page.locator('[data-key="parameter H"]').fill('250');
    await page.keyboard.press('Enter');
    await openFile(page, TWO_PIECES);
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Two flat pieces');
    await page.getByRole('button', { name: 'Your bags' }).click();
    await expect.poll(() => names(page), SOON).toEqual(['Two flat pieces', 'Harbour tote']);
    await page.getByRole('button', { name: 'Duplicate: Harbour tote' }).click();
    await expect.poll(() => names(page), SOON).toContain('Harbour tote 2');
    await page.getByRole('button', { name: 'Name: Harbour tote 2' }).click();
    await page.keyboard.type('Taller tote');
    await page.keyboard.press('Enter');
    await expect.poll(() => names(page), SOON).toContain('Taller tote');
    await expect.poll(() => page.locator('.own-bag img').count(), { timeout: 60_000 }).toBe(3);
    await shot('own-bags-1440');
    expect(await axeFindings(page)).toEqual([]);
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save all as one file' }).click()]);
    const file = (await download.path())!;
    await page.getByRole('button', { name: 'Delete: Taller tote' }).click();
    await expect.poll(() => names(page), SOON).toHaveLength(2);
    await page.getByRole('button', { name: 'Bring it back' }).click();
    await expect.poll(() => names(page), SOON).toHaveLength(3);
    await page.locator('.starts-sheet input[type="file"]').setInputFiles(file);
    await expect.poll(() => page.locator('.sheet-note').textContent(), SOON).toContain('3 bags added');
    expect(await names(page)).toContain('Taller tote 2');
    await page.getByRole('button', { name: 'Open: Taller tote', exact: true }).click();
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Taller tote');
    expect((await kept(page)).parameters.H).toBe('250 mm');
  });
});

test('a file of several bags with one that cannot be read adds the others and lists its faults', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await openFile(page, {
      'slumpline bags': 1,
      bags: [
        { name: 'Good', changed: 1, bag: { ...TWO_PIECES, name: 'Good' } },
        { name: 'Bad', changed: 1, bag: { ...TWO_PIECES, seams: 3 } },
      ],
    });
    await expect.poll(() => page.locator('.sheet-note').textContent(), SOON).toContain('One bag added.');
    expect(await page.locator('.sheet-faults').textContent()).toContain('Bad, seams');
    expect(await names(page)).toEqual(['Good']);
  });
});

test('two tabs on the same bag: the other change is told, both bags are kept, and the other one can be shown here', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, url }) => {
    await waitForMiddles(page);
    await page.locator('[data-key="parameter W"]').fill('310');
    await page.keyboard.press('Enter');
    const other = await page.context().newPage();
    await other.goto(url);
    await expect.poll(() => other.locator('[data-key="parameter W"]').inputValue(), SOON).toBe('310 mm');
    await other.locator('[data-key="parameter W"]').fill('290');
    await other.keyboard.press('Enter');
    await expect.poll(() => page.locator('.conflict').textContent(), SOON).toContain('changed in another tab');
    expect(await page.locator('[data-key="parameter W"]').inputValue()).toBe('310 mm');
    await page.waitForTimeout(1500);
    await other.close();
    await page.getByRole('button', { name: 'Show the other one here' }).click();
    await expect.poll(() => page.locator('[data-key="parameter W"]').inputValue(), SOON).toBe('290 mm');
    await page.getByRole('button', { name: 'Your bags' }).click();
    await expect.poll(() => names(page), SOON).toHaveLength(2);
  });
});
