import { readFileSync } from 'node:fs';
import { afterAll, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);
test('look', async () => {
  await withPage({ quick: true, width: 1440, height: 900 }, async ({ page, shot }) => {
    await waitForVerdicts(page);
    await page.waitForTimeout(1500);
    await page.getByRole('button', { name: 'Take away' }).click();
    await page.waitForTimeout(500);
    await shot('look-take');
    for (const [name, file] of [
      ['Save the picture', 'pic.png'],
      ['Save the report', 'report.html'],
      ['Save the figures', 'figures.csv'],
    ]) {
      const [d] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name }).click()]);
      await d.saveAs('/tmp/page/' + file);
    }
    await page.getByRole('radio', { name: 'plain' }).check();
    await page.locator('.take-sheet select').selectOption('tall');
    const [d] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the picture' }).click()]);
    await d.saveAs('/tmp/page/pic-tall.png');
    await page.keyboard.press('Escape');
    await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 700, height: 1000 });
    await page.waitForTimeout(500);
    await page.screenshot({ path: 'artifacts/look-print.png', fullPage: true });
    await page.emulateMedia({ media: 'screen' });
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.getByRole('button', { name: 'Look inside' }).click();
    await page.waitForTimeout(1500);
    await shot('look-inside');
  });
  console.log(readFileSync('/tmp/page/figures.csv', 'utf8').slice(0, 900));
}, 400000);
