import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

type Form = Record<string, unknown>;
interface Written {
  readonly panels: Record<string, Form>;
  readonly seams: Record<string, unknown>;
  readonly members?: Record<string, Form>;
  readonly closures?: Record<string, Form>;
  readonly hardware?: Record<string, Form>;
  readonly stances?: Record<string, Form>;
}
const bag = (page: Page): Promise<Written> => page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? '{"panels":{},"seams":{}}'));
const status = (page: Page): Promise<string | null> => page.locator('[role=status]').textContent();
const troubles = (page: Page): Promise<string[]> => page.locator('.trouble p').allTextContents();
const hold = (page: Page, name: string) => page.locator(`[data-hold="${name}"]`);

test('by pointer: piping round the mouth in 3 actions, boning in a seam in 2, a magnet in 2, four feet in 2; each is drawn, listed and told; undo takes each back', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    await hold(page, 'front/edge/top').click();
    await hold(page, 'edge member round').check();
    await hold(page, 'edge member').selectOption('paper cord');
    await expect.poll(() => bag(page).then((b) => b.members?.piping), SOON).toMatchObject({ kind: 'paper cord', ends: 'ring' });
    await expect.poll(() => status(page), SOON).toContain('Piping, paper cord along front.top. It runs all round and is joined to a ring.');
    expect(await page.locator('.sheet title', { hasText: 'piping: paper cord of 4 mm' }).count()).toBe(4);
    await hold(page, 'front/edge/left').click();
    await hold(page, 'edge member').selectOption('plastic boning');
    await expect.poll(() => bag(page).then((b) => b.members?.boning), SOON).toEqual({ kind: 'plastic boning', along: 'front.left' });
    const stops = hold(page, 'member boning stops');
    await stops.fill('12');
    await stops.press('Enter');
    await expect.poll(() => bag(page).then((b) => b.members?.boning['stops short']), SOON).toBe('12 mm');
    await shot('draw-boning-1440');
    await page.getByRole('radio', { name: 'Close and trim' }).check();
    await hold(page, 'close do').click();
    await expect.poll(() => bag(page).then((b) => b.closures?.magnet?.from), SOON).toEqual({ panel: 'front', at: ['W/2', 'H - 25 mm'] });
    expect((await bag(page)).stances?.['magnet closed']).toMatchObject({ closed: ['magnet'] });
    expect(await status(page)).toContain('Magnet put on. It is closed in the stance "magnet closed", and open in the others.');
    // Closed in the first stance as well, from the panel of controls.
    await page.locator('[data-key="closed magnet"]').check();
    await expect.poll(() => bag(page).then((b) => b.stances?.standing), SOON).toMatchObject({ closed: ['magnet'] });
    await expect.poll(() => hold(page, 'closures magnet in standing').isChecked(), SOON).toBe(true);
    await page.getByRole('radio', { name: 'Feet, metal' }).check();
    await hold(page, 'metal do').click();
    await expect.poll(() => bag(page).then((b) => (b.hardware?.feet?.at as unknown[])?.length), SOON).toBe(4);
    expect(await page.locator('.sheet title', { hasText: 'feet: 4 feet of 12 mm' }).count()).toBe(4);
    // A rivet where the drawing is pressed.
    await hold(page, 'metal kind').selectOption('rivet');
    const box = (await page.locator('[data-panel="front"] .cloth').boundingBox())!;
    await page.mouse.click(box.x + 0.25 * box.width, box.y + 0.5 * box.height);
    await expect.poll(() => bag(page).then((b) => b.hardware?.rivet?.panel), SOON).toBe('front');
    expect(await troubles(page)).toEqual([]);
    await shot('draw-metal-1440');
    expect(await axeFindings(page)).toEqual([]);
    await hold(page, 'hardware rivet off').click();
    await expect.poll(() => bag(page).then((b) => Object.keys(b.hardware ?? {})), SOON).toEqual(['feet']);
    for (let i = 0; i < 8; i++) await page.keyboard.press('Control+z');
    await expect.poll(() => bag(page).then((b) => [b.members, b.closures, b.hardware].filter((x) => x).length), SOON).toBe(0);
    expect(Object.keys((await bag(page)).stances ?? {})).toEqual(['standing']);
  });
});

test('by keys at 390 px: a zip along the mouth, then a drawstring round it drawn to 12 in, in inches; a zip between edges of two lengths is refused with both', async () => {
  await withPage({ path: '#cut', quick: true, width: 390, height: 844 }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await page.getByRole('radio', { name: 'Close and trim' }).focus();
    await page.keyboard.press('Space');
    await hold(page, 'close kind').selectOption('coil zip');
    expect(await hold(page, 'close side 0').inputValue()).toBe('front.top');
    expect(await hold(page, 'close side 1').inputValue()).toBe('back.top');
    await hold(page, 'close side 1').selectOption('left.top');
    await hold(page, 'close do').press('Enter');
    await expect.poll(() => page.locator('.sheet-told').textContent(), SOON).toContain('two edges of one length');
    await hold(page, 'close side 1').selectOption('back.top');
    await hold(page, 'close do').press('Enter');
    await expect.poll(() => bag(page).then((b) => b.closures?.zip), SOON).toEqual({ kind: 'coil zip', join: ['front.top', 'back.top'] });
    await expect.poll(() => status(page), SOON).toContain('Zip, coil put on.');
    await shot('draw-zip-390');
    await hold(page, 'closures zip off').press('Enter');
    await expect.poll(() => bag(page).then((b) => b.closures), SOON).toBeUndefined();
    await hold(page, 'close kind').selectOption('drawstring');
    await hold(page, 'close drawnTo').fill('12');
    await hold(page, 'close do').press('Enter');
    await expect.poll(() => bag(page).then((b) => b.closures?.drawstring), SOON).toMatchObject({ below: '3/4 in', 'drawn to': '12 in' });
    expect((await bag(page)).closures?.drawstring.along).toHaveLength(4);
    expect((await bag(page)).stances?.['drawn shut']).toMatchObject({ closed: ['drawstring'] });
    expect(await troubles(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await shot('draw-cord-390');
  });
});

test('figures of its own: a cord’s rigidity, a magnet’s gap and pull, a zip half closed from its other end, a cord’s friction, two of four feet; a wrong one is refused with its path', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const enter = async (name: string, value: string): Promise<void> => {
      await hold(page, name).fill(value);
      await hold(page, name).press('Enter');
    };
    const written = (what: 'members' | 'closures' | 'hardware', name: string, key: string) =>
      expect.poll(() => bag(page).then((b) => b[what]?.[name]?.[key]), SOON);
    await hold(page, 'front/edge/top').click();
    await hold(page, 'edge member').selectOption('spring wire');
    await written('members', 'wire', 'kind').toBe('spring wire');
    await hold(page, 'edge member').selectOption('figures');
    await written('members', 'wire', 'rigidity').toMatch(/N\.m2$/);
    await enter('member wire rigidity', '0,4');
    await written('members', 'wire', 'rigidity').toBe('0.4 N.m2');
    await enter('member wire mass', '31');
    await written('members', 'wire', 'mass').toBe('31 g/m');
    await shot('draw-figures-1440');
    await enter('member wire rigidity', 'stiff');
    await expect.poll(() => page.locator('.sheet-told').textContent(), SOON).toMatch(/members\.wire\.rigidity/);
    await written('members', 'wire', 'rigidity').toBe('0.4 N.m2');

    await page.getByRole('radio', { name: 'Close and trim' }).check();
    await hold(page, 'close do').click();
    await written('closures', 'magnet', 'kind').toBe('magnet');
    await enter('closures magnet pull-off', '15');
    await written('closures', 'magnet', 'pull-off').toBe('15 N');
    await hold(page, 'closures magnet more').click();
    await enter('closures magnet gap', '3');
    await written('closures', 'magnet', 'gap').toBe('3 mm');
    await hold(page, 'close kind').selectOption('tie');
    await hold(page, 'close do').click();
    await written('closures', 'tie', 'kind').toBe('tie');
    await hold(page, 'close kind').selectOption('coil zip');
    await hold(page, 'close side 0').selectOption('left.top');
    await hold(page, 'close side 1').selectOption('right.top');
    await hold(page, 'close do').click();
    await written('closures', 'zip', 'kind').toBe('coil zip');
    await enter('closures zip slider', '50 %');
    await written('closures', 'zip', 'slider').toBe('0.5');
    await hold(page, 'closures zip more').click();
    await hold(page, 'closures zip closes from').selectOption('end');
    await written('closures', 'zip', 'closes from').toBe('end');
    await shot('draw-closure-figures-1440');
    await hold(page, 'closures zip off').click();
    await hold(page, 'close kind').selectOption('drawstring');
    await hold(page, 'close do').click();
    await written('closures', 'drawstring', 'kind').toBe('drawstring');
    await hold(page, 'closures drawstring more').click();
    await enter('closures drawstring friction', '0.45');
    await written('closures', 'drawstring', 'friction').toBe('0.45');

    await page.getByRole('radio', { name: 'Feet, metal' }).check();
    await hold(page, 'metal do').click();
    await expect.poll(() => page.locator('.sheet title', { hasText: 'feet: 4 feet of 12 mm' }).count(), SOON).toBe(4);
    await enter('hardware feet count', '2');
    await written('hardware', 'feet', 'count').toBe('2');
    await expect.poll(() => page.locator('.sheet title', { hasText: 'feet: 2 feet of 12 mm' }).count(), SOON).toBe(2);
    expect(await axeFindings(page)).toEqual([]);
  });
});

test('a press right after an undo lands every time: eight marks pressed once each while the drawing still catches up, and a button after a typed field', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    for (let i = 0; i < 8; i++) {
      const [was, next] = i % 2 === 0 ? ['top', 'left'] : ['left', 'right'];
      await hold(page, `front/edge/${was}`).click();
      await hold(page, 'edge member').selectOption('cotton cord');
      await expect.poll(() => bag(page).then((b) => Object.keys(b.members ?? {}).length), SOON).toBe(1);
      // No wait between the two: the mark that is pressed is one of the bag before.
      await page.keyboard.press('Control+z');
      await hold(page, `front/edge/${next}`).click();
      await expect.poll(() => hold(page, 'form part').inputValue(), SOON).toBe(`front/edge/${next}`);
      await expect.poll(() => bag(page).then((b) => b.members), SOON).toBeUndefined();
    }
    // Leaving a field enters it, and the table is drawn anew; the button that the press began on is still the one it ends on.
    await hold(page, 'front/edge/top').click();
    await hold(page, 'edge finish width').fill('25');
    await hold(page, 'edge notch').scrollIntoViewIfNeeded();
    const notch = (await hold(page, 'edge notch').boundingBox())!;
    await page.mouse.move(notch.x + notch.width / 2, notch.y + notch.height / 2);
    await page.mouse.down();
    await page.waitForTimeout(600);
    await page.mouse.up();
    await expect.poll(() => bag(page).then((b) => b.panels.front.marks), SOON).toMatchObject({ 'top notch': 'top[50%]' });
    expect((await bag(page)).panels.front.finishes).toMatchObject({ top: { width: '25 mm' } });
  });
});
