import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, kept, SOON, TWO_PIECES, withPage } from './tools.ts';

afterAll(stopBrowser);

/** Middle of a handle on the screen. */
async function middle(page: Page, hold: string): Promise<[number, number]> {
  const handle = page.locator(`[data-hold="${hold}"] .handle-reach`);
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  if (!box) throw new Error(`no handle ${hold}`);
  return [box.x + box.width / 2, box.y + box.height / 2];
}

test('the right edge of the front dragged 20 mm out changes W and with it back and base; the bag is sewn anew at once; one undo takes it back', async () => {
  await withPage({ quick: true, path: '#cut' }, async ({ page, shot }) => {
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const hold = 'front/edge/right';
    await page.waitForSelector(`[data-hold="${hold}"]`);
    await shot('edit-cut-1440');
    const [x, y] = await middle(page, hold);
    // Pixels to one millimetre, read off the drawing itself.
    const scale = await page.locator('.sheet svg').evaluate((s) => (s as SVGSVGElement).getScreenCTM()!.a);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 10 * scale, y, { steps: 3 });
    await page.mouse.move(x + 20.2 * scale, y, { steps: 3 });
    // While the hand still holds: the length, the seam partner's length and the difference.
    await expect.poll(() => page.locator('.sheet-told').textContent(), SOON).toContain('320 mm');
    expect(await page.locator('.sheet-lengths').textContent()).toMatch(/Seam E: .*240 mm.*right\.left.*240 mm.*difference none/);
    expect((await kept(page))?.parameters.W ?? '300 mm').toBe('300 mm');
    await shot('edit-cut-dragging');
    await page.mouse.up();
    await expect.poll(() => kept(page).then((b) => b?.parameters.W), SOON).toBe('320 mm');
    expect(await page.locator('.sheet-told').textContent()).toBe('Width: 300 mm is now 320 mm.');
    await expect.poll(() => page.locator('.page').getAttribute('data-sewn'), SOON).toBe('1');
    expect(await page.locator('.flat-panel[data-panel="base"]').textContent()).toContain('320 mm x 100 mm');
    await page.keyboard.press('Control+z');
    await expect.poll(() => kept(page).then((b) => b.parameters.W), SOON).toBe('300 mm');
    await expect.poll(() => page.locator('.flat-panel[data-panel="base"]').textContent(), SOON).toContain('300 mm x 100 mm');
  });
});

test('by keyboard alone: a panel chosen, a corner moved 10 mm by one key, a size typed, a broken size refused with its path', async () => {
  await withPage({ quick: true, path: '#cut' }, async ({ page }) => {
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    await page.waitForSelector('[data-hold="panel left"]');
    await page.locator('[data-hold="panel left"]').focus();
    await page.keyboard.press('Enter');
    await page.waitForSelector('[data-hold="left/corner/upper right"]');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.hold)).toBe('left/edge/bottom');
    await page.locator('[data-hold="left/corner/upper right"]').focus();
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(() => kept(page).then((b) => b?.parameters.D), SOON).toBe('110 mm');
    await expect.poll(() => page.evaluate(() => (document.activeElement as HTMLElement).dataset.hold), SOON).toBe('left/corner/upper right');
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => kept(page).then((b) => b?.parameters.H), SOON).toBe('241 mm');
    const height = page.locator('[data-hold="form 1"]');
    await height.fill('9 1/2 in');
    await page.keyboard.press('Enter');
    await expect.poll(() => kept(page).then((b) => b?.parameters.H), SOON).toBe('241.3 mm');
    await height.fill('W - 900 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.sheet-told').textContent(), SOON).toContain('panels.left.rectangle.height');
    expect((await kept(page)).parameters.H).toBe('241.3 mm');
  });
});

test('at 390 px the flat panels scroll in their own box, and nothing serious stands in anyone’s way at 390 or 2560 px', async () => {
  for (const [width, height] of [
    [390, 844],
    [2560, 1440],
  ]) {
    await withPage({ quick: true, path: '#cut', width, height }, async ({ page, shot }) => {
      await page.waitForSelector('[data-hold="front/edge/right"]');
      await page.waitForTimeout(1500);
      await shot(`edit-cut-${width}`);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await axeFindings(page)).toEqual([]);
    });
  }
});

test('a strap’s anchor is moved by keys and typed: 25 mm from the left, both patches and both panels with it; a mirrored half keeps its two sides alike', async () => {
  await withPage({ quick: true, path: '#cut' }, async ({ page, shot }) => {
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const handle = {
      width: '20 mm',
      length: '200 mm',
      stack: 'plain',
      from: { panel: 'front', 'from left': '24 mm', 'from top': '10 mm' },
      to: 'mirrored',
      'also on': ['back'],
    };
    const half = [{ at: [0, 0], edge: 'bottom' }, { at: ['W/2', 0], edge: 'side' }, { at: ['W/2', '80 mm'], edge: 'top' }, { at: [0, '80 mm'] }];
    const bag = {
      ...TWO_PIECES,
      name: 'Two halves',
      parameters: { W: '120 mm' },
      panels: { front: { half, open: ['top'] }, back: { copy: 'front', open: ['top'] } },
      seams: { A: ['front.bottom', 'back.bottom'], B: ['front.side left', 'back.side right'], C: ['front.side right', 'back.side left'] },
      straps: { handle },
    };
    await page.locator('input[type=file]').setInputFiles({ name: 'halves.bag.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(bag)) });
    const anchor = page.locator('[data-hold="front/anchor/handle 1"]');
    await anchor.focus();
    await page.keyboard.press('ArrowRight');
    const from = (): Promise<Record<string, string>> => page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? '{}').straps?.handle.from);
    await expect.poll(() => from().then((f) => f['from left']), SOON).toBe('25 mm');
    const top = page.getByRole('textbox', { name: 'From top', exact: true });
    await top.fill('12 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => from().then((f) => f['from top']), SOON).toBe('12 mm');
    expect(await page.locator('.patch').count()).toBe(4);
    await page.locator('[data-hold="front/edge/side (left)"]').focus();
    await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => kept(page).then((b) => b.parameters.W), SOON).toBe('140 mm');
    expect(await page.locator('.flat-panel[data-panel="back"]').textContent()).toContain('140 mm x 80 mm');
    await shot('edit-cut-anchors');
  });
});
