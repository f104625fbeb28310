import type { Page } from 'playwright-core';

/** A settle and its fall on shared cores. */
export const LATER = { timeout: 90_000 };

export const key = (page: Page, name: string) => page.locator(`[data-key="${name}"]`);
export const number = async (page: Page, selector: string): Promise<number> =>
  Number.parseFloat((await page.locator(selector).textContent())!.replace('−', '-'));
export const result = (page: Page): Promise<string | null> => page.locator('.bench-test').getAttribute('data-result');

/** Waits until the strip of what stands in the fields now lies at rest. */
export async function rest(page: Page): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('.bench-test')?.getAttribute('data-state') === 'rest' && !document.querySelector('.readout-result.stale'),
    null,
    LATER,
  );
}

export async function fill(page: Page, values: Readonly<Record<string, string>>): Promise<void> {
  for (const [name, value] of Object.entries(values)) await key(page, `own ${name}`).fill(value);
}
