import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

/** The demo tote in leather alone, with a pair of handles whose ends lie unequally far in. */
function strapped(): Buffer {
  const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  const option = 'vegetable-tanned leather';
  const handle = {
    width: '25 mm',
    length: '560 mm',
    stack: 'web',
    from: { panel: 'front', 'from left': '60 mm' },
    to: { panel: 'front', 'from left': '220 mm' },
    'also on': ['back'],
  };
  const bag = {
    ...demo,
    name: 'Tote with handles',
    options: { [option]: demo.options[option] },
    stances: undefined,
    stacks: { ...demo.stacks, web: ['web_cotton'] },
    straps: { handle },
  };
  return Buffer.from(JSON.stringify(bag));
}

const field = (page: Page, key: string) => page.locator(`[data-key="hang-${key}"]`);
const status = (page: Page) => page.locator('.straps-status').textContent();
const LONG = { timeout: 150_000, interval: 300 };
const keptHandle = (page: Page) =>
  page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? 'null').straps.handle as Record<'from' | 'to', Record<string, string>>);

async function open(page: Page): Promise<void> {
  await page.locator('input[type=file]').setInputFiles({ name: 'handles.bag.json', mimeType: 'application/json', buffer: strapped() });
  await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Tote with handles');
}

/** The card as it went to the printer: words of the frame that was printed. */
async function card(page: Page): Promise<string> {
  await page.waitForSelector('iframe.strap-card', { state: 'attached' });
  return (await page.frameLocator('iframe.strap-card').locator('main').textContent()) ?? '';
}

test('the maker hangs the bag at three distances, reads tilt and pulls, puts the straps where it hangs level, and prints the card; an undo puts them back', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await open(page);
    await page.getByRole('link', { name: 'Where do the straps go?' }).click();
    await field(page, 'from').waitFor();
    await page.getByText('Distances, mesh and stitching').click();
    expect(await page.getByLabel('Strap', { exact: true }).inputValue()).toBe('handle');
    await field(page, 'from').fill('60 mm');
    await field(page, 'to').fill('90 mm');
    await field(page, 'steps').fill('3');
    await field(page, 'mesh').fill('26 mm');
    await field(page, 'load').fill('1 kg');
    await field(page, 'thread').fill('12 N');
    expect(await field(page, 'stitches').getAttribute('aria-invalid')).toBe('true');
    await field(page, 'stitches').fill('7');
    await page.getByRole('button', { name: 'Hang it at each distance' }).click();
    // Rows as they come, and no button that acts on them before all are there.
    await expect.poll(() => page.locator('.straps-table tbody tr').count(), LONG).toBeGreaterThan(0);
    expect(await status(page)).not.toMatch(/^Hung/);
    await expect.poll(() => status(page), LONG).toMatch(/^Hung \d+ times/);
    // What is recommended is told, said in its row and chosen: one thing.
    expect(await page.locator('.straps-level').textContent()).toMatch(/^(Recommended: the anchors|No recommendation:)/);
    const chosenRow = (await page.locator('.straps-table tr.chosen').textContent()) ?? '';
    expect(await page.locator('.straps-table td', { hasText: 'recommended' }).count()).toBe(chosenRow.includes('recommended') ? 1 : 0);
    expect(await page.locator('.straps-readout').textContent()).toContain('Hung with 2.2 lb inside');
    // Pulls in one unit wherever they are read; newtons stand in the engineer's fold alone.
    expect(
      await page
        .locator('.straps-view')
        .evaluate((view) => [...view.querySelectorAll('svg text')].filter((t) => /\d N$| kg\b/.test(t.textContent ?? '')).length),
    ).toBe(0);
    expect(await page.locator('.straps-plot').textContent()).toContain('lb, as a weight');
    expect(await page.locator('.straps-parts svg[role=img]').count()).toBe(2);
    expect(await page.locator('.straps-view').textContent()).not.toContain('nothing inside');
    await page.locator('.straps-level').scrollIntoViewIfNeeded();
    await page.evaluate(() => scrollTo(0, 0));
    await shot('straps-1440');
    const rows = page.locator('.straps-table tbody tr');
    expect(await rows.count()).toBe(4);
    expect(await page.locator('.straps-plot svg[role=img]').count()).toBe(1);
    // Statics: four anchors together carry about the bag's 4.5 N and the 9.8 N in it; the steepest legs a little over a quarter each.
    const told = await page.locator('.straps-readout li').allTextContents();
    const pulls = told.filter((t) => /^(left|right) on (front|back): /.test(t));
    // Each strap's legs, apart from what friction could hold.
    expect(told.filter((t) => /^strap handle.*: up to [\d.]+ N in a leg/.test(t)).length).toBe(2);
    const newtons = pulls.map((p) => Number(/: ([\d.]+) N/.exec(p)?.[1]));
    expect(pulls.length).toBe(4);
    expect(newtons.reduce((a, b) => a + b, 0)).toBeGreaterThan(9.8);
    expect(newtons.reduce((a, b) => a + b, 0)).toBeLessThan(24);
    expect(await page.locator('.straps-readout .caution').count()).toBe(2);
    // The bag as it hangs there, with the same pulls; another distance is another picture.
    const picture = page.locator('.straps-hung svg[role=img]');
    const drawn = (await picture.locator('text').allTextContents()).flatMap((t) => /^([\d.]+) lb$/.exec(t)?.slice(1).map(Number) ?? []);
    expect(drawn.length).toBe(4);
    const pounds = newtons.map((n) => n / 9.80665 / 0.45359237);
    expect(Math.max(...drawn.map((d) => Math.min(...pounds.map((p) => Math.abs(p - d)))))).toBeLessThan(0.06);
    expect(await page.locator('.straps-readout').textContent()).toContain('not a promise');
    expect(await page.locator('.strapping').textContent()).not.toMatch(/\bsafe\b/i);
    const first = await picture.innerHTML();
    await rows.nth(3).locator('input').check();
    expect(await picture.innerHTML()).not.toBe(first);
    // The ends lie 60 and 80 mm in: that both will be the same is said before it is done.
    expect(await page.locator('.straps-view').textContent()).toContain('Both will be the same');
    await page.getByRole('button', { name: 'Print the card' }).click();
    const printed = await card(page);
    expect(printed).toContain('Tote with handles: strap handle');
    expect(printed).toContain('90 mm (3 9/16 in) from the left');
    const [sheet] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the corner template (A4)' }).click()]);
    expect(sheet.suggestedFilename()).toMatch(/corner-a4\.svg$/);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Put the straps there' }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await keptHandle(page)).from['from left'], SOON).toBe('90 mm');
    expect((await keptHandle(page)).to).toEqual({ panel: 'front', 'from right': '90 mm' });
    // The figures are of that very place, so they stay, and the card with them.
    await expect.poll(() => page.locator('.straps-placed').textContent(), SOON).toContain('(90 mm) from the sides');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Put the straps there');
    expect(await page.locator('.strapping .stale-note').isVisible()).toBe(false);
    await page.locator('iframe.strap-card').evaluate((frame) => frame.remove());
    await page.getByRole('button', { name: 'Print the card' }).click();
    expect(await card(page)).toContain('90 mm (3 9/16 in) from the left');
    await page.locator('.straps-actions').scrollIntoViewIfNeeded();
    await shot('straps-placed-1440');
    // What else is changed makes the figures old, and the note is in view wherever the page is scrolled to.
    await field(page, 'load').fill('2 kg');
    await expect.poll(() => page.locator('.strapping .stale-note').isVisible(), SOON).toBe(true);
    const note = await page.locator('.strapping .stale-note').boundingBox();
    expect(note!.y >= 0 && note!.y < 900).toBe(true);
    await field(page, 'load').fill('1 kg');
    await expect.poll(() => page.locator('.strapping .stale-note').isVisible(), SOON).toBe(false);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await keptHandle(page)).from['from left'], SOON).toBe('60 mm');
    await expect.poll(() => page.locator('.straps-placed').textContent(), SOON).toBe('');
    expect(await page.locator('.strapping .stale-note').isVisible()).toBe(false);
    // The last column is whole, in the chosen row as well; "as drawn" has its distances; the plot is in the page's units.
    expect(await page.locator('.straps-scroll').evaluate((box) => box.scrollWidth <= box.clientWidth)).toBe(true);
    expect(await rows.first().textContent()).toMatch(/as drawn, 2 3\/8 in \(60 mm\) and 3 1\/8 in \(80 mm\)/);
    expect(await page.locator('.straps-level').textContent()).toContain('As drawn,');
    expect(await page.locator('.straps-plot').textContent()).toContain('from the side, in');
    await page.setViewportSize({ width: 390, height: 800 });
    await page.locator('.straps-hung').scrollIntoViewIfNeeded();
    await shot('straps-390');
    await page.locator('.straps-scroll').scrollIntoViewIfNeeded();
    await page.waitForTimeout(300);
    await shot('straps-390-table');
    await page.locator('.straps-plot').scrollIntoViewIfNeeded();
    await page.waitForTimeout(300);
    await shot('straps-390-plot');
    for (const box of ['.straps-scroll', '.straps-plot']) {
      const { x, width } = (await page.locator(box).boundingBox())!;
      expect(x + width).toBeLessThanOrEqual(390);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
  });
}, 240_000);

test('by keyboard alone: to the screen, three fields, Enter, arrow keys to another distance, the card', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await open(page);
    await page.getByRole('link', { name: 'Where do the straps go?' }).focus();
    await page.keyboard.press('Enter');
    await field(page, 'from').waitFor();
    await page.getByText('Distances, mesh and stitching').click();
    const type = async (key: string, value: string): Promise<void> => {
      await field(page, key).focus();
      await page.keyboard.press('Control+A');
      await page.keyboard.type(value);
    };
    await type('from', '70 mm');
    await type('to', '90 mm');
    await type('mesh', '28 mm');
    await type('steps', '2');
    await page.keyboard.press('Enter');
    await expect.poll(() => status(page), LONG).toMatch(/^Hung \d+ times/);
    const chosen = () => page.locator('.straps-readout h3').textContent();
    await page.locator('.straps-table input:checked').focus();
    const before = await chosen();
    await page.keyboard.press('ArrowDown');
    await expect.poll(chosen, SOON).not.toBe(before);
    await page.getByRole('button', { name: 'Print the card' }).focus();
    await page.keyboard.press('Enter');
    expect(await card(page)).toContain('strap handle');
    // On the hung bag as well: two steps of its arrow keys, one change to undo, told in the field and aloud; the figures are then of another place.
    const handle = page.locator('.straps-hung .anchor-handle').first();
    const from = Number.parseFloat((await handle.getAttribute('aria-valuenow'))!);
    await handle.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.locator('.straps-hung .anchor-told').textContent(), SOON).toMatch(/^Anchors .* from the sides\.$/);
    await expect.poll(() => page.locator('.strapping .stale-note').isVisible(), SOON).toBe(true);
    const to = Number.parseFloat((await handle.getAttribute('aria-valuenow'))!);
    expect(Math.abs(to - from - 2 * (25.4 / 16))).toBeLessThan(1.6);
    const { from: left, to: right } = await keptHandle(page);
    expect(left['from left']).toBe(right['from right']);
  });
}, 240_000);

test('anchors are dragged on the drawing, both ends together, stop at the panel with words beside the field, and an undo puts them back; things are picked and stay for a shoulder', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await open(page);
    await page.getByRole('link', { name: 'Where do the straps go?' }).click();
    const handles = page.locator('.straps-drafted .anchor-handle');
    await expect.poll(() => handles.count(), SOON).toBe(2);
    const place = field(page, 'place');
    expect(await place.inputValue()).toMatch(/ and /);
    const box = (await handles.first().boundingBox())!;
    expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(24);
    const by = async (dx: number): Promise<void> => {
      const at = (await handles.first().boundingBox())!;
      await page.mouse.move(at.x + at.width / 2, at.y + at.height / 2);
      await page.mouse.down();
      await page.mouse.move(at.x + at.width / 2 + dx, at.y + at.height / 2, { steps: 4 });
    };
    await by(30);
    // The other end goes with it, as it is dragged.
    const texts = async () => (await handles.evaluateAll((list) => list.map((e) => e.getAttribute('aria-valuetext')!.replace(/ from.*/, '')))) as string[];
    const [a, b] = await texts();
    expect(a).toBe(b);
    await page.mouse.up();
    await expect.poll(async () => (await keptHandle(page)).from['from left'], SOON).toBe(a);
    expect((await keptHandle(page)).to).toEqual({ panel: 'front', 'from right': a });
    await expect.poll(() => place.inputValue(), SOON).toBe(a);
    await by(-600);
    const fault = page.locator('.straps-size .field-fault:visible');
    expect(await fault.textContent()).toContain('would leave its panel');
    await page.keyboard.press('Escape');
    await page.mouse.up();
    await expect.poll(() => fault.count(), SOON).toBe(0);
    expect((await keptHandle(page)).from['from left']).toBe(a);
    await place.fill('1/8 in');
    await place.press('Enter');
    expect(await fault.textContent()).toContain('would leave its panel');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await keptHandle(page)).from['from left'], SOON).toBe('60 mm');
    // Things: what is put in stays when the bag is hung from something else, and can be taken out.
    const inside = page.locator('.straps-things .inside');
    await page.locator('.straps-things').getByRole('button', { name: 'Put in: bottle of water' }).click();
    await page.locator('.straps-things').getByRole('button', { name: 'Put in: book' }).click();
    await field(page, 'load').fill('1 kg');
    await field(page, 'stance').selectOption({ label: 'a shoulder' });
    expect(await inside.locator('li').allTextContents()).toEqual([expect.stringContaining('bottle of water'), expect.stringContaining('book')]);
    expect(await field(page, 'load').inputValue()).toBe('1 kg');
    await field(page, 'slope').fill('60');
    expect(await page.locator('.straps-form .field-fault:visible').textContent()).toContain('45 degrees');
    await field(page, 'slope').fill('20');
    await shot('straps-asked-1440');
    expect(await axeFindings(page)).toEqual([]);
    for (const width of [820, 390]) {
      await page.setViewportSize({ width, height: 900 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
      await shot(`straps-asked-${width}`);
    }
    await inside.getByRole('button', { name: 'Take out: book' }).click();
    expect(await inside.locator('li').count()).toBe(1);
  });
}, 120_000);

test('wrong fields are told each beside its field and nothing is hung; stop keeps the screen; a bag without straps is given handles in one press', async () => {
  await withPage({ quick: true }, async ({ page, shot }) => {
    await page.goto(`${page.url().split('#')[0]}#straps`);
    await expect.poll(() => page.locator('.straps-none').textContent(), SOON).toContain('no straps yet');
    await page.locator('.straps-none img').waitFor();
    await shot('straps-none-1440');
    await page.getByRole('button', { name: 'Sew on two handles' }).last().click();
    await field(page, 'from').waitFor();
    expect(await page.locator('.straps-none').isVisible()).toBe(false);
    await open(page);
    await field(page, 'from').waitFor();
    await page.getByText('Distances, mesh and stitching').click();
    await field(page, 'from').fill('wide');
    await field(page, 'steps').fill('99');
    await page.getByRole('button', { name: 'Hang it at each distance' }).click();
    expect(await page.locator('.straps-form .field-fault:visible').allTextContents()).toEqual([
      'a length such as 80 mm or 3 1/4 in',
      'a whole number from 2 to 15',
    ]);
    expect(await page.locator('.straps-body').getAttribute('data-running')).not.toBe('true');
    await field(page, 'from').fill('60 mm');
    await field(page, 'steps').fill('9');
    await page.getByRole('button', { name: 'Hang it at each distance' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    expect(await status(page)).toContain('Stopped');
  });
}, 120_000);
