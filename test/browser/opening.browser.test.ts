import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

test('twelve bags to start from are pictures with name, size and question, chosen by keyboard alone, 1440 and 390 px wide', async () => {
  await withPage({ quick: true, width: 1440, height: 900 }, async ({ page, shot }) => {
    for (const width of [1440, 390]) {
      await page.setViewportSize({ width, height: 900 });
      const opener = page.getByRole('button', { name: 'Pictures' });
      await opener.focus();
      await page.keyboard.press('Enter');
      const sheet = page.getByRole('dialog', { name: 'Bags to start from' });
      // They come with the page, so none is waited for.
      await sheet.locator('.starts-picture svg').first().waitFor();
      expect(await sheet.locator('.starts-picture svg').count()).toBe(12);
      expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.start)).toBe('flat-tote');
      for (const line of await sheet.locator('.starts-size').allTextContents()) expect(line).toMatch(/^[\d /]+ in wide, [\d /]+ in deep, [\d /]+ in high/);
      // A picture is of a bag when it has faces, and no two bags look alike.
      const drawings = await sheet.locator('.starts-picture').evaluateAll((all) => all.map((p) => p.innerHTML));
      expect(new Set(drawings).size).toBe(12);
      for (const d of drawings) expect(d.split('<path').length).toBeGreaterThan(50);
      await shot(`opening-starts-${width}`);
      expect(await axeFindings(page)).toEqual([]);
      expect(await sheet.evaluate((s) => s.scrollWidth - s.clientWidth)).toBe(0);
      // Escape leaves everything as it was and gives the focus back.
      const before = await page.locator('.bag-name').textContent();
      await page.keyboard.press('Escape');
      await expect.poll(() => sheet.count(), SOON).toBe(0);
      expect(await page.locator('.bag-name').textContent()).toBe(before);
      expect(await opener.evaluate((b) => b === document.activeElement)).toBe(true);
    }
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate(() => (document.activeElement as HTMLElement).dataset.start), SOON).toBe('flat-tote');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toContain('satchel');
  });
});

for (const width of [1440, 390]) {
  test(`a first visit is offered a tour of three questions that points at their answers, is left by Escape and stays left, ${width} px wide`, async () => {
    await withPage({ quick: true, width, height: 900 }, async ({ page, shot }) => {
      const offer = page.locator('.tour-offer');
      await expect.poll(() => offer.count(), SOON).toBe(1);
      // An offer, not a wall: nothing but the page itself lies over the controls.
      for (const name of ['Open', 'Save', 'Settle']) await page.getByRole('button', { name, exact: true }).first().click({ trial: true });
      await shot(`opening-offer-${width}`);
      await offer.getByRole('button', { name: 'Show me' }).focus();
      await page.keyboard.press('Enter');
      const card = page.locator('.tour');
      const steps = [
        ['Will it stand?', '.row-verdict'],
        ['Where do the straps go?', '.tab'],
        ['What is my swatch?', '.tab'],
      ] as const;
      for (const [i, [question, at]] of steps.entries()) {
        await expect.poll(() => card.locator('h2').textContent(), SOON).toBe(question);
        expect(await page.evaluate(() => document.activeElement?.id)).toBe('tour-title');
        expect(await page.locator('.toured').count()).toBe(1);
        expect(await page.locator('.toured').evaluate((e, s) => e.matches(s), at)).toBe(true);
        await page.waitForTimeout(400);
        // What is pointed at is on the screen and not under the card.
        const [target, box] = [await page.locator('.toured').boundingBox(), await card.boundingBox()];
        expect(target!.y + target!.height).toBeGreaterThan(0);
        expect(target!.y).toBeLessThan(box!.y);
        await shot(`opening-tour-${i + 1}-${width}`);
        expect(await axeFindings(page)).toEqual([]);
        if (i < 2) {
          await card.getByRole('button', { name: 'Next' }).focus();
          await page.keyboard.press('Enter');
        }
      }
      await page.keyboard.press('Escape');
      await expect.poll(() => card.count(), SOON).toBe(0);
      expect(await page.locator('.toured').count()).toBe(0);
      expect(await offer.count()).toBe(0);
      await page.reload();
      await page.locator('.row-verdict').waitFor({ state: 'attached' });
      expect(await offer.count()).toBe(0);
      const call = page.getByRole('button', { name: 'A short tour of three questions' });
      await call.focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => card.locator('h2').textContent(), SOON).toBe('Will it stand?');
      await page.keyboard.press('Escape');
      expect(await call.evaluate((b) => b === document.activeElement)).toBe(true);
    });
  });
}
