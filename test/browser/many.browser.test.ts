import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { runsJson } from '../../src/index.ts';
import { madeRun, planOf, stepsAxis } from '../report/runs/made-up.ts';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

const axes = [stepsAxis('W', [260, 300, 340], 'mm'), stepsAxis('bond', [0.2, 0.8])];
const plan = planOf(axes, 6, { bag: 'Tote <b>of many</b>' });
const runs = Array.from({ length: 6 }, (_, i) => {
  const word = (['holds', 'softens', 'slumps'] as const)[Math.floor(i / 2)]!;
  return madeRun(plan, i, { W: axes[0]!.values![Math.floor(i / 2)]!, bond: axes[1]!.values![i % 2]! }, { word, heightKept: 0.95 - 0.2 * Math.floor(i / 2) });
});
const file = (name: string, text: string) => ({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
const open = (page: Page, chosen: ReturnType<typeof file>): Promise<void> => page.locator('.files input[type="file"]').setInputFiles(chosen);

test("a sweep's table opens in a sheet of its own: map of 6 words, heights and shares, other parameters by choice, nothing settled and the bag on the mat left alone", async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    const bag = await page.locator('.bag-name').textContent();
    await open(page, file('table.json', runsJson(plan, runs)));
    await expect.poll(() => page.locator('.many-picture').count(), SOON).toBe(2);
    await expect
      .poll(
        () =>
          page
            .locator('.many-picture')
            .first()
            .evaluate((e) => (e as HTMLImageElement).naturalWidth),
        SOON,
      )
      .toBeGreaterThan(300);
    // A name out of a file is text.
    expect(await page.locator('.many-bag').textContent()).toBe('Tote <b>of many</b>: 6 runs');
    expect(await page.locator('.many-sheet b').count()).toBe(0);
    await page.getByText('The map as a table').click();
    expect(await page.locator('.many-scroll tbody td').allTextContents()).toEqual(['holds', 'softens', 'slumps', 'holds', 'softens', 'slumps']);
    await page.getByLabel('Upward').selectOption('W');
    expect(await page.getByLabel('Across').inputValue()).toBe('1');
    await page.getByText('The map as a table').click();
    expect(await page.locator('.many-scroll tbody td').allTextContents()).toEqual(['slumps', 'slumps', 'softens', 'softens', 'holds', 'holds']);
    await page.getByLabel('Against').selectOption('bond');
    expect(await page.locator('.many-picture').last().getAttribute('alt')).toContain('against bond');
    expect(await axeFindings(page)).toEqual([]);
    await shot('many');
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save this picture' }).first().click();
    expect((await saved).suggestedFilename()).toBe('tote-b-of-many-b-map-bond-w.svg');
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    expect(await page.locator('.bag-name').textContent()).toBe(bag);
  });
});

test('a table that was changed by hand is refused with what is wrong, and the sheet waits for another', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await open(page, file('table.json', runsJson(plan, runs).replace('"runs":6', '"runs":5').replace('"runs": 6', '"runs": 5')));
    await expect.poll(() => page.locator('.many-sheet .sheet-faults').textContent(), SOON).toContain('plan: got a plan that was changed');
    expect(await page.locator('.many-picture').count()).toBe(0);
  });
});
