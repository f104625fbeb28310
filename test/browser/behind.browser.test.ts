import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);

test('what settles while another screen is open is drawn on coming back', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    // Before there are figures nothing can be stale.
    await waitForVerdicts(page);
    // Firm stacks alone settle in a moment: the soft ones go, one by one, from the left.
    for (let k = 0; k < 2; k++) {
      await page.locator('.bay-head').first().click();
      await page.getByRole('button', { name: 'Remove option' }).click();
    }
    await page.waitForFunction(() => document.querySelectorAll('.row-verdict td').length === 2 && !document.querySelector('td.stale'), null, {
      timeout: 60_000,
    });
    const before = await page.locator('.mat-side').textContent();
    await page.locator('[data-key="parameter H"]').fill('120 mm');
    await page.keyboard.press('Enter');
    await page.waitForSelector('td.stale');
    await page.locator('a.tab[href="#swatch"]').click();
    await page.waitForFunction(() => !document.querySelector('td.stale'), null, { timeout: 60_000 });
    await page.locator('a.tab').first().click();
    // The tape is drawn with the bags: of 120 mm they stand larger than of 240.
    const tape = () => page.locator('.mat-side').textContent();
    await page.waitForTimeout(1500);
    const back = await tape();
    await shot('back-from-another-screen');
    await page.getByRole('button', { name: 'Turn left' }).click();
    await page.waitForTimeout(1000);
    expect(await tape()).toBe(back);
    expect(back).not.toBe(before);
  });
});
