import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, kept, SOON, waitForMiddles, withPage } from './tools.ts';

afterAll(stopBrowser);

/** Counts what a hand does: a press, a choice, a field typed and entered. */
class Hand {
  actions = 0;
  constructor(readonly page: Page) {}

  async press(name: string): Promise<void> {
    this.actions++;
    await this.page.getByRole('button', { name, exact: true }).click();
  }

  async type(key: string, value: string): Promise<void> {
    this.actions++;
    await this.page.locator(`[data-key="${key}"]`).fill(value);
    await this.page.keyboard.press('Enter');
  }

  async choose(key: string, label: string): Promise<void> {
    this.actions++;
    await this.page.locator(`[data-key="${key}"]`).selectOption({ label });
  }
}

test('an own structured bag with four options takes 15 actions at most: opened, sized, named, four stacks', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await waitForMiddles(page);
    const hand = new Hand(page);
    await hand.type('parameter W', '320');
    await hand.type('parameter H', '260');
    await hand.type('parameter D', '110');
    // The name is a field once it is pressed.
    await hand.press('Harbour tote');
    hand.actions++;
    await page.keyboard.type('Office tote');
    await page.keyboard.press('Enter');
    // Four stacks of her own, in place of the example's, all panels at once.
    await hand.choose('shell', 'canvas 12 oz');
    for (const [letter, interfacing] of [
      ['B', 'foam stabiliser 5 mm'],
      ['C', 'heavy nonwoven'],
      ['D', 'needled fleece'],
    ]) {
      hand.actions++;
      await page.locator(`.bay-head`, { has: page.locator('strong', { hasText: new RegExp(`^${letter}$`) }) }).click();
      hand.actions++;
      await page.locator('[data-key="Panels/all"]').check();
      const list = page.locator('[data-key="interfacing"]');
      const labels = await list.locator('option').allTextContents();
      const found = labels.find((l) => l.includes(interfacing)) ?? labels[Math.min(labels.length - 1, 2 + 'BCD'.indexOf(letter))];
      await hand.choose('interfacing', found);
    }
    console.log(`own structured bag with four options: ${hand.actions} actions`);
    expect(hand.actions).toBeLessThanOrEqual(15);
    const bag = await kept(page);
    expect(bag.name).toBe('Office tote');
    expect(bag.parameters.W).toBe('320 mm');
    expect(Object.keys(bag.options).length).toBe(4);
    await waitForMiddles(page);
    await page.waitForTimeout(800);
    await shot('own-bag-1440');
    expect(await axeFindings(page)).toEqual([]);
  });
});

test('1.5 kg inside takes one action, a bottle one more; both can be seen and taken out, and handles are sewn on where there are none', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await waitForMiddles(page);
    const hand = new Hand(page);
    await hand.type('load', '1,5');
    expect(hand.actions).toBeLessThanOrEqual(4);
    const bag = async (): Promise<{ straps?: Record<string, { 'also on': string[] }>; stances: Record<string, Record<string, unknown>> }> =>
      (await kept(page)) as unknown as Awaited<ReturnType<typeof bag>>;
    const stance = async (): Promise<Record<string, unknown>> => (await bag()).stances.standing;
    expect((await stance()).load).toBe('1.5 kg');
    await expect.poll(() => page.locator('.looks').textContent(), SOON).toContain('a book, a bottle of water and a purse');
    await hand.press('Put in: bottle of water');
    expect((await stance()).contents).toEqual([{ thing: 'bottle' }]);
    await page.getByRole('button', { name: 'Take out: bottle of water' }).click();
    expect((await stance()).contents).toBeUndefined();
    await hand.press('Sew on two handles');
    expect((await bag()).straps?.handle['also on']).toEqual(['back']);
    expect((await bag()).stances.hung).toMatchObject({ kind: 'hung', from: 'hook', load: '1.5 kg' });
    expect(await page.locator('.cautions li').count()).toBe(2);
    await page.locator('[data-key="It hangs from/shoulder"]').check();
    expect((await bag()).stances.hung.from).toBe('shoulder');
    await shot('own-bag-hung-1440');
    // Everything is one undo away.
    await page.locator('.tape').click({ force: true });
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    expect((await bag()).straps).toBeUndefined();
  });
});

test('an option is copied, named, moved; a fifth stays in the table with its weight and comes on the mat when ticked', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page }) => {
    await waitForMiddles(page);
    const heads = (): Promise<string[]> => page.locator('.bay-head span').allTextContents();
    await page.locator('[data-key="option name"]').fill('Plain one');
    await page.keyboard.press('Enter');
    await expect.poll(heads, SOON).toContain('Plain one');
    // Named anew it is the same cloth: its figures stay, nothing settles.
    expect(await page.locator('td.stale').count()).toBe(0);
    expect(await page.locator('.bay-stage button').count()).toBe(0);
    await page.locator('[data-key="later"]').click();
    await expect.poll(async () => (await heads()).indexOf('Plain one'), SOON).toBe(1);
    await page.locator('[data-key="add"]').click();
    await expect.poll(() => page.locator('.bay-head').count(), SOON).toBe(4);
    const away = page.locator('.away-option');
    await expect.poll(() => away.count(), SOON).toBe(1);
    await expect.poll(() => away.textContent(), { timeout: 60_000 }).toMatch(/\d+ g/);
    const title = (await away.locator('th').textContent()) ?? '';
    await away.locator('input').click();
    await expect.poll(heads, SOON).toContain(title);
    await page.reload();
    await expect.poll(heads, SOON).toContain(title);
  });
});

test('picture and report are out in three actions; every name is text in them, whatever it holds', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    const nasty = '<img src=x onerror="window.__hit=1">';
    await waitForMiddles(page);
    await page.locator('.bag-name').click();
    await page.keyboard.type(nasty);
    await page.keyboard.press('Enter');
    await page.locator('[data-key="option name"]').fill('=1+1 <img src=x onerror=alert(1)>');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe(nasty);
    const hand = new Hand(page);
    await hand.press('Take away');
    const take = async (name: string): Promise<string> => {
      const [download] = await Promise.all([page.waitForEvent('download'), hand.press(name)]);
      return (await download.path())!;
    };
    const picture = readFileSync(await take('Save the picture'));
    const report = readFileSync(await take('Save the report'), 'utf8');
    console.log(`picture and report: ${hand.actions} actions, picture ${picture.length} bytes, report ${report.length}`);
    expect(hand.actions).toBeLessThanOrEqual(3);
    expect(picture.subarray(1, 4).toString()).toBe('PNG');
    expect([picture.readUInt32BE(16), picture.readUInt32BE(20)]).toEqual([1920, 1080]);
    expect(report).not.toContain('<img src=x');
    expect(report).toMatch(/(&lt;|&#60;)img src=x/);
    const figures = readFileSync(await take('Save the figures'), 'utf8');
    expect(figures.split('\r\n').length).toBe(6);
    expect(figures).toContain("\r\n'=1+1 <img src=x onerror=alert(1)>,");
    expect(
      readFileSync(await take('Print the pattern'))
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    await page.getByRole('combobox', { name: 'Paper' }).selectOption('dxf');
    expect(readFileSync(await take('Print the pattern'), 'utf8')).toContain('SECTION');
    await shot('take-away-1440');
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => (window as unknown as { __hit?: number }).__hit)).toBeUndefined();
    expect(await page.locator('img[src="x"]').count()).toBe(0);
  });
});

test('a link holds the whole bag: opened in another window it is the same bag; cut short it is refused in words and nothing is lost', async () => {
  await withPage({ quick: true, expectedErrors: /ERR_ABORTED/ }, async ({ page, url }) => {
    await waitForMiddles(page);
    await page.locator('[data-key="parameter W"]').fill('333');
    await page.keyboard.press('Enter');
    // The browser keeps the bag, and the link is packed, a moment after the press.
    await expect.poll(async () => JSON.stringify(await kept(page)), SOON).toContain('333 mm');
    const before = await kept(page);
    await page.getByRole('button', { name: 'Take away', exact: true }).click();
    await page.evaluate(() => {
      Object.defineProperty(navigator, 'clipboard', { value: { writeText: () => Promise.reject(new Error('refused')) }, configurable: true });
    });
    await page.getByRole('button', { name: 'Copy the link' }).click();
    await expect.poll(() => page.locator('.link-field').inputValue(), SOON).not.toBe('');
    const link = await page.locator('.link-field').inputValue();
    console.log(`link of the example: ${link.length} characters`);
    expect(link.startsWith(`${url}#bag=`)).toBe(true);
    await page.evaluate(() => localStorage.clear());
    const other = await page.context().newPage();
    await other.goto(link);
    await expect.poll(() => other.locator('[data-key="parameter W"]').inputValue(), SOON).toBe('333 mm');
    expect(await kept(other)).toEqual(before);
    expect(other.url()).toBe(`${url}#stand`);
    await other.close();
    const third = await page.context().newPage();
    await third.goto(link.slice(0, -40));
    await expect.poll(() => third.locator('.faults').textContent(), SOON).toContain('this one is cut short or changed');
    expect((await kept(third)).parameters.W).toBe('333 mm');
    await third.close();
  });
});
