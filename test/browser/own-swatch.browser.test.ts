import { readFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { fileCloth, GRAVITY, parseBag, stripRigidity } from '../../src/index.ts';
import { fill, key, rest } from './bench-tools.ts';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

/** Closed forms of the maker's story, worked out here: m = M/(a b), B = m g (O/2)^3 (Peirce 1930), 4/B45 = 1/D11 + 1/D22 + 1/D66 without Poisson's ratio. */
const mass = 0.031 / (0.3 * 0.3);
const rigidityOf = (overhangs: readonly number[]): number => overhangs.reduce((sum, o) => sum + mass * GRAVITY * (o / 2000) ** 3, 0) / overhangs.length;
const [warp, weft, bias] = [rigidityOf([62, 64, 63, 60, 61]), rigidityOf([48, 49]), rigidityOf([52])];
const twist = 1 / (4 / bias - 1 / warp - 1 / weft);

const READINGS = {
  name: 'Blue sailcloth',
  weight: '31',
  pieceLength: '300',
  pieceWidth: '30 cm',
  'warp face': '62, 64, 63',
  'warp back': '60; 61 mm',
  'weft face': '48, 49',
  'bias face': '52',
};

test('a maker types her overhangs: D11 101, D22 48.2, D66 27.2 uN.m as the closed forms say; used in the bag and still there after loading again', async () => {
  // Loading the page a second time breaks off what the first was still fetching.
  await withPage({ quick: true, width: 1440, height: 900, expectedErrors: /ERR_ABORTED/ }, async ({ page, shot }) => {
    await page.locator('a.tab[href="#swatch"]').click();
    await page.getByRole('radio', { name: 'My swatch' }).check();
    await fill(page, READINGS);
    await page.keyboard.press('Enter');
    await page.waitForSelector('[data-row=D11]', { state: 'attached' });
    const row = async (name: string): Promise<number[]> => (await page.locator(`[data-row=${name}] td`).allTextContents()).map((t) => Number.parseFloat(t));
    for (const [name, value] of [
      ['D11', warp],
      ['D22', weft],
      ['D66', twist],
    ] as const) {
      const [low, mid, high] = await row(name);
      // Three figures are shown: half of the last one is half a per cent at most.
      expect(Math.abs(mid * 1e-6 - value) / value, `${name}: ${mid} shown, ${value * 1e6} by closed form`).toBeLessThan(0.005);
      expect(low).toBeLessThan(mid);
      expect(high).toBeGreaterThan(mid);
    }
    expect(await page.locator('.own-result .reading').textContent()).toBe(`${(mass * 1000).toFixed(1)} g/m²`);
    expect(await page.locator('.own-warnings').textContent()).toContain('one reading only');
    await shot('bench-own-1440');
    expect(await axeFindings(page)).toEqual([]);
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as a file' }).click()]);
    expect(download.suggestedFilename()).toBe('blue-sailcloth.material.json');
    // The command line's own reader of such files; figures are written to four digits.
    const { sheet } = fileCloth(JSON.parse(readFileSync(await download.path(), 'utf8')));
    expect(Math.abs(stripRigidity(sheet.bending, 0) / warp - 1)).toBeLessThan(1e-3);
    expect(Math.abs(stripRigidity(sheet.bending, Math.PI / 4) / bias - 1)).toBeLessThan(1e-3);
    await key(page, 'own where').selectOption({ label: 'shell of option B' });
    await page.getByRole('button', { name: 'Use it in this bag' }).click();
    await expect.poll(() => page.locator('.own-note').textContent(), SOON).toBe('"Blue sailcloth" is in Harbour tote as the shell of option B.');
    await page.reload();
    await page.waitForSelector('[data-row=D11]', { state: 'attached' });
    expect(await key(page, 'own warp back').inputValue()).toBe('60; 61 mm');
    const bag = parseBag(await page.evaluate(() => localStorage.getItem('slumpline.bag')!));
    const own = bag.materials.find((m) => m.id === 'Blue sailcloth')!;
    expect(own.measured).toBe(true);
    expect(Math.abs(own.bendingWarp![1] / warp - 1)).toBeLessThan(1e-3);
    const front = bag.stacks.find((s) => s.name === bag.options[1].stacks.front)!;
    expect(front.kind === 'layers' && front.layers[0].material).toBe('Blue sailcloth');
    // Choosable on the bench and, in the other view, the shell of B.
    await page.getByRole('radio', { name: 'Test a material' }).check();
    await key(page, 'material').fill('sailcloth');
    expect(await page.locator('.box-option').textContent()).toContain('your swatch');
    await page.keyboard.press('Escape');
    await page.locator('a.tab[href="#stand"]').click();
    await page.locator('.controls').getByRole('radio', { name: 'B', exact: true }).check();
    await expect.poll(() => key(page, 'shell').evaluate((s: HTMLSelectElement) => s.selectedOptions[0].textContent), SOON).toBe('Blue sailcloth');
    // One step back takes it out again.
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.evaluate(() => localStorage.getItem('slumpline.bag')!.includes('Blue sailcloth')), SOON).toBe(false);
  });
});

test('bad readings: all 5 faults at once beside their fields, nothing saved, nothing to use', async () => {
  await withPage({ quick: true, width: 1440, height: 900, path: '#swatch' }, async ({ page, shot }) => {
    await page.getByRole('radio', { name: 'My swatch' }).check();
    const kept = await page.evaluate(() => localStorage.getItem('slumpline.bag'));
    await fill(page, { ...READINGS, name: '', weight: '31 stone', pieceWidth: '-3 cm', 'warp face': '62, soft', 'weft face': '8' });
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.waitForSelector('.own-form [aria-invalid]');
    const wrong = await page.locator('.own-form [aria-invalid]').evaluateAll((all) => all.map((e) => (e as HTMLElement).dataset.key));
    expect(wrong).toEqual(['own name', 'own weight', 'own pieceWidth', 'own warp face', 'own weft face']);
    // Each says what was expected; the limp one names the test to use instead. Read with its field.
    for (const name of wrong) {
      const described = await key(page, name!).evaluate((e) =>
        e
          .getAttribute('aria-describedby')!
          .split(' ')
          .map((id) => document.getElementById(id)!.textContent)
          .join(' '),
      );
      expect(described, name).toMatch(/[Ee]xpected/);
    }
    expect(await page.locator('.own-weft .field-fault, td:has([data-key="own weft face"]) .field-fault').first().textContent()).toContain('heart loop');
    expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.key)).toBe('own name');
    expect(await page.getByRole('button', { name: 'Save as a file' }).isVisible()).toBe(false);
    expect(await page.getByRole('button', { name: 'Use it in this bag' }).isVisible()).toBe(false);
    expect(await page.evaluate(() => localStorage.getItem('slumpline.bag'))).toBe(kept);
    await shot('bench-own-faults-1440');
    expect(await axeFindings(page)).toEqual([]);
    // Bad figures on the bench: both told, and the last reading is marked as old.
    await page.getByRole('radio', { name: 'Test a material' }).check();
    await page.getByRole('radio', { name: 'typed figures' }).check();
    await key(page, 'mass').fill('340');
    await key(page, 'rigidity').fill('stiff');
    await page
      .locator('details', { has: key(page, 'inPlane') })
      .locator('summary')
      .click();
    await key(page, 'inPlane').fill('-5 kN/m');
    const faults = page.locator('.bench-form .field-fault:not([hidden])');
    await expect.poll(() => faults.count(), SOON).toBe(2);
    expect(await faults.allTextContents()).toEqual([
      'Expected the overhang of a strip, such as 51 mm or 2 in, or a bending rigidity with its unit, such as "55 uN.m".',
      'Expected more than zero.',
    ]);
  });
});

test('at 390 px nothing reaches beyond the screen and nothing serious stands in anyone’s way, on both screens of the bench', async () => {
  await withPage({ quick: true, width: 390, height: 844, path: '#swatch' }, async ({ page, shot }) => {
    await rest(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.locator('.bench-view').scrollIntoViewIfNeeded();
    await shot('bench-390');
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('radio', { name: 'My swatch' }).check();
    await fill(page, READINGS);
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.waitForSelector('[data-row=D11]', { state: 'attached' });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.locator('.own-result').scrollIntoViewIfNeeded();
    await shot('bench-own-390');
    expect(await axeFindings(page)).toEqual([]);
  });
});
