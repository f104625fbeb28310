import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { root } from './packed.ts';

/**
 * What a program pays for one function of the library in its bundle, minified, with every package that it needs: kB = 1000 bytes. Bars are a tenth above what was measured on
 * 2026-12-01 (closures, members and hardware in), so that a stage that creeps into an entry is seen; what looks at arguments first (src/public/checked) is 2 to 4 kB of it. src/public/README.md has the figures.
 */
const BARS: readonly (readonly [entry: string, name: string, kB: number, gzipped: number])[] = [
  ['slumpline', 'preview', 805, 276],
  ['slumpline/bag', 'parseBag', 234, 75],
  ['slumpline/pattern', 'draftPanels', 21, 9],
  ['slumpline/cutting', 'cutList', 217, 70],
  ['slumpline/material', 'presets', 18, 6],
  ['slumpline/swatch', 'swatchTest', 248, 93],
  ['slumpline/report', 'textReport', 23, 9.6],
  ['slumpline/shelf', 'parseShelf', 173, 55],
  ['slumpline/units', 'readQuantity', 7, 3.4],
];

let program = '';
beforeAll(() => {
  program = mkdtempSync(join(tmpdir(), 'slumpline-bundle-'));
  mkdirSync(join(program, 'node_modules'));
  symlinkSync(root, join(program, 'node_modules/slumpline'), 'junction');
});
afterAll(() => rmSync(program, { recursive: true, force: true }));

/** All script of a program that only calls this function. */
async function weigh(entry: string, name: string): Promise<{ kB: number; gzipped: number; code: string }> {
  const file = join(program, `${name}.js`);
  writeFileSync(file, `import { ${name} } from '${entry}';\ndocument.title = String(${name});\n`);
  const made = await build({
    root: program,
    configFile: false,
    logLevel: 'error',
    build: { write: false, target: 'es2022', modulePreload: false, rollupOptions: { input: file } },
  });
  const all = (Array.isArray(made) ? made : [made]).flatMap((m) => ('output' in m ? m.output : []));
  const scripts = all.flatMap((o) => (o.type === 'chunk' ? [o.code] : []));
  return {
    kB: Buffer.byteLength(scripts.join('')) / 1000,
    gzipped: scripts.reduce((sum, code) => sum + gzipSync(code).length, 0) / 1000,
    code: scripts.join('\n'),
  };
}

describe('a program that calls one function bundles no more than it needs', () => {
  it.each(BARS)('%s, %s: at most %d kB, %d kB gzipped', async (entry, name, kB, gzipped) => {
    const found = await weigh(entry, name);
    console.log(`${entry} ${name}: ${found.kB.toFixed(1)} kB, ${found.gzipped.toFixed(1)} kB gzipped`);
    expect(found.kB).toBeGreaterThan(1);
    expect(found.kB).toBeLessThanOrEqual(kB);
    expect(found.gzipped).toBeLessThanOrEqual(gzipped);
  });
});
