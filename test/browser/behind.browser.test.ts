import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

test('what settles while another screen is open is drawn on coming back', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    // Firm stacks alone settle in a moment: the soft ones go, one by one, from the left.
    for (let k = 0; k < 2; k++) {
      await page.locator('.bay-head').first().click();
      await page.getByRole('button', { name: 'Remove option' }).click();
    }
    await page.waitForFunction(() => document.querySelectorAll('.row-verdict td').length === 2 && !document.querySelector('td.stale'), null, {
      timeout: 60_000,
    });
    await page.locator('[data-key="parameter H"]').fill('120 mm');
    await page.keyboard.press('Enter');
    await page.waitForSelector('td.stale');
    await page.locator('a.tab[href="#swatch"]').click();
    await page.waitForFunction(() => !document.querySelector('td.stale'), null, { timeout: 60_000 });
    await page.locator('a.tab').first().click();
    await page.waitForTimeout(1500);
    const bay = (await page.locator('.bay').last().boundingBox())!,
      drawn = () => page.screenshot({ clip: { x: bay.x + 5, y: bay.y + 60, width: bay.width - 10, height: bay.height - 65 } });
    const back = await drawn();
    await shot('back-from-another-screen');
    // Turned there and back, everything is drawn anew.
    await page.getByRole('button', { name: 'Turn left' }).click();
    await page.getByRole('button', { name: 'Turn right' }).click();
    await page.waitForTimeout(1500);
    await expect.poll(async () => (await drawn()).equals(back), SOON).toBe(true);
  });
});
