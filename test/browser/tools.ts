import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { type OpenPage, openPage } from './harness.ts';

const axe = join(fileURLToPath(new URL('../..', import.meta.url)), 'node_modules/axe-core/axe.min.js');

/** Software drawing and two solvers share the cores, so an answer may take its time. */
export const SOON = { timeout: 20_000 };

/** Every option has its word and nothing is running any more. */
export async function waitForVerdicts(page: Page): Promise<string[]> {
  await page.waitForFunction(
    () => {
      const words = document.querySelectorAll('.verdict-word').length;
      const columns = document.querySelectorAll('.row-verdict td').length;
      return columns > 0 && words === columns && document.querySelector('.bay-stage button') === null && document.querySelector('td.stale') === null;
    },
    null,
    { timeout: 150_000 },
  );
  return page.locator('.verdict-word').allTextContents();
}

/** Every option has its word for the middle of the band, which is what pictures and columns stand on; the ends may still be settling. */
export async function waitForMiddles(page: Page): Promise<string[]> {
  await page.waitForFunction(
    () => {
      const words = document.querySelectorAll('.verdict-word').length;
      return words > 0 && words === document.querySelectorAll('.row-verdict td').length;
    },
    null,
    { timeout: 100_000 },
  );
  return page.locator('.verdict-word').allTextContents();
}

/** Findings of axe-core of any weight, one line each. */
export async function axeFindings(page: Page): Promise<string[]> {
  // Run from outside: the page's own policy lets no script in that is not its own.
  await page.evaluate(readFileSync(axe, 'utf8'));
  return page.evaluate(async () => {
    const run = (window as unknown as { axe: { run(): Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }> } }).axe;
    const { violations } = await run.run();
    return violations.map((v) => `${v.id} (${v.impact}): ${v.nodes.map((n) => n.html.slice(0, 120)).join(' | ')}`);
  });
}

export async function withPage(options: Parameters<typeof openPage>[0], use: (open: OpenPage) => Promise<void>): Promise<void> {
  const open = await openPage(options);
  try {
    await use(open);
    expect(open.errors).toEqual([]);
  } finally {
    await open.close();
  }
}

/** The bag as the browser keeps it. */
export const kept = (page: Page): Promise<{ name: string; parameters: Record<string, string>; options: Record<string, unknown>; wanted: string }> =>
  page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? 'null'));

/** A bag file of two small sheets sewn together on three sides. */
export const TWO_PIECES = {
  slumpline: 1,
  name: 'Two flat pieces',
  panels: {
    front: { rectangle: { width: '100 mm', height: '80 mm' }, open: ['top'] },
    back: { copy: 'front', open: ['top'] },
  },
  seams: { A: ['front.bottom', 'back.bottom'], B: ['front.left', 'back.right'], C: ['front.right', 'back.left'] },
  stacks: { plain: ['canvas10'] },
  options: { plain: { 'every panel': 'plain' } },
};
