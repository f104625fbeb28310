import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { buildRuns, rootFrom, sumsInBrowser } from '../same-bytes/engines.ts';
import { sumRuns, sumsNamed } from '../same-bytes/runs.ts';
import { browserFound } from './harness.ts';

test('a demo standing empty and one with rigid things in it settle to the same SHA-256 of their positions in Chromium and in this node', async () => {
  // Rigid things fall in by a package's own arithmetic. All demos and templates: npm run bench:engines.
  const names = sumRuns()
    .map((r) => r.name)
    .filter((name) => name.startsWith('commuter-tote | canvas, board, poplin'));
  const folder = mkdtempSync(join(tmpdir(), 'slumpline-engines-'));
  const browser = await chromium.launch(await browserFound());
  try {
    await buildRuns(rootFrom(import.meta.url), folder);
    const here = await sumsNamed(names),
      there = await sumsInBrowser(browser, folder, names);
    expect(Object.keys(here).length, 'shapes compared').toBe(2);
    expect(there, `Chromium ${browser.version()} against node ${process.version}`).toEqual(here);
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
});
