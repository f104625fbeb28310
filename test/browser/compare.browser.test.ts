import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);

test('the options sort by any column by keyboard, differences go to a chosen option in mm and inches, the lightest is marked with its reason', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await waitForVerdicts(page);
    const grams = (): Promise<number[]> =>
      page.locator('.differences tbody tr td:nth-child(5)').evaluateAll((cells) => cells.map((c) => Number.parseFloat(c.firstChild?.textContent ?? '')));
    const weight = page.getByRole('button', { name: 'Weight' });
    await weight.focus();
    await page.keyboard.press('Enter');
    const up = await grams();
    expect(up).toEqual([...up].sort((a, b) => a - b));
    expect(up.length).toBe(4);
    expect(await page.locator('.differences th', { has: weight }).getAttribute('aria-sort')).toBe('ascending');
    await page.keyboard.press('Enter');
    expect(await grams()).toEqual([...up].reverse());
    expect(await page.locator('.differences th[aria-sort="descending"]').count()).toBe(1);
    await page.locator('#compare-with').selectOption('A');
    const texts = await page.locator('.differences tbody tr').allTextContents();
    expect(texts.filter((t) => /[+−]\d+ g/.test(t)).length).toBe(3);
    expect(texts.filter((t) => /[+−].*in \(.*mm\)/.test(t)).length).toBeGreaterThan(0);
    // Marked: the lightest of those that the table under the mat marks as meeting what is wanted.
    const marked = await page.locator('.differences tr.chosen th').textContent();
    const column = await page.locator('.row-verdict td').evaluateAll((cells) => cells.findIndex((c) => c.classList.contains('chosen')));
    expect(marked?.[0]).toBe('ABCD'[column]);
    expect(await page.locator('.compare-note').textContent()).toMatch(/lightest that meets "upright", \d+ g\. (\d+ g lighter than [A-D]|No other option)/);
    await page.locator('.compared').scrollIntoViewIfNeeded();
    await shot('edit-compare-1440');
    expect(await axeFindings(page)).toEqual([]);
  });
});

test('a panel pointed out in one view is named and outlined in the others; a figure shows where it was measured with the table’s own figure', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await waitForVerdicts(page);
    const label = page.locator('.mark-panel').first();
    // In the table: the cell of the panel that gives way first.
    const first = page.locator('.differences .panel-name').first();
    await first.focus();
    await expect.poll(() => label.textContent(), SOON).toBe(await first.textContent());
    // On the bag, by keys and by pointer.
    await page.locator('canvas').focus();
    await page.keyboard.press('n');
    await page.keyboard.press('n');
    await expect.poll(() => label.textContent(), SOON).toBe('back');
    expect(await page.locator('.flat-panel').count()).toBe(0);
    const bay = (await page.locator('.bay').nth(3).boundingBox())!;
    await page.mouse.move(bay.x + bay.width / 2 - 10, bay.y + bay.height - 120);
    await expect.poll(() => label.textContent(), SOON).toBe('front');
    await page.mouse.move(5, 400);
    await expect.poll(() => page.locator('.mark-panel').count(), SOON).toBe(0);
    const droop = page.locator('.row-droop .shows');
    await droop.focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.mark-label').count(), SOON).toBe(4);
    expect(await droop.getAttribute('aria-pressed')).toBe('true');
    // The words beside the line give the figure of the table; of a heap, one of many, both are rounded.
    const told = await page.locator('.bay').nth(1).locator('.mark-label').textContent();
    const cell = await page.locator('.row-droop td').nth(1).textContent();
    expect(cell).toMatch(/^about \d/);
    expect(told).toContain(`: ${cell} `);
    await page.waitForTimeout(600);
    await shot('edit-measured-droop');
    await page.locator('.row-heightKept .shows').click();
    await expect.poll(() => page.locator('.mark-label').first().textContent(), SOON).toMatch(/^rim .* high on average, 9 1\/2 in \(240 mm\) as drafted/);
    await page.locator('.row-lean .shows').click();
    await expect.poll(() => page.locator('.mark-label').first().textContent(), SOON).toMatch(/leans about \d+°/);
    await shot('edit-measured-lean');
    expect(await axeFindings(page)).toEqual([]);
    // The same panel in the flat view.
    await page.locator('a.tab[href="#cut"]').click();
    await page.waitForSelector('.flat-panel[data-panel="base"]');
    await page.locator('.flat-panel[data-panel="base"]').focus();
    await expect.poll(() => page.locator('.flat-panel.pointed').getAttribute('data-panel'), SOON).toBe('base');
    await expect.poll(() => label.textContent(), SOON).toBe('base');
    await shot('edit-linked');
    await page.emulateMedia({ forcedColors: 'active' });
    await shot('edit-cut-forced');
    await page.locator('a.tab[href="#stand"]').click();
    await page.waitForTimeout(600);
    await shot('edit-stand-forced');
  });
});
