import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { flatTote } from '../../src/bag/templates/flat-tote.ts';
import { stopBrowser } from './harness.ts';
import { SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

const field = (page: Page, key: string) => page.locator(`[data-key="${key}"]`);
/** Key of the field that has the focus, or the tag of whatever else has it. */
const focused = (page: Page) =>
  page.evaluate(() => {
    const active = document.activeElement as HTMLElement;
    return active.dataset.key ?? (active.className || active.tagName);
  });
const small = (page: Page, key: string) => field(page, key).locator('xpath=ancestor::*[contains(@class,"lil-controller")]').locator('small').textContent();
const inView = (page: Page, what: string) =>
  page.locator(what).evaluate((element) => {
    const { top, bottom } = element.getBoundingClientRect();
    return top >= 0 && bottom <= window.innerHeight;
  });
const open = async (page: Page, bag: object, name: string): Promise<void> => {
  await page.locator('input[type=file]').setInputFiles({ name: 'own.bag.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(bag)) });
  await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe(name);
};
const tote = { slumpline: 1, name: 'Flat tote', ...flatTote.bag };

test('Enter keeps the focus in its field, whether the value is good or not, and the arrow keys step from there', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    const height = field(page, 'parameter H');
    await height.fill('240 mm');
    await page.keyboard.press('Enter');
    expect(await focused(page)).toBe('parameter H');
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => height.inputValue(), SOON).toBe('245 mm');
    await height.fill('banana');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.faults tbody tr');
    expect(await focused(page)).toBe('parameter H');
    expect(await height.inputValue()).toBe('banana');
    // A figure typed over the fault and entered is taken as well.
    await page.keyboard.press('Control+A');
    await page.keyboard.type('250 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.faults').isHidden(), SOON).toBe(true);
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => height.inputValue(), SOON).toBe('245 mm');
    expect(await focused(page)).toBe('parameter H');
  });
});

test('a fault is told once, with what a length looks like, and its way out is in view on a scrolled page; back goes to the faulty field', async () => {
  await withPage({ quick: true, height: 620 }, async ({ page, shot }) => {
    const height = field(page, 'parameter H');
    await height.fill('banana');
    await page.evaluate(() => scrollTo(0, 120));
    await page.keyboard.press('Enter');
    await page.waitForSelector('.faults tbody tr');
    const row = page.locator('.faults tbody tr');
    expect(await row.count()).toBe(1);
    expect(await row.locator('td').last().textContent()).toMatch(/^a length with its unit, such as .*, or a parameter of this bag: /);
    expect(await small(page, 'parameter H')).toBe('');
    expect(await inView(page, '#faults-title')).toBe(true);
    const back = page.getByRole('button', { name: 'Go back to the last good bag' });
    await shot('fault-scrolled');
    await back.click();
    expect(await focused(page)).toBe('parameter H');
    expect(await small(page, 'parameter H')).not.toBe('');
    await height.fill('20 m');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.faults tbody tr');
    expect(await row.count()).toBe(1);
    await page.setViewportSize({ width: 390, height: 800 });
    await back.click();
    await height.fill('21 m');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.faults tbody tr');
    await expect.poll(() => inView(page, '#faults-title'), SOON).toBe(true);
    await shot('fault-390');
  });
});

test('after each option added the focus stays for the next one; the last one left has it at its head, as its button switches itself off', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
    const [name, option] = Object.entries(demo.options)[0]!;
    await open(page, { ...demo, name: 'One option', options: { [name]: option } }, 'One option');
    for (const count of [2, 3, 4]) {
      await field(page, 'add').focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => page.locator('.bay-head').count(), SOON).toBe(count);
      await expect.poll(() => focused(page), SOON).toBe('add');
    }
    for (const count of [3, 2, 1]) {
      await field(page, 'remove').focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => page.locator('.bay-head').count(), SOON).toBe(count);
    }
    await expect.poll(() => focused(page), SOON).toBe('bay-head');
  });
});

test('a parameter that nothing is written with says so; a length written as a parameter shows what it comes to; the list to start from is whole', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await open(page, tote, 'Flat tote');
    await page.getByRole('radio', { name: 'hung' }).check();
    expect(await small(page, 'parameter inset')).not.toContain('no effect');
    expect(await field(page, 'straps.handle.length').inputValue()).toBe('handle');
    expect(await small(page, 'straps.handle.length')).toContain('22 in');
    await field(page, 'straps.handle.from.from left').fill('90 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => small(page, 'parameter inset'), SOON).toContain('no effect');
    await shot('fields-1440');
    await page.setViewportSize({ width: 390, height: 800 });
    await page.evaluate(() => scrollTo(0, 0));
    await page.waitForTimeout(300);
    await shot('fields-390');
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    // It hangs again after a reload.
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.reload();
    await expect.poll(() => page.getByRole('radio', { name: 'hung' }).isChecked(), SOON).toBe(true);
  });
});

test('after a reload the same option is edited, compared with the same other, and the same figure is marked on the bags; an older or broken record does no harm', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await page.locator('.bay-head').nth(2).click();
    await page.locator('#compare-with').selectOption('B');
    const marked = page.locator('[data-figure][aria-pressed="true"]');
    const figure = page.getByRole('button', { name: /Mouth droop/ }).first();
    await figure.click();
    expect(await figure.getAttribute('aria-pressed')).toBe('true');
    await page.reload();
    await expect.poll(() => page.locator('.bay-head').nth(2).getAttribute('aria-pressed'), SOON).toBe('true');
    expect(await page.locator('#compare-with').inputValue()).toBe('B');
    expect(await page.locator('.differences caption').textContent()).toContain('option B');
    await expect.poll(() => figure.getAttribute('aria-pressed'), SOON).toBe('true');
    await expect.poll(() => page.locator('.mark-label').count(), SOON).toBeGreaterThan(0);
    for (const broken of ['{"editing": 7, "against": [], "mark": "hue"}', 'no JSON', 'null']) {
      await page.evaluate((kept) => localStorage.setItem('slumpline.view', kept), broken);
      await page.reload();
      await expect.poll(() => page.locator('.bay-head').first().getAttribute('aria-pressed'), SOON).toBe('true');
      expect(await page.locator('#compare-with').inputValue()).toBe('');
    }
    expect(await marked.count()).toBe(0);
  });
});
