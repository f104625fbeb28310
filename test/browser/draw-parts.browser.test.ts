import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

type Form = Record<string, unknown>;
const bag = (page: Page): Promise<{ panels: Record<string, Form>; seams: Record<string, Form> }> =>
  page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? '{"panels":{},"seams":{}}'));
const panel = async (page: Page, name: string): Promise<Form> => (await bag(page)).panels[name] ?? {};
const told = (page: Page): Promise<string | null> => page.locator('.sheet-told').textContent();
const troubles = (page: Page): Promise<string[]> => page.locator('.trouble p').allTextContents();
const hold = (page: Page, name: string) => page.locator(`[data-hold="${name}"]`);

test('by pointer: the mouth hemmed on front and back in 2 actions, a flap in 2, a dart in 2 and a wider allowance in 2; the hems are drawn; nothing is wrong', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const edge = async (ref: string): Promise<void> => {
      const [p, e] = ref.split('.');
      if ((await hold(page, `${p}/edge/${e}`).count()) === 0) await page.locator(`[data-panel="${p}"] .cloth`).click({ position: { x: 40, y: 60 } });
      // Once: while the drawing still catches up with an undo as well.
      await hold(page, `${p}/edge/${e}`).click();
      await expect.poll(() => hold(page, 'form part').inputValue(), SOON).toBe(`${p}/edge/${e}`);
    };
    // What was unfolded for one edge stays so for the next.
    const unfold = async (): Promise<void> => {
      if (!(await hold(page, 'put on').evaluate((e) => e.closest('details')!.open))) await page.getByText('Put on this edge').click();
    };
    await edge('front.top');
    await hold(page, 'edge finish').selectOption('turned twice');
    await expect.poll(() => panel(page, 'back').then((b) => b.finishes), SOON).toMatchObject({ top: { finish: 'turned twice', width: '30 mm' } });
    expect((await panel(page, 'front')).finishes).toMatchObject({ top: { finish: 'turned twice', width: '30 mm' } });
    expect(await told(page)).toBe('Edge top of front: hem, turned twice, 30 mm. back.top as well.');
    await unfold();
    await page.getByRole('button', { name: 'Sew a dart' }).click();
    await expect.poll(() => bag(page).then((b) => Object.keys(b.seams).filter((s) => s.startsWith('dart'))), SOON).toEqual(['dart front']);
    expect((await panel(page, 'front')).finishes).toMatchObject({
      'top 1': { finish: 'turned twice', width: '30 mm' },
      'top 2': { finish: 'turned twice', width: '30 mm' },
    });
    await shot('draw-dart-1440');
    await page.keyboard.press('Control+z');
    await expect.poll(() => bag(page).then((b) => Object.keys(b.seams).some((s) => s.startsWith('dart'))), SOON).toBe(false);
    await edge('back.top');
    await unfold();
    await page.getByRole('button', { name: 'Sew on a flap' }).click();
    await expect.poll(() => panel(page, 'flap').then((f) => f.role), SOON).toBe('flap');
    expect(await told(page)).toContain('The finish of back.top is taken off: the edge is sewn now.');
    await edge('front.left');
    const allowance = page.locator('.sheet-tasks [data-hold^="seam allowance"]');
    await allowance.fill('12');
    await allowance.press('Enter');
    await expect.poll(() => bag(page).then((b) => JSON.stringify(b.seams)), SOON).toContain('"allowance":"12 mm"');
    expect(await troubles(page)).toEqual([]);
    expect(await page.locator('.hem-row').count()).toBeGreaterThan(0);
    await shot('draw-flap-1440');
    expect(await axeFindings(page)).toEqual([]);
  });
});

test('by keys at 390 px: an edge bound, a tab sewn on, a fold creased by 5 mm and turned by 90 degrees; each is told aloud', async () => {
  await withPage({ path: '#cut', quick: true, width: 390, height: 844 }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/top"]');
    await hold(page, 'front/edge/top').focus();
    await hold(page, 'edge finish').selectOption('bound');
    await expect.poll(() => panel(page, 'front').then((f) => f.finishes), SOON).toMatchObject({ top: { finish: 'bound', width: '3/8 in' } });
    await expect.poll(() => page.locator('[role=status]').textContent(), SOON).toContain('Edge top of front: bound, 3/8 in.');
    await hold(page, 'put on').press('Enter');
    await hold(page, 'put tabWidth').fill('1 1/4');
    await hold(page, 'put tabWidth').press('Enter');
    await expect.poll(() => panel(page, 'tab').then((t) => t.rectangle), SOON).toEqual({ width: '1 1/4 in', height: '4 in' });
    await expect.poll(() => page.locator('[role=status]').textContent(), SOON).toContain('Tab sewn on front.top.');
    expect(await troubles(page)).toEqual([]);
    await shot('draw-tab-390');
    await hold(page, 'panel back').press('Enter');
    await hold(page, 'task fold').press('Enter');
    await page.waitForSelector('[data-hold="back/line/fold 1"]');
    await hold(page, 'back/line/fold 1').focus();
    await hold(page, 'line fold').fill('5 mm');
    await hold(page, 'line fold').press('Enter');
    await expect.poll(() => panel(page, 'back').then((b) => (b.lines as { fold: Form }).fold.fold), SOON).toBe('5 mm');
    await hold(page, 'line angle').fill('90');
    await hold(page, 'line angle').press('Enter');
    await expect.poll(() => panel(page, 'back').then((b) => (b.lines as { fold: Form }).fold.angle), SOON).toBe('90 deg');
    expect(await troubles(page)).toEqual([]);
  });
});
