import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { SOON, seriousFindings, withPage } from './tools.ts';

afterAll(stopBrowser);

for (const width of [1440, 390]) {
  test(`ten bags to start from are pictures with name, size and question, chosen by keyboard alone, ${width} px wide`, async () => {
    await withPage({ quick: true, width, height: 900 }, async ({ page, shot }) => {
      const opener = page.getByRole('button', { name: 'Pictures' });
      await opener.focus();
      await page.keyboard.press('Enter');
      const sheet = page.getByRole('dialog', { name: 'Ten bags to start from' });
      await expect.poll(() => sheet.locator('.starts-picture svg').count(), { timeout: 60_000 }).toBe(10);
      expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.start)).toBe('flat-tote');
      for (const line of await sheet.locator('.starts-size').allTextContents()) expect(line).toMatch(/^[\d /]+ in wide, [\d /]+ in deep, [\d /]+ in high/);
      // A picture is of a bag when it has faces, and no two bags look alike.
      const drawings = await sheet.locator('.starts-picture').evaluateAll((all) => all.map((p) => p.innerHTML));
      expect(new Set(drawings).size).toBe(10);
      for (const d of drawings) expect(d.split('<path').length).toBeGreaterThan(50);
      await shot(`opening-starts-${width}`);
      expect(await seriousFindings(page)).toEqual([]);
      expect(await sheet.evaluate((s) => s.scrollWidth - s.clientWidth)).toBe(0);
      // Escape leaves everything as it was and gives the focus back.
      const before = await page.locator('.bag-name').textContent();
      await page.keyboard.press('Escape');
      await expect.poll(() => sheet.count(), SOON).toBe(0);
      expect(await page.locator('.bag-name').textContent()).toBe(before);
      expect(await opener.evaluate((b) => b === document.activeElement)).toBe(true);
      await page.keyboard.press('Enter');
      await expect.poll(() => page.evaluate(() => (document.activeElement as HTMLElement).dataset.start), SOON).toBe('flat-tote');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Enter');
      await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toContain('satchel');
    });
  });
}
