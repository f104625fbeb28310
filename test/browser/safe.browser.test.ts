import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { SOON, waitForMiddles, withPage } from './tools.ts';

afterAll(stopBrowser);

test('the built page lets no text run as code and asks no other host for anything; what it does itself breaks no rule of its own', async () => {
  await withPage({ quick: true, expectedErrors: /Content Security Policy|ERR_ABORTED/ }, async ({ page }) => {
    await page.addInitScript(() => {
      const broken: string[] = [];
      (window as unknown as { broken: string[] }).broken = broken;
      document.addEventListener('securitypolicyviolation', (event) => broken.push(event.effectiveDirective));
    });
    await page.reload();
    await waitForMiddles(page);
    // Through what is loaded later as well.
    await page.locator('[data-key="parameter W"]').fill('310');
    await page.keyboard.press('Enter');
    for (const hash of ['#cut', '#straps', '#swatch', '#stand']) {
      await page.evaluate((to) => {
        window.location.hash = to;
      }, hash);
      await page.waitForTimeout(1500);
    }
    const broken = (): Promise<string[]> => page.evaluate(() => (window as unknown as { broken: string[] }).broken);
    expect(await broken()).toEqual([]);
    await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.__ran = 1';
      document.body.append(script);
      void fetch('http://192.0.2.1/').catch(() => {});
      const button = document.createElement('button');
      button.setAttribute('onclick', 'window.__ran = 2');
      document.body.append(button);
      button.click();
    });
    await expect.poll(broken, SOON).toEqual(expect.arrayContaining(['script-src-elem', 'connect-src', 'script-src-attr']));
    expect(await page.evaluate(() => (window as unknown as { __ran?: number }).__ran)).toBeUndefined();
    expect(await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content')).not.toMatch(/unsafe-eval'(?<!wasm-unsafe-eval')/);
  });
});

test('kept once, the page opens without a network, settles a change, and can be installed', async () => {
  await withPage({ quick: true, serviceWorker: true, expectedErrors: /ERR_INTERNET_DISCONNECTED|ERR_ABORTED|Failed to fetch/ }, async ({ page, url }) => {
    await waitForMiddles(page);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null), { timeout: 60_000 }).toBe(true);
    await page.context().setOffline(true);
    await page.goto(url);
    await waitForMiddles(page);
    await page.locator('[data-key="parameter H"]').fill('150');
    await page.keyboard.press('Enter');
    await page.waitForSelector('td.stale');
    await page.waitForFunction(() => document.querySelector('td.stale') === null, null, { timeout: 120_000 });
    // A part that is loaded only when it is asked for.
    await page.getByRole('button', { name: 'Take away', exact: true }).click();
    await expect.poll(() => page.locator('.take-box').count(), SOON).toBe(9);
    const manifest = (await page.evaluate(async () => (await fetch('./site.webmanifest')).json())) as { name: string; display: string; icons: unknown[] };
    expect(manifest).toMatchObject({ name: 'slumpline', display: 'standalone' });
    expect(manifest.icons.length).toBeGreaterThan(0);
  });
});

test.each([
  ['A4', 703, 1032],
  ['Letter', 725, 965],
])('on %s nothing of any screen stands off the paper, and no button is printed', async (paper, width, height) => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await waitForMiddles(page);
    for (const screen of ['stand', 'straps', 'swatch', 'cut']) {
      await page.emulateMedia({ media: 'screen' });
      await page.setViewportSize({ width: 1440, height: 900 });
      await page.evaluate((to) => {
        window.location.hash = to;
      }, screen);
      await page.waitForTimeout(2500);
      await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
      await page.emulateMedia({ media: 'print' });
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(400);
      await shot(`print-${screen}-${paper}`);
      const off = await page.evaluate((most) => {
        const wide = [...document.querySelectorAll<HTMLElement>('body *')].filter(
          (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().right > most + 1 && e.getBoundingClientRect().width > 1,
        );
        return wide.slice(0, 5).map((e) => `${e.tagName}.${e.getAttribute('class')} to ${Math.round(e.getBoundingClientRect().right)}`);
      }, width);
      expect(off, `${screen} on ${paper}`).toEqual([]);
      expect(await page.locator('.files button:visible, .controls:visible').count()).toBe(0);
    }
  });
});
