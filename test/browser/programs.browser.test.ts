/** The worked page of demos/programs: bundled by vite against the packed library, its web workers at work in a browser. */
import { rmSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { newBag, parseBag, previewBag } from '../../src/index.ts';
import { bundlePage, installPrograms } from '../tooling/programs.ts';
import { browserFound } from './harness.ts';
import { serveFolder } from './serve.ts';

test('asked for a width it says the word of every option that this node says, tells faults in words, and stops when asked', async () => {
  const program = installPrograms(),
    served = await serveFolder(await bundlePage(program)),
    browser = await chromium.launch(await browserFound());
  try {
    const page = await browser.newPage(),
      errors: string[] = [];
    page.on('console', (m) => m.type() === 'error' && errors.push(m.text()));
    page.on('pageerror', (e) => errors.push(e.message));
    await page.goto(served.url);
    const words = () => page.locator('#words li').allTextContents();
    const bag = parseBag(newBag('boxed-tote', { W: '300 mm' }));
    await page.click('#ask');
    await expect.poll(async () => (await words()).length, { timeout: 120_000 }).toBe(bag.options.length);
    expect((await words()).sort()).toEqual(
      bag.options.map(({ name }) => `${name}: ${previewBag(bag, { option: name, edgeLength: 0.05 }).verdict.word}`).sort(),
    );
    await expect.poll(() => page.locator('#far').evaluate((p) => (p as unknown as { value: number }).value)).toBe(1);
    await page.fill('#width', '-3');
    await page.click('#ask');
    await expect.poll(async () => (await words()).join('\n')).toContain('expected');
    await page.fill('#width', '320');
    await page.click('#ask');
    await page.click('#stop');
    await expect.poll(words).toEqual(['stopped']);
    expect(errors).toEqual([]);
  } finally {
    await browser.close();
    await served.close();
    rmSync(program, { recursive: true, force: true });
  }
});
