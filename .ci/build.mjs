// node .ci/build.mjs [--strict] [lib] [cli] [page]: builds those parts, or all of them, into dist/.
import { spawnSync } from 'node:child_process';
import { chmodSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { shipped } from './declarations.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const at = (...path) => join(root, ...path);

/**
 * What a visitor on a slow line waits for before the first picture: kB = 1000 bytes, gzipped.
 * Over it, --strict fails, as in the tests; whoever only wants to use the page still gets it.
 */
const firstViewLimit = 350;

const run = (mode) => build({ configFile: at('vite.config.ts'), mode, logLevel: 'warn' });

async function lib() {
  await run('lib');
  await run('browser-thread');
  const tsc = spawnSync(process.execPath, [at('node_modules/typescript/bin/tsc'), '-p', at('.ci/tsconfig.lib.json')], { cwd: root, encoding: 'utf8' });
  if (tsc.status !== 0) throw new Error(`declarations of the library:\n${tsc.stdout}${tsc.stderr}`);
  const { files } = shipped(
    at('dist/lib'),
    readdirSync(at('src/public'))
      .filter((name) => name.endsWith('.ts'))
      .map((name) => join('public', name.replace(/\.ts$/, '.d.ts'))),
  );
  await schemas();
  return `dist/lib/public, ${files} declarations and the JSON schemas`;
}

/** The shapes of bag files, results files, shelf files, cutting lists and tables of sweeps, for editors and programs of other languages. */
async function schemas() {
  const [{ bagJsonSchema }, { resultsJsonSchema }, { shelfJsonSchema }, { cutListJsonSchema }, { runsJsonSchema }] = await Promise.all(
    ['bag', 'report', 'shelf', 'cutting', 'sweep'].map((name) => import(pathToFileURL(at('dist/lib/public', `${name}.js`)).href)),
  );
  for (const [name, schema] of [
    ['bag', bagJsonSchema()],
    ['results', resultsJsonSchema()],
    ['shelf', shelfJsonSchema()],
    ['cutlist', cutListJsonSchema()],
    ['sweep', runsJsonSchema()],
  ])
    writeFileSync(at('dist/lib', `${name}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);
}

async function cli() {
  await run('cli');
  const file = at('dist/cli/slumpline.js');
  if (!readFileSync(file, 'utf8').startsWith('#!')) throw new Error('dist/cli/slumpline.js lost its first line (#!/usr/bin/env node)');
  chmodSync(file, 0o755);
  return 'dist/cli/slumpline.js';
}

async function page(strict) {
  await run('starts');
  const { startPictures } = await import(pathToFileURL(at('dist/starts/draw-all.js')).href);
  writeFileSync(at('dist/starts/pictures.json'), startPictures());
  await run('production');
  const { bytes, files } = firstView(at('dist/page'));
  const kB = bytes / 1000;
  const line = `first view ${kB.toFixed(1)} kB of script gzipped in ${files} files, limit ${firstViewLimit}`;
  if (kB >= firstViewLimit && strict) throw new Error(`too heavy: ${line}`);
  return `dist/page (${line})`;
}

/** Script of the first view: what the entry imports, and the workers that this script names. What is reached only through import() comes later, with its workers. */
function firstView(folder) {
  const manifest = JSON.parse(readFileSync(join(folder, '.vite/manifest.json'), 'utf8'));
  const now = new Set();
  const visit = (key) => {
    const chunk = manifest[key];
    if (now.has(chunk.file)) return;
    now.add(chunk.file);
    for (const next of chunk.imports ?? []) visit(next);
  };
  for (const [key, chunk] of Object.entries(manifest)) if (chunk.isEntry) visit(key);
  const all = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith('.js'));
  const chunks = new Set(Object.values(manifest).map((chunk) => chunk.file));
  const text = [...now]
    .filter((name) => name.endsWith('.js'))
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .join('\n');
  const scripts = all.filter((name) => now.has(name) || (!chunks.has(name) && text.includes(name.split('/').pop())));
  return { files: scripts.length, bytes: scripts.reduce((sum, name) => sum + gzipSync(readFileSync(join(folder, name))).length, 0) };
}

const parts = { lib, cli, page };

/** Builds the named parts one after another; throws on the first that fails. */
export async function buildParts(names, strict = false) {
  for (const name of names) {
    const part = parts[name];
    if (part === undefined) throw new Error(`unknown part "${name}": expected ${Object.keys(parts).join(', ')}`);
    const begun = performance.now();
    const what = await part(strict);
    console.log(`${name}: ${what}, ${((performance.now() - begun) / 1000).toFixed(1)} s`);
  }
}

export const allParts = Object.keys(parts);

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const strict = process.argv.includes('--strict');
  const names = process.argv.slice(2).filter((word) => word !== '--strict');
  try {
    await buildParts(names.length > 0 ? names : allParts, strict);
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exit(1);
  }
}
