import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadImage } from '@napi-rs/canvas';
import type { Download, Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { sha256 } from '../../src/numerics/index.ts';
import { resultsJson, textReport } from '../../src/report/index.ts';
import { previewSync } from '../../src/run/index.ts';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

const text = readFileSync(new URL('../../demos/market-tote.bag.json', import.meta.url), 'utf8');
/** Hung on a mesh of 50 mm, the middle alone: settled here, and nowhere else in this file. */
const settled = previewSync(text, { stance: 'hung with 2 kg', bands: ['mid'], edgeLength: 0.05, skipNudge: true });
const results = resultsJson([settled], { bagDigest: sha256(text), bagFile: text });

const openFile = (page: Page, name: string, content: string): Promise<void> =>
  page.locator('.files input[type="file"]').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(content) });

const saved = async (page: Page, button: string): Promise<Buffer> => {
  const [download] = await Promise.all([page.waitForEvent('download') as Promise<Download>, page.getByRole('button', { name: button, exact: true }).click()]);
  return readFileSync((await download.path())!);
};

test('a results file opens as it was settled and no solver is asked; its bag is drawn, for print and from all sides, and the report made of it opens the same', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await openFile(page, 'result.json', results);
    const note = page.locator('.reopened');
    await expect.poll(() => note.textContent(), SOON).toContain('Shown as it was settled, from result.json');
    expect(await page.locator('.bag-name').textContent()).toBe('Market tote');
    expect(await page.locator('.verdict-word').allTextContents()).toEqual([settled.verdict.word]);
    // Longer than the pause before a solver is asked.
    await page.waitForTimeout(1200);
    expect(await page.locator('.bay-stage button').count()).toBe(0);
    expect(await note.count()).toBe(1);
    await shot('reopened-1440');
    expect(await axeFindings(page)).toEqual([]);
    // Its maps come out of the file as well.
    for (const [shade, expected] of [
      ['strain', /^largest [\d.]+ % - \w+/],
      ['seam force', /^largest [\d.]+ N\/m - seam from/],
    ] as const) {
      await page.getByRole('radio', { name: shade, exact: true }).check();
      await expect.poll(() => page.locator('.heat-label').first().textContent(), SOON).toMatch(expected);
    }
    expect(await page.locator('.bay-stage button').count()).toBe(0);
    expect(await note.count()).toBe(1);
    await shot('reopened-seams-1440');
    await page.getByRole('radio', { name: 'cloth', exact: true }).check();

    await page.getByRole('button', { name: 'Take away' }).click();
    await page.getByLabel('Width as printed').fill('60 mm');
    const file = await saved(page, 'Save the picture to print');
    // 60 mm at 300 to the inch; pHYs stands straight behind IHDR: 11811 to the metre.
    expect([file.readUInt32BE(16), file.toString('latin1', 37, 41), file.readUInt32BE(41), file.readUInt32BE(45), file[49]]).toEqual([
      709,
      'pHYs',
      11811,
      11811,
      1,
    ]);
    const image = await loadImage(file);
    expect(image.width).toBe(709);
    expect(await page.locator('.sheet-note').textContent()).toContain('709 × ');
    await page.getByLabel('Width as printed').fill('9 m');
    await page.getByRole('button', { name: 'Save the picture to print' }).click();
    await expect.poll(() => page.locator('.sheet-note').textContent(), SOON).toContain('Give a width from');

    await page.getByLabel('Pictures', { exact: true }).selectOption('12');
    await page.locator('.take-box select[aria-label="Width"]').selectOption('800');
    const zip = await saved(page, 'Save the pictures');
    expect([zip.readUInt32LE(0), zip.readUInt32LE(zip.length - 22), zip.readUInt16LE(zip.length - 12)]).toEqual([0x04034b50, 0x06054b50, 12]);
    await page.getByRole('button', { name: 'Save the pictures' }).click();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await expect.poll(() => page.locator('.sheet-note').textContent(), SOON).toBe('Cancelled. Nothing was saved.');

    const report = await saved(page, 'Save the report');
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await page.getByRole('button', { name: 'Settle it here again' }).click();
    await expect.poll(() => page.locator('.bay-stage button').count(), SOON).toBe(1);
    await openFile(page, 'report.html', report.toString());
    await expect.poll(() => note.textContent(), SOON).toContain('from report.html');
    expect(await page.locator('.bay-stage button').count()).toBe(0);
    expect(await page.locator('.verdict-word').allTextContents()).toEqual([settled.verdict.word]);
    expect(textReport(settled)).toContain(settled.verdict.reason);
  });
});

test('a results folder dropped on the page opens as its result.json does', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'slumpline-results-'));
  writeFileSync(join(folder, 'result.json'), results);
  writeFileSync(join(folder, 'picture.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  try {
    await withPage({ quick: true }, async ({ page }) => {
      const devtools = await page.context().newCDPSession(page);
      // As the desktop drops it: a path of a folder, which no synthetic event can hold.
      const data = { items: [], files: [folder], dragOperationsMask: 1 };
      for (const type of ['dragEnter', 'dragOver', 'drop'] as const) await devtools.send('Input.dispatchDragEvent', { type, x: 700, y: 400, data });
      await expect.poll(() => page.locator('.reopened').textContent(), SOON).toContain('Shown as it was settled, from result.json');
      expect(await page.locator('.bag-name').textContent()).toBe('Market tote');
      expect(await page.locator('.bay-stage button').count()).toBe(0);
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test('results of another version are named, and their bag is settled here instead', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    const old = { ...JSON.parse(results), formatVersion: 1, program: { name: 'slumpline', version: '0.1.0' } };
    await openFile(page, 'result.json', JSON.stringify(old, null, 2));
    await expect.poll(() => page.locator('.reopened').textContent(), SOON).toContain('formatVersion: 1, written by version 0.1.0');
    expect(await page.locator('.bag-name').textContent()).toBe('Market tote');
  });
});
