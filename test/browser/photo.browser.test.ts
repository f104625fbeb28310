import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { exactStrip } from '../swatch/photo/synthetic.ts';
import { fill, key } from './bench-tools.ts';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

type Place = readonly [number, number];
const [WIDTH, HEIGHT] = [1600, 1200];
/** A camera 60 cm away, 15 degrees round to the side. Plane: m, x out from the edge, y down. */
function seen([x, y]: Place): Place {
  const [turn, away, focal] = [(15 * Math.PI) / 180, 0.6, 2600];
  const z = away + (x - 0.01) * Math.sin(turn);
  return [760 + (focal * (x - 0.01) * Math.cos(turn)) / z, 480 + (focal * (y - 0.02)) / z];
}
const LENGTH = 0.1;
const LOAD = 14;
/** c = L K^(-1/3), m. */
const TRUE = LENGTH / Math.cbrt(LOAD);
const strip = exactStrip(LOAD, 0.01);
const along = (s: number): Place => {
  const [x, y] = strip(s);
  return [LENGTH * x, LENGTH * y];
};
const CARD: readonly Place[] = [
  [-0.1056, -0.05398],
  [-0.02, -0.05398],
  [-0.02, 0],
  [-0.1056, 0],
];
/** Where a hand clicks: each of them a few pixels off. */
const off = ([x, y]: Place, i: number): Place => [x + ((i * 5) % 7) - 3, y + ((i * 3) % 5) - 2];
const CLICKS: readonly Place[] = [
  ...CARD.map(seen).map(off),
  seen([0, 0]),
  ...Array.from({ length: 8 }, (_, i) => off(seen(along((i + 1) / 9)), i)),
  seen(along(1)),
];

/** Draws wall, table, card and strip, the strip 1.2 mm thick with its upper side on the exact line; as a file of a type. */
async function picture(page: Page, type: 'image/png' | 'image/jpeg', size: Place = [WIDTH, HEIGHT]): Promise<Buffer> {
  const upper = Array.from({ length: 101 }, (_, i) => along(i / 100));
  const lower = upper.map(([x, y], i): Place => {
    const [a, b] = [upper[Math.max(0, i - 1)]!, upper[Math.min(100, i + 1)]!];
    const d = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return [x - (0.0012 * (b[1] - a[1])) / d, y + (0.0012 * (b[0] - a[0])) / d];
  });
  const shapes = [
    {
      fill: '#6b4a33',
      places: [
        [-0.3, 0.0012],
        [0, 0.0012],
        [0, 0.02],
        [-0.3, 0.02],
      ] as Place[],
    },
    { fill: '#2f5f96', places: CARD },
    { fill: '#37322c', places: [[-0.12, 0] as Place, ...upper, ...lower.reverse(), [-0.12, 0.0012] as Place] },
  ].map((s) => ({ fill: s.fill, places: s.places.map(seen) }));
  const url = await page.evaluate(
    ({ shapes, type, size }) => {
      const canvas = document.createElement('canvas');
      [canvas.width, canvas.height] = [size[0]!, size[1]!];
      const context = canvas.getContext('2d')!;
      context.fillStyle = '#d9d5cc';
      context.fillRect(0, 0, canvas.width, canvas.height);
      for (const { fill, places } of shapes) {
        context.fillStyle = fill;
        context.beginPath();
        for (const [x, y] of places) context.lineTo(x!, y!);
        context.fill();
      }
      return canvas.toDataURL(type);
    },
    { shapes, type, size },
  );
  return Buffer.from(url.slice(url.indexOf(',') + 1), 'base64');
}

const give = (page: Page, name: string, mimeType: string, buffer: Buffer): Promise<void> =>
  page.locator('.photo-sheet input[type=file]').setInputFiles({ name, mimeType, buffer });

async function openSheet(page: Page): Promise<void> {
  await page.locator('a.tab[href="#swatch"]').click();
  await page.getByRole('radio', { name: 'My swatch' }).check();
  await page.getByRole('radio', { name: 'photograph' }).check();
  await page.getByRole('button', { name: 'Load or take a picture' }).click();
  await page.waitForSelector('.photo-sheet[open]');
}

async function clickAll(page: Page, places: readonly Place[]): Promise<void> {
  for (const [x, y] of places) {
    const box = (await page.locator('.photo-board').boundingBox())!;
    await page.mouse.click(box.x + (x / WIDTH) * box.width, box.y + (y / HEIGHT) * box.height);
  }
}

const shownLength = async (page: Page): Promise<number> => Number.parseFloat((await page.locator('.photo-result strong').first().textContent())!);

test('a picture drawn 15 degrees askew, 14 clicks up to 4 pixels off: bending length within 2 %, kept twice it makes a material', async () => {
  await withPage({ quick: true, width: 1440, height: 900 }, async ({ page, shot }) => {
    await openSheet(page);
    await give(page, 'strip.png', 'image/png', await picture(page, 'image/png'));
    await expect.poll(() => page.locator('.photo-note').textContent(), SOON).toBe('Picture of 1600 by 1200 pixels.');
    await clickAll(page, CLICKS.slice(0, 3));
    await shot('photo-marking-1440');
    expect(await page.locator('.photo-next').textContent()).toContain('card corner 4');
    await clickAll(page, CLICKS.slice(3));
    await page.waitForSelector('.photo-result strong');
    const c = await shownLength(page);
    console.log(`bending length ${c} mm, drawn ${(TRUE * 1000).toFixed(2)} mm`);
    expect(Math.abs(c / 1000 / TRUE - 1)).toBeLessThan(0.02);
    expect(await page.locator('.photo-off').count()).toBe(9);
    await shot('photo-read-1440');
    // A measured length has its say: the true one leaves the reading true, nonsense is told beside its field and nothing can be kept.
    const hangs = page.locator('.photo-sheet [data-key="photo hanging"]');
    await hangs.fill('as long as my hand');
    expect(await page.locator('.photo-sheet .field-fault:visible').allTextContents()).toEqual([expect.stringContaining('Expected')]);
    expect(await page.getByRole('button', { name: 'Keep this reading' }).isDisabled()).toBe(true);
    await hangs.fill(`${(LENGTH * 1000).toFixed(1)} mm`);
    await expect.poll(async () => Math.abs((await shownLength(page)) / 1000 / TRUE - 1), SOON).toBeLessThan(0.02);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Keep this reading' }).click();
    expect(await page.locator('.own-photos li').count()).toBe(1);
    await page.getByRole('button', { name: 'Load or take a picture' }).click();
    await give(page, 'strip.png', 'image/png', await picture(page, 'image/png'));
    await page.waitForSelector('.photo-mark');
    await clickAll(page, CLICKS);
    await page.locator('.photo-sheet').getByRole('radio', { name: 'crosswise' }).check();
    await page.getByRole('button', { name: 'Keep this reading' }).click();
    await fill(page, { name: 'Pictured', weight: '31', pieceLength: '300', pieceWidth: '300', thickness: '0.7' });
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.waitForSelector('[data-row=D11]', { state: 'attached' });
    const D11 = Number.parseFloat((await page.locator('[data-row=D11] td').nth(1).textContent())!);
    const want = (0.031 / 0.09) * 9.80665 * TRUE ** 3 * 1e6;
    console.log(`D11 ${D11} uN.m, w c^3 ${want}`);
    expect(Math.abs(D11 / want - 1)).toBeLessThan(0.06);
    await shot('photo-material-1440');
    expect(await key(page, 'own thickness').inputValue()).toBe('0.7');
  });
});

test('by keys alone at 820 px: Tab goes from mark to mark, arrows move one pixel, with Shift ten, Enter snaps and goes on; each is told', async () => {
  await withPage({ quick: true, width: 820, height: 1180 }, async ({ page, shot }) => {
    await openSheet(page);
    await give(page, 'strip.png', 'image/png', await picture(page, 'image/png'));
    await page.waitForSelector('.photo-mark');
    await page.locator('[data-mark="card 1"]').focus();
    const at = async (): Promise<string> => (await page.evaluate(() => document.activeElement?.getAttribute('data-mark'))) ?? '';
    const placeOf = async (name: string): Promise<number[]> =>
      [...((await page.locator(`[data-mark="${name}"]`).getAttribute('aria-label')) ?? '').matchAll(/(\d+) (?:across|down)/g)].map((m) => Number(m[1]));
    expect(await page.locator('[data-mark="card 1"]').getAttribute('aria-label')).toContain('not yet set');
    await page.keyboard.press('ArrowRight');
    const [x0, y0] = await placeOf('card 1');
    await page.keyboard.press('Shift+ArrowDown');
    expect(await placeOf('card 1')).toEqual([x0, y0! + 10]);
    expect(await page.locator('.photo-sheet [aria-live]').textContent()).toContain('card corner 1');
    const keys = ['card 1', 'card 2', 'card 3', 'card 4', 'edge 1', ...Array.from({ length: 8 }, (_, i) => `strip ${i + 1}`), 'tip'];
    for (const [i, name] of keys.entries()) {
      expect(await at()).toBe(name);
      await page.keyboard.press('ArrowLeft');
      const [x, y] = await placeOf(name);
      const go = async (by: number, less: string, more: string): Promise<void> => {
        for (let k = 0; k < Math.floor(Math.abs(by) / 10); k++) await page.keyboard.press(`Shift+${by < 0 ? less : more}`);
        for (let k = 0; k < Math.abs(by) % 10; k++) await page.keyboard.press(by < 0 ? less : more);
      };
      await go(Math.round(CLICKS[i]![0]) - x!, 'ArrowLeft', 'ArrowRight');
      await go(Math.round(CLICKS[i]![1]) - y!, 'ArrowUp', 'ArrowDown');
      await page.keyboard.press('Enter');
    }
    await page.waitForSelector('.photo-result strong');
    const c = await shownLength(page);
    console.log(`by keys ${c} mm, drawn ${(TRUE * 1000).toFixed(2)} mm`);
    expect(Math.abs(c / 1000 / TRUE - 1)).toBeLessThan(0.02);
    await shot('photo-keys-820');
    expect(await axeFindings(page)).toEqual([]);
  });
}, 240_000);

test('a picture turned by EXIF is turned upright, a huge one scaled down, what is no picture is told; corners out of order are told; at 390 px nothing is cut off', async () => {
  await withPage({ quick: true, width: 390, height: 844 }, async ({ page, shot }) => {
    await openSheet(page);
    await give(page, 'notes.png', 'image/png', Buffer.from('this is no picture'));
    await expect.poll(() => page.locator('.photo-note').textContent(), SOON).toContain('not a picture');
    const jpeg = await picture(page, 'image/jpeg', [1200, 800]);
    // EXIF with orientation 6: held upright, stored lying. Big-endian TIFF with one entry. Source: Exif 2.3, 4.6 (from memory).
    const tiff = Buffer.from([0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0]);
    const app = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
    const turned = Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xe1, (app.length + 2) >> 8, (app.length + 2) & 255]), app, jpeg.subarray(2)]);
    await give(page, 'turned.jpg', 'image/jpeg', turned);
    await expect.poll(() => page.locator('.photo-note').textContent(), SOON).toBe('Picture of 800 by 1200 pixels.');
    await give(page, 'huge.png', 'image/png', await picture(page, 'image/png', [6000, 4500]));
    await expect.poll(() => page.locator('.photo-note').textContent(), SOON).toBe('Picture of 6000 by 4500 pixels, scaled down to 3000 by 2250.');
    await give(page, 'strip.png', 'image/png', await picture(page, 'image/png'));
    await expect.poll(() => page.locator('.photo-note').textContent(), SOON).toBe('Picture of 1600 by 1200 pixels.');
    const [a, b, c, d] = CLICKS;
    await clickAll(page, [d!, c!, b!, a!, ...CLICKS.slice(4)]);
    await expect.poll(() => page.locator('.photo-faults').textContent(), SOON).toContain('turned over');
    await shot('photo-fault-390');
    expect(await page.evaluate(() => document.querySelector('.photo-sheet')!.scrollWidth <= document.querySelector('.photo-sheet')!.clientWidth)).toBe(true);
    expect(await axeFindings(page)).toEqual([]);
  });
});
