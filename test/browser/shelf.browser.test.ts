/** "What would it need?" and "What do I have?" by pointer and keyboard, on small meshes: words, units, stopping, what is kept, and an option made of a point of the plot. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, kept, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

const LONG = { timeout: 150_000, interval: 300 };
/** The demo tote in canvas alone: it slumps, and one option is enough to ask about. */
function canvasTote(): Buffer {
  const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  const option = Object.keys(demo.options)[0]!;
  return Buffer.from(JSON.stringify({ ...demo, name: 'Canvas tote', options: { [option]: demo.options[option] } }));
}
const open = async (page: Page): Promise<void> => {
  await page.locator('input[type=file]').first().setInputFiles({ name: 'tote.bag.json', mimeType: 'application/json', buffer: canvasTote() });
  await expect.poll(() => page.locator('.bag-name').textContent(), SOON).toBe('Canvas tote');
};
const file = (name: string, value: unknown) => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(typeof value === 'string' ? value : JSON.stringify(value)),
});
const SMALL = {
  shelf: 1,
  name: 'Small shelf',
  currency: 'EUR',
  items: {
    duck: { material: 'canvas12', use: 'shell', width: '1500 mm', price: { 'per metre': 14 }, stock: '0.1 m' },
    board: { material: 'nwboard', use: 'sewn in', sheet: ['500 mm', '700 mm'], price: { 'per sheet': 4 } },
    cotton: { material: 'quilting', use: 'lining', width: '1100 mm', price: { 'per metre': 8 } },
  },
};

test('beside a verdict that misses the maker asks what it would need: stopped, asked again, told in millimetres, then in inches alone', async () => {
  await withPage({ quick: true, units: 'metric' }, async ({ page, shot }) => {
    await open(page);
    const ask = page.getByRole('button', { name: 'What would it need?' });
    await ask.waitFor(LONG);
    await ask.focus();
    await page.keyboard.press('Enter');
    const sheet = page.locator('dialog.need-sheet');
    await sheet.getByText(/Trying a stack of \d+ mm/).waitFor();
    await sheet.getByRole('button', { name: 'Stop' }).click();
    expect(await sheet.locator('.need-status').textContent()).toBe('Stopped. Nothing is said.');
    // A quick mesh, and each part by itself.
    await sheet.getByText('Mesh', { exact: true }).click();
    await sheet.locator('[data-key="need-mesh"]').fill('nothing');
    expect(await sheet.locator('.field-fault').textContent()).toContain('from 5 mm to 100 mm');
    await sheet.locator('[data-key="need-mesh"]').fill('60 mm');
    await sheet.getByRole('button', { name: 'Ask again' }).click();
    await sheet.locator('.need-answer').waitFor(LONG);
    const lead = (await sheet.locator('.need-lead').first().textContent()) ?? '';
    const [, needs, has] = /^It needs a strip overhang of (\d+) mm\. It has (\d+) mm\.$/.exec(lead)?.map(Number) ?? [];
    expect(has).toBe(53);
    expect(needs).toBeGreaterThan(90);
    expect(await sheet.getByText(/N·m/).first().isVisible()).toBe(false);
    expect((await axeFindings(page)).filter((f) => /serious|critical/.test(f))).toEqual([]);
    await shot('need-1440');
    await page.setViewportSize({ width: 390, height: 800 });
    await shot('need-390');
    expect(await sheet.evaluate((d) => d.scrollWidth - d.clientWidth)).toBeLessThanOrEqual(0);
    await page.keyboard.press('Escape');
    expect(await sheet.count()).toBe(0);
    await page.setViewportSize({ width: 1440, height: 900 });
    // The same question is remembered, and told in the unit that is chosen now.
    await page.locator('.segmented label', { hasText: /^in$/ }).click();
    await ask.click();
    await sheet.locator('.need-answer').waitFor(SOON);
    expect(await sheet.locator('.need-status').textContent()).toBe('Asked before.');
    expect(await sheet.locator('.need-parts').textContent()).not.toMatch(/\d mm/);
  });
});

test('a shelf file opened on the page goes to the shelf, and the bag stays', async () => {
  await withPage({ quick: true, units: 'metric' }, async ({ page }) => {
    await open(page);
    await page.locator('input[type=file]').first().setInputFiles(file('small.shelf.json', SMALL));
    await expect.poll(() => page.locator('.shelf-items li').count(), SOON).toBe(3);
    expect(new URL(page.url()).hash).toBe('#shelf');
    expect(await page.locator('.bag-name').textContent()).toBe('Canvas tote');
  });
});

test('the shelf: a file with faults changes nothing, a material is added by keyboard, all of it is there at the next visit, and a point of the plot becomes an option', async () => {
  await withPage({ quick: true, units: 'metric', path: '#shelf' }, async ({ page, shot }) => {
    await open(page);
    const items = page.locator('.shelf-items li');
    const add = page.locator('.shelf-list input[type=file]');
    await add.setInputFiles(file('bad.shelf.json', { ...SMALL, items: { ...SMALL.items, duck: { ...SMALL.items.duck, width: undefined } } }));
    await expect.poll(() => page.locator('.sheet-faults').textContent(), SOON).toContain('items.duck.price');
    expect(await items.count()).toBe(0);
    await add.setInputFiles(file('small.shelf.json', SMALL));
    await expect.poll(() => items.count(), SOON).toBe(3);
    await add.setInputFiles(file('small.shelf.json', SMALL));
    await page.getByText('3 were there already').waitFor();
    // By keyboard: faults beside their fields, then kept.
    await page.getByRole('button', { name: 'Add a material' }).focus();
    await page.keyboard.press('Enter');
    await page.keyboard.type('heavy fusible');
    await page.locator('[data-key="shelf-material"]').selectOption('fus_heavy');
    await page.locator('[data-use="shell"]').press('Space');
    await page.locator('[data-use="fused"]').press('Space');
    await page.locator('[data-key="shelf-price"]').fill('five');
    await page.locator('[data-key="shelf-price"]').press('Enter');
    expect(await page.locator('.shelf-form [aria-invalid="true"]').count()).toBe(2);
    expect(await page.locator('.shelf-form .field-fault:visible').allTextContents()).toEqual([
      expect.stringContaining('width'),
      expect.stringContaining('number'),
    ]);
    await page.locator('[data-key="shelf-price"]').fill('5');
    await page.locator('[data-key="shelf-width"]').fill('900 mm');
    await page.locator('[data-key="shelf-width"]').press('Enter');
    await expect.poll(() => items.count(), SOON).toBe(4);
    await page.reload();
    await expect.poll(() => items.count(), SOON).toBe(4);
    await page.getByRole('button', { name: 'Take off: heavy fusible' }).click();
    await expect.poll(() => items.count(), SOON).toBe(3);
    await page.getByRole('button', { name: 'Put it back' }).click();
    await expect.poll(() => items.count(), SOON).toBe(4);
    await page.getByRole('button', { name: 'Take off: heavy fusible' }).click();
    expect((await axeFindings(page)).filter((f) => /serious|critical/.test(f))).toEqual([]);
    // Three materials, a coarse mesh: few stacks, each soon settled.
    await page.locator('.shelf-choose summary').click();
    await page.locator('[data-key="choose-mesh"]').fill('60 mm');
    await page.getByRole('button', { name: 'Find what does it' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page
      .getByText(/^Stopped\./)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.locator('.found-table').waitFor(LONG);
    expect(await page.locator('.found-table tbody tr').first().textContent()).toContain('more than you have');
    // What was settled is there at the next visit: the same answer, and nothing is settled for it again.
    const before = await page.locator('.found-table').textContent();
    await page.reload();
    await page.locator('.shelf-choose summary').click();
    await page.locator('[data-key="choose-mesh"]').fill('60 mm');
    await page.getByRole('button', { name: 'Find what does it' }).click();
    await page.locator('.found-table').waitFor(SOON);
    expect(await page.locator('.found-table').textContent()).toBe(before);
    const kept3 = await page.evaluate(async () => {
      const came = <T>(request: IDBRequest<T>): Promise<T> => new Promise((resolve) => (request.onsuccess = () => resolve(request.result)));
      const store = (await came(indexedDB.open('slumpline'))).transaction('shelf').objectStore('shelf');
      return ((await came(store.get('settled stacks'))) as { list: unknown[] }).list.length;
    });
    expect(kept3).toBeGreaterThanOrEqual(3);
    const marks = page.locator('.found-plot [role=button]');
    expect(await marks.count()).toBeGreaterThan(1);
    expect((await axeFindings(page)).filter((f) => /serious|critical/.test(f))).toEqual([]);
    await shot('shelf-1440');
    await page.setViewportSize({ width: 390, height: 800 });
    await shot('shelf-390');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await page.setViewportSize({ width: 1440, height: 900 });
    await marks.last().focus();
    await page.keyboard.press('Enter');
    await page.getByText('It is option B now.').waitFor();
    await marks.first().click();
    await page.getByText('It is option C now.').waitFor();
    expect(Object.keys((await kept(page)).options)).toHaveLength(3);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => Object.keys((await kept(page)).options).length, SOON).toBe(2);
  });
});

test('a trim is put on the shelf: what it is says how it is sold, its size and stock are told in the list, and it can be changed', async () => {
  await withPage({ quick: true, units: 'metric', path: '#shelf' }, async ({ page, shot }) => {
    const field = (key: string) => page.locator(`[data-key="shelf-${key}"]`);
    await page.getByRole('button', { name: 'Add a material' }).click();
    await field('id').fill('closing magnet');
    await field('material').selectOption('magnet');
    expect(await page.locator('.shelf-uses').isVisible()).toBe(false);
    expect(await field('width').isVisible()).toBe(false);
    await field('size').fill('18');
    await field('price').fill('0,90');
    await field('stock').fill('2.5 m');
    await page.getByRole('button', { name: 'Keep it' }).click();
    expect(await page.locator('.shelf-form .field-fault:visible').allTextContents()).toEqual([
      expect.stringContaining('unit'),
      expect.stringContaining('pieces'),
    ]);
    await shot('shelf-trim-1440');
    await field('size').fill('18 mm');
    await field('stock').fill('6 pieces');
    await page.getByRole('button', { name: 'Keep it' }).click();
    const item = page.locator('[data-item="closing magnet"]');
    await item.waitFor();
    expect(await item.locator('.shelf-about > span').allTextContents()).toEqual(['magnet', 'trim', 'size 18 mm, 0.9 a piece, 6 pieces there']);
    await page.getByRole('button', { name: 'Change: closing magnet' }).click();
    await field('material').selectOption('thread');
    expect(await field('size').isVisible()).toBe(false);
    await field('reel').fill('1000 m');
    await field('stock').fill('2 reels');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await expect
      .poll(() => item.locator('.shelf-about > span').allTextContents(), SOON)
      .toEqual(['thread', 'trim', '0.9 a reel, reels of 1000 m, 2 reels there']);
    // Back to what panels are cut from: its fields are there again.
    await page.getByRole('button', { name: 'Change: closing magnet' }).click();
    await field('material').selectOption('canvas12');
    expect(await page.locator('.shelf-uses').isVisible()).toBe(true);
    expect(await field('width').isVisible()).toBe(true);
    await page.setViewportSize({ width: 390, height: 800 });
    await shot('shelf-trim-390');
    expect((await axeFindings(page)).filter((f) => /serious|critical/.test(f))).toEqual([]);
  });
});

test('a database of the version before keeps its bag, and takes a shelf', async () => {
  await withPage({ quick: true }, async ({ page }) => {
    await page.waitForSelector('.verdict-word');
    await page.evaluate(async () => {
      const came = <T>(request: IDBRequest<T>): Promise<T> =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      await came(indexedDB.deleteDatabase('slumpline'));
      const asked = indexedDB.open('slumpline', 1);
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore('results', { keyPath: 'key' }).createIndex('used', 'used');
        asked.result.createObjectStore('bags', { keyPath: 'id' });
      };
      const old = await came(asked);
      const bag = { slumpline: 1, name: 'Old bag', panels: { front: { rectangle: { width: '100 mm', height: '80 mm' } } } };
      await came(
        old
          .transaction('bags', 'readwrite')
          .objectStore('bags')
          .put({ id: 'old', name: 'Old bag', text: JSON.stringify(bag), changed: 1 }),
      );
      old.close();
    });
    await page.reload();
    await page.getByRole('button', { name: 'Your bags' }).click();
    await page.locator('[data-bag="Old bag"]').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: 'What do I have?' }).click();
    await page.getByRole('button', { name: 'Begin with an example' }).click();
    await expect.poll(() => page.locator('.shelf-items li').count(), SOON).toBe(13);
    await page.reload();
    await expect.poll(() => page.locator('.shelf-items li').count(), SOON).toBe(13);
  });
});
