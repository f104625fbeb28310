import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, waitForVerdicts, withPage } from './tools.ts';

afterAll(stopBrowser);

const field = (page: Page, key: string) => page.locator(`[data-key="${key}"]`);
const kept = (page: Page): Promise<{ straps: { handle: { from: Record<string, string>; length: string } }; stances: { hung: { load?: string } } }> =>
  page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? 'null'));

/** The demo tote in one option, with a pair of handles and no stances of its own. */
function strapped(): string {
  const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  const option = 'vegetable-tanned leather';
  return JSON.stringify({
    ...demo,
    name: 'Tote with handles',
    options: { [option]: demo.options[option] },
    stances: undefined,
    stacks: { ...demo.stacks, web: ['web_cotton'] },
    straps: {
      handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] },
    },
  });
}

/** ends: wait for the ends of the band as well, not for its middle alone. */
async function hang(page: Page, ends = true): Promise<void> {
  await page.locator('input[type=file]').setInputFiles({ name: 'handles.bag.json', mimeType: 'application/json', buffer: Buffer.from(strapped()) });
  await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Tote with handles');
  await page.getByRole('radio', { name: 'hung', exact: true }).check();
  await (ends ? settled(page) : middle(page));
}

/** The new figures are there: stale ones have come and gone. */
async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(500);
  await waitForVerdicts(page);
}

/** Those of the middle of the band are there. */
async function middle(page: Page): Promise<void> {
  await page.waitForTimeout(500);
  await page.waitForFunction(() => document.querySelector('.verdict-word') !== null && document.querySelector('td.stale') === null, null, { timeout: 100_000 });
}

interface Pulls {
  /** N */ readonly weight: number;
  /** degrees */ readonly tilt: number;
  /** Each anchor: its pull, N, and its leg's angle from the plumb line, degrees. */ readonly anchors: readonly {
    readonly size: number;
    readonly leg: number;
  }[];
}

async function pulls(page: Page): Promise<Pulls> {
  // Mechanics' figures stand in the fold for the engineer.
  const first = (await page.locator('.row-forces .pulls > li').first().textContent()) ?? '';
  const lines = await page.locator('.row-forces .pulls ul li').allTextContents();
  return {
    weight: Number(/([\d.]+) N\b[^;]* in all/.exec(first)?.[1]),
    // Under half a degree it is told as level.
    tilt: /hangs level/.test(first) ? 0 : Number(/hangs ([\d.]+) ?(?:deg|°)/.exec(first)?.[1]),
    anchors: lines.map((l) => ({ size: Number(/: ([\d.]+) N/.exec(l)?.[1]), leg: Number(/strap ([\d.]+)° off vertical/.exec(l)?.[1]) })),
  };
}

/** Newtons as the page shows them: the pounds that weigh as much. */
const pounds = (newtons: number): number => Number((newtons / 9.80665 / 0.45359237).toFixed(1));

const upright = (p: Pulls): number => p.anchors.reduce((sum, a) => sum + a.size * Math.cos((a.leg * Math.PI) / 180), 0);

test('a hung tote of 2 kg contents: 4 anchors carry its weight within 5 %; an anchor typed 40 mm inward changes their pulls, and an undo puts them back', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await hang(page, false);
    await shot('hang-empty-1440');
    await field(page, 'load').fill('2');
    await page.keyboard.press('Enter');
    await settled(page);
    expect((await kept(page)).stances.hung.load).toBe('2 kg');
    const before = await pulls(page);
    expect(before.anchors.length).toBe(4);
    expect(before.weight).toBeGreaterThan(2 * 9.8);
    // Statics: the anchors carry everything but the straps above them.
    expect(Math.abs(upright(before) / before.weight - 1)).toBeLessThan(0.05);
    expect(before.tilt).toBeLessThan(2);
    expect(await page.locator('.row-tilt td').textContent()).toMatch(/^\d+(\.\d)?°$/);
    expect(await page.locator('.cautions li').count()).toBe(2);
    // The comparison has the columns of a hung bag, and not those of one that stands; its largest pull is that of the list.
    const heads = await page.locator('.differences thead th:visible').allTextContents();
    expect(heads.join()).toContain('Base sag');
    expect(heads.join()).not.toContain('Height kept');
    const largest = (await page.locator('.differences tbody tr td:visible').allTextContents()).at(-2);
    expect(largest).toBe(`${Math.max(...before.anchors.map((a) => pounds(a.size))).toFixed(1)} lb`);
    // The maps of a hung bag: the largest place in words.
    for (const [shade, expected] of [
      ['strain', /^largest [\d.]+ % - \w+, .+/],
      ['seam force', /^largest [\d.]+ N\/m - seam from .+ to .+, /],
    ] as const) {
      await page.getByRole('radio', { name: shade, exact: true }).check();
      await expect.poll(() => page.locator('.heat-label').first().textContent(), SOON).toMatch(expected);
      await page.locator('.mat').evaluate((m) => m.scrollIntoView());
      await page.waitForTimeout(700);
      await shot(`hang-map-${shade.replace(' ', '-')}-1440`);
    }
    await page.getByRole('radio', { name: 'cloth', exact: true }).check();
    // The heading of the row draws the pulls on the bag: 4 arrows with the figures of the list, and the length they are drawn to.
    await page.locator('.row-pulls .shows').click();
    await expect.poll(() => page.locator('.mark-arrow').count(), SOON).toBe(4);
    const told = await page.locator('.mark-pull').allTextContents();
    expect(told.map((t) => Number.parseFloat(t)).sort()).toEqual(before.anchors.map((a) => pounds(a.size)).sort());
    expect(await page.locator('.mark-label', { hasText: 'an arrow' }).textContent()).toMatch(/4 in: [125]\.0 lb/);
    await page.waitForTimeout(600);
    await shot('hang-1440');
    const side = field(page, 'straps.handle.from.from left');
    await side.fill('130');
    await page.keyboard.press('Enter');
    await middle(page);
    expect((await kept(page)).straps.handle.from['from left']).toBe('130 mm');
    const after = await pulls(page);
    expect(after.weight).toBeCloseTo(before.weight, 1);
    // Patches nearer to each other: steeper legs, so that each pulls less for the same weight.
    for (let i = 0; i < 4; i++) expect(after.anchors[i].leg).toBeLessThan(before.anchors[i].leg);
    expect(Math.abs(upright(after) / after.weight - 1)).toBeLessThan(0.05);
    // Undone while the ends of the band still settle: the middle of what was undone must not stay.
    await page.locator('.tape').click({ force: true });
    await page.keyboard.press('Control+z');
    await expect.poll(() => side.inputValue(), SOON).toBe('90 mm');
    await settled(page);
    expect(await pulls(page)).toEqual(before);
  });
});

test('the fields for straps are there only while the bag hangs, and step by arrow keys: length by 5 mm, load by 0.25 kg', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await hang(page, false);
    // Stopped before the ends of the band are in: the word is of its middle alone, and nothing is said to follow.
    expect(await page.locator('.row-verdict .stale-note').textContent()).toContain('the soft and stiff bolts follow');
    await page.getByRole('button', { name: 'Stop A' }).click();
    await expect
      .poll(() => page.locator('.row-verdict .stale-note').textContent(), SOON)
      .toBe('typical bolt only: the soft and stiff bolts were stopped. Settle again');
    const length = field(page, 'straps.handle.length');
    await length.focus();
    await page.keyboard.press('ArrowUp');
    expect((await kept(page)).straps.handle.length).toBe('565 mm');
    await field(page, 'load').focus();
    await page.keyboard.press('ArrowUp');
    expect((await kept(page)).stances.hung.load).toBe('0.25 kg');
    await page.keyboard.press('ArrowDown');
    expect((await kept(page)).stances.hung.load).toBeUndefined();
    await length.fill('50 mm');
    await page.keyboard.press('Enter');
    await expect.poll(() => length.getAttribute('aria-invalid'), SOON).toBe('true');
    expect((await kept(page)).straps.handle.length).toBe('565 mm');
    await page.getByRole('radio', { name: 'standing', exact: true }).check();
    await expect.poll(() => length.isVisible(), SOON).toBe(false);
    // What was found of the hung bag stays, marked as old, until the standing one has settled.
    await middle(page);
    expect(await page.locator('.row-pulls').isVisible()).toBe(false);
  });
});

test('the fall of a hung bag plays and ends in the same figures as settling it; taken in hand it keeps its straps in the picture, and put down its figures stay', async () => {
  await withPage({ quick: true, reducedMotion: false, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await hang(page);
    const before = await pulls(page);
    await page.getByRole('button', { name: 'Watch it fall' }).click();
    await page.waitForSelector('.bay-stage button');
    await waitForVerdicts(page);
    expect(await pulls(page)).toEqual(before);
    await page.getByRole('button', { name: 'Pick it up' }).click();
    const frames = (): Promise<number> => page.evaluate(() => Number(document.querySelector<HTMLElement>('.bay.in-hand')?.dataset.frames ?? 0));
    await expect.poll(frames, { timeout: 60_000 }).toBeGreaterThan(5);
    await shot('hung-in-hand-1440');
    await page.getByRole('button', { name: 'Put it down' }).click();
    expect(await pulls(page)).toEqual(before);
  });
});

test('a hung bag’s page has nothing serious in anyone’s way at 390 and 1440 px, and does not scroll sideways', async () => {
  await withPage({ quick: true, width: 390, height: 844, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await page.getByRole('button', { name: 'The bag and its stacks' }).click();
    await hang(page, false);
    for (const [width, height] of [
      [390, 844],
      [1440, 900],
    ] as const) {
      await page.setViewportSize({ width, height });
      await shot(`hang-controls-${width}`);
      await page.locator('.mat-canvas').scrollIntoViewIfNeeded();
      const shows = page.locator('.row-pulls .shows');
      if ((await shows.getAttribute('aria-pressed')) !== 'true') await shows.click();
      await expect.poll(() => page.locator('.mark-arrow').count(), SOON).toBe(4);
      await page.locator('.mat-canvas').scrollIntoViewIfNeeded();
      await page.waitForTimeout(800);
      await shot(`hang-mat-${width}`);
      await page.locator('.row-cautions').scrollIntoViewIfNeeded();
      await shot(`hang-pulls-${width}`);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await axeFindings(page)).toEqual([]);
    }
  });
});
