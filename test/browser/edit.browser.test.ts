import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { kept, SOON, TWO_PIECES, waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);

const field = (page: Page, key: string) => page.locator(`[data-key="${key}"]`);

/** Messages sent to workers with a bag to settle, counted from the start of the page. */
async function countSettles(page: Page): Promise<() => Promise<number>> {
  await page.addInitScript(() => {
    const own = Worker.prototype.postMessage;
    const counted = window as unknown as { settles: number };
    counted.settles = 0;
    Worker.prototype.postMessage = function (this: Worker, message: { edgeLength?: number; bands?: readonly string[] }, ...rest: unknown[]) {
      // Without a band it is only weighed.
      if (message.edgeLength !== undefined && 'stance' in message && message.bands?.length !== 0) counted.settles++;
      return (own as (...all: unknown[]) => void).call(this, message, ...rest);
    } as typeof own;
  });
  await page.reload();
  return () => page.evaluate(() => (window as unknown as { settles: number }).settles);
}

test('sizes, stacks, options, looks and opened files are all undone and redone, by keys and by buttons, and after a reload', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    const width = field(page, 'parameter W');
    const undo = page.getByRole('button', { name: 'Undo' });
    const redo = page.getByRole('button', { name: 'Redo' });
    expect(await undo.getAttribute('aria-disabled')).toBe('true');
    await width.fill('320 mm');
    await page.keyboard.press('Enter');
    await field(page, 'lining').selectOption({ label: 'none' });
    await page.getByRole('radio', { name: 'soft', exact: true }).check();
    await field(page, 'remove').click();
    await page.locator('input[type=file]').setInputFiles({
      name: 'flat.bag.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(TWO_PIECES)),
    });
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Two flat pieces');
    const options = (): Promise<number> => kept(page).then((b) => Object.keys(b.options).length);
    expect(await options()).toBe(1);
    // Back through every one of the five changes.
    await page.keyboard.press('Control+z');
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Harbour tote');
    expect(await options()).toBe(3);
    await page.keyboard.press('Control+z');
    expect(await options()).toBe(4);
    expect((await kept(page)).wanted).toBe('soft');
    await undo.click();
    expect((await kept(page)).wanted).toBe('structured');
    expect(await field(page, 'lining').inputValue()).toBe('none');
    // A reload in the middle keeps both ways.
    await page.waitForTimeout(600);
    await page.reload();
    await expect.poll(() => width.inputValue(), SOON).toBe('320 mm');
    await page.locator('canvas').focus();
    await page.keyboard.press('Control+z');
    await expect.poll(() => field(page, 'lining').inputValue(), SOON).not.toBe('none');
    await page.keyboard.press('Meta+z');
    await expect.poll(() => width.inputValue(), SOON).toBe('300 mm');
    expect(await undo.getAttribute('aria-disabled')).toBe('true');
    for (const keys of ['Control+Shift+z', 'Control+y', 'Meta+Shift+z', 'Control+y']) await page.keyboard.press(keys);
    expect(await options()).toBe(3);
    await redo.click();
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Two flat pieces');
    expect(await redo.getAttribute('aria-disabled')).toBe('true');
  });
});

test('letters being typed keep the browser’s own undo; the bag’s undo waits until they are entered', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    const width = field(page, 'parameter W');
    await width.fill('310 mm');
    await page.keyboard.press('Enter');
    await width.focus();
    await page.keyboard.type('333');
    await page.keyboard.press('Control+z');
    expect((await kept(page)).parameters.W).toBe('310 mm');
    await page.keyboard.press('Escape');
    // What Enter took is the bag's to undo, with the focus still in its field.
    await width.fill('320 mm');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Control+z');
    await expect.poll(() => kept(page).then((b) => b.parameters.W), SOON).toBe('310 mm');
    expect(await width.inputValue()).toBe('310 mm');
  });
});

test('a broken edit and a broken file show every fault with its path and keep the last good bag and its whole history', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    const width = field(page, 'parameter W');
    await width.fill('310 mm');
    await page.keyboard.press('Enter');
    await width.fill('3 apples');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.faults tbody tr');
    expect(await page.locator('.faults tbody th').allTextContents()).toContain('parameters.W');
    expect((await kept(page)).parameters.W).toBe('310 mm');
    await page.locator('input[type=file]').setInputFiles({
      name: 'broken.bag.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"slumpline":1,"panels":{"front":{"rectangle":{"width":"12","height":-3}}},"stacks":{},"options":{"A":{"front":"none"}}}'),
    });
    await expect.poll(() => page.locator('.faults tbody tr').count(), SOON).toBeGreaterThanOrEqual(3);
    const paths = await page.locator('.faults tbody th').allTextContents();
    expect(paths).toContain('panels.front.rectangle.width');
    expect(paths).toContain('stacks');
    await shot('edit-faults');
    // One step was taken, so one step is what there is to undo.
    await page.locator('.tape').click({ force: true });
    await page.keyboard.press('Control+z');
    await expect.poll(() => width.inputValue(), SOON).toBe('300 mm');
    expect(await page.getByRole('button', { name: 'Undo' }).getAttribute('aria-disabled')).toBe('true');
    expect(await page.locator('.faults').isHidden()).toBe(true);
  });
});

test('a bag whose side is sewn in inside out is refused in every column with the words of check, and no other bag stands on the mat', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    const spec = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
    spec.seams.E.join = ['front.right', 'right.right'];
    spec.seams.F.join = ['right.left', 'back.left'];
    await page.locator('input[type=file]').setInputFiles({ name: 'twisted.bag.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(spec)) });
    await expect.poll(() => page.getByText(/Seam E sews the right panel inside out/).count(), SOON).toBeGreaterThanOrEqual(4);
    expect(await page.getByText('not settled: the reason stands below').count()).toBeGreaterThanOrEqual(4);
    expect(await page.locator('.verdict-word').count()).toBe(0);
    await shot('edit-unsewable');
  });
});

test('another look wanted is judged from the stored measures: 0 further settles, and an undone size finds its figures again: 0 as well', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    const settles = await countSettles(page);
    await waitForVerdicts(page);
    const before = await settles();
    // The example opens as it settled before it was shipped.
    expect(before).toBe(0);
    const chosen = (): Promise<number> => page.locator('.row-verdict td').evaluateAll((cells) => cells.findIndex((c) => c.classList.contains('chosen')));
    const upright = await chosen();
    await page.getByRole('radio', { name: 'slouchy' }).check();
    await expect.poll(chosen, SOON).not.toBe(upright);
    expect(await page.locator('td.stale').count()).toBe(0);
    await page.waitForTimeout(1200);
    expect(await settles()).toBe(before);
    // The two soft options would take a minute more and show nothing more.
    for (const left of [3, 2]) {
      await field(page, 'remove').click();
      await expect.poll(() => page.locator('.row-verdict td').count(), SOON).toBe(left);
    }
    await field(page, 'parameter H').fill('230 mm');
    await page.keyboard.press('Enter');
    await page.waitForSelector('td.stale');
    await waitForVerdicts(page);
    expect(await settles()).toBe(before + 4);
    await page.keyboard.press('Control+z');
    await expect.poll(() => field(page, 'parameter H').inputValue(), SOON).toBe('240 mm');
    await page.waitForTimeout(1200);
    expect(await settles()).toBe(before + 4);
    expect(await page.locator('td.stale').count()).toBe(0);
    // An option taken away and brought back has its figures back with it, whole.
    await page.keyboard.press('Control+z');
    await expect.poll(() => page.locator('.verdict-word').count(), SOON).toBe(3);
    await page.waitForTimeout(600);
    expect(await page.locator('.row-verdict .stale-note').count()).toBe(0);
    expect(await settles()).toBe(before + 4);
  });
});

test('a kept bag that no longer reads is set aside whole before anything replaces it, and its faults are told', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    const old = '{"slumpline": 0, "name": "An old bag", "panels": {}}';
    await page.evaluate((bag) => localStorage.setItem('slumpline.bag', bag), old);
    await page.reload();
    await page.waitForSelector('.faults tbody tr');
    expect(await page.locator('.faults tbody').textContent()).toContain('slumpline.bag.unread');
    expect(await page.locator('.bag-name').textContent()).toBe('Harbour tote');
    // Out of the browser again as the file it was.
    await shot('edit-unread');
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the bag set aside' }).click();
    const saved = await saving;
    expect(saved.suggestedFilename()).toBe('bag-set-aside.bag.json');
    expect(readFileSync(await saved.path(), 'utf8')).toBe(old);
    const width = field(page, 'parameter W');
    await width.focus();
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => kept(page).then((b) => b?.name), SOON).toBe('Harbour tote');
    expect(await page.evaluate(() => localStorage.getItem('slumpline.bag.unread'))).toBe(old);
  });
});
