import { afterAll, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { waitForMiddles, withPage } from './tools.ts';

afterAll(stopBrowser);
test('look', async () => {
  await withPage({ quick: true, width: 1440, height: 900 }, async ({ page, shot }) => {
    await waitForMiddles(page);
    await page.getByRole('button', { name: 'Pictures' }).click();
    await page.waitForTimeout(9000);
    await shot('look-starts');
    await page.locator('[data-start="crescent"]').click();
    await page.waitForTimeout(300);
    await waitForMiddles(page);
    await page.locator('[data-key="Units/metric"]').check();
    await page.waitForTimeout(2500);
    await shot('look-crescent');
    await page.getByText('For the engineer').click();
    await page.waitForTimeout(500);
    await page.screenshot({ path: 'artifacts/look-crescent-full.png', fullPage: true });
  });
});
