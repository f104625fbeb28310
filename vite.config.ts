import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Plugin, UserConfig } from 'vite';
import { defineConfig } from 'vitest/config';
import { leanObjects, leanRenderer, ownShadersOnly } from './.ci/lean-three.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/**
 * Leaves out of the page what zod carries for writing a JSON schema (the command line's business): every schema holds on to it, so that no
 * bundler can see that the page never calls it. Each export becomes a function that returns itself, since schemas make their methods with them.
 */
const noJsonSchema = (): Plugin => ({
  name: 'no-json-schema',
  transform: {
    filter: { id: /zod\/v4\/core\/(to-json-schema|json-schema-processors)\.js$/ },
    handler(code) {
      const named = [...code.matchAll(/^export (?:function|const) (\w+)/gm)].map((m) => m[1]);
      const renamed = [...code.matchAll(/^export \{ \w+ as (\w+) \}/gm)].map((m) => m[1]);
      return { code: `const none = () => none;\nexport { ${[...named, ...renamed].map((name) => `none as ${name}`).join(', ')} };`, map: { mappings: '' } };
    },
  },
});

/** Modules of the first view that later parts use as well. None of them may import one that is left out here but needed at once: the files would wait for each other. */
const firstView = new RegExp(
  [
    'preload-helper',
    'node_modules/(three|zod)',
    'demos/harbour-tote',
    'shaders/',
    'src/(numerics/(?!sha256)|units|bag/(?!templates|move-anchors|strap-cut)|material/(elastica|names|data/preset-names))',
    'src/report/((?!json)[a-z-]+[.]ts|picture/(solids|handle)|maps/(surface|colours))',
    'src/app/(core|page/(?!one-job|segmented|sheet-dialog)|view/(?!stitches|trims|hem-bands|metal|closures)|line-up/(?!options|measured-where|solver-worker))',
  ]
    .join('|')
    .replaceAll('/', '[\\\\/]'),
);

/** What the page may do: its own scripts and compiled kernels, no text as code, no other host. Styles stand in attributes too, where no harm comes from them. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  'font-src data:',
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** Puts the policy into the built page; a server for development needs more than it allows. */
const contentPolicy = (): Plugin => ({
  name: 'content-policy',
  apply: 'build',
  transformIndexHtml: () => [{ tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY }, injectTo: 'head-prepend' }],
});

/** A picture of a tote for the launcher of whatever the page is installed on: drawn here, 512 x 512. */
const ICON =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512" width="512" height="512"><rect width="512" height="512" rx="72" fill="#17403f"/>' +
  '<path d="M188 208c0-92 136-92 136 0" fill="none" stroke="#f2c230" stroke-width="22" stroke-linecap="round"/>' +
  '<path d="M112 208h288l-22 208H134z" fill="#e9dfc8"/><path d="M112 208h288l-3 32H115z" fill="#c8b893"/></svg>';

/** What a launcher is told of the page. */
const LAUNCHER = JSON.stringify({
  name: 'slumpline',
  short_name: 'slumpline',
  description: 'Will a sewn bag slump or hold its shape, before cutting.',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: '#fbfbf8',
  theme_color: '#17403f',
  icons: [{ src: './icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
});

/** Makes the page work without a network and be installed: a worker that keeps every file of this build, and what a launcher is told. */
const offline = (): Plugin => ({
  name: 'offline',
  apply: 'build',
  generateBundle() {
    this.emitFile({ type: 'asset', fileName: 'icon.svg', source: ICON });
    this.emitFile({ type: 'asset', fileName: 'site.webmanifest', source: LAUNCHER });
  },
  // Only what lies on the disk has its last name: parts that bring styles are named once more while they are written.
  writeBundle({ dir }) {
    if (dir === undefined) return;
    const files = readdirSync(dir, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => relative(dir, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
      .filter((name) => !/\.map$|^\.vite|^service-worker\.js$|^index\.html$/.test(name))
      .sort();
    const version = createHash('sha256')
      .update(files.join())
      .update(readFileSync(join(dir, 'index.html')))
      .digest('hex')
      .slice(0, 16);
    const worker = readFileSync(here('./src/app/service-worker.js'), 'utf8');
    const list = JSON.stringify(['./', ...files.map((name) => `./${name}`)]);
    writeFileSync(join(dir, 'service-worker.js'), worker.replace("'VERSION'", JSON.stringify(version)).replace("['FILES']", list));
  },
});

/** Stops the build where a file of the page waits for one that waits for it, and both need each other at once: the page would not open. */
const noCircle = (): Plugin => ({
  name: 'no-circle',
  generateBundle(_, bundle) {
    for (const chunk of Object.values(bundle)) {
      if (chunk.type !== 'chunk' || chunk.name !== 'first-view') continue;
      for (const file of chunk.imports) {
        const other = bundle[file];
        if (other?.type === 'chunk' && !other.isEntry && other.imports.includes(chunk.fileName))
          this.error(`first-view and ${other.name} import each other: add the modules of ${other.name} to the first view (firstView)`);
      }
    }
  },
});

/** SHA-256 of everything that settles: results that a browser has kept hold for that solver alone. Page and command line have no part in it. */
function coreVersion(): string {
  const hash = createHash('sha256');
  const files = readdirSync(here('./src'), { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'));
  for (const name of files.filter((file) => file.endsWith('.ts') && !/^(app|cli)\//.test(file)).sort())
    hash.update(name).update(readFileSync(join(here('./src'), name)));
  return hash.digest('hex');
}

/** The page: src/app/index.html is its root, so that the built folder holds nothing but the page. */
const page = (): UserConfig => ({
  define: { __CORE__: JSON.stringify(coreVersion()) },
  root: here('./src/app'),
  // Relative addresses: the built folder must work from any static server, at any depth.
  base: './',
  publicDir: false,
  cacheDir: here('./node_modules/.vite'),
  resolve: { alias: { '/shaders': here('./shaders') } },
  plugins: [noJsonSchema(), ownShadersOnly(), leanRenderer(), leanObjects(here('./src/app')), noCircle(), contentPolicy(), offline()],
  worker: { format: 'es', plugins: () => [noJsonSchema()] },
  build: {
    outDir: here('./dist/page'),
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    // Read by .ci/build.mjs to weigh what the first view loads.
    manifest: true,
    // What later parts share with the first view is one file with it: a dozen small ones weigh 3 kB more gzipped, and wait for one another.
    rollupOptions: { output: { codeSplitting: { groups: [{ name: 'first-view', test: firstView, includeDependenciesRecursively: false }] } } },
    // The limit that counts is on the gzipped first view, and the build script holds it.
    chunkSizeWarningLimit: 1000,
  },
  // Shaders and demo bags live beside src, outside the page's root.
  server: { port: 4180, fs: { allow: [here('.')] } },
  preview: { host: '127.0.0.1', port: 4181 },
});

/** Packages that every command needs: 110 files of theirs took a third of a command's start, in its own files a tenth. */
const AT_START = ['zod', 'commander', 'delaunator', '@kninnug/constrainautor', 'robust-predicates', 'cannon-es'];

/** Puts the licence of every package whose code is in the files beside them, as those licences ask. */
const licences = (): Plugin => ({
  name: 'licences',
  generateBundle(_, bundle) {
    const folders = new Set<string>();
    for (const chunk of Object.values(bundle))
      if (chunk.type === 'chunk')
        for (const id of Object.keys(chunk.modules)) {
          const folder = id.match(/^.*\/node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0];
          if (folder) folders.add(folder);
        }
    const source = [...folders]
      .sort()
      .map((folder) => `${folder.replace(/^.*\/node_modules\//, '')}\n\n${readFileSync(join(folder, 'LICENSE'), 'utf8').trim()}\n`);
    if (source.length > 0) this.emitFile({ type: 'asset', fileName: 'licences.txt', source: source.join('\n---\n\n') });
  },
});

/** The command line and the benchmarks: plain modules with their packages left as imports, but for those named. */
const modules = (outDir: string, inside: readonly string[], ...entries: string[]): UserConfig => ({
  root: here('.'),
  publicDir: false,
  plugins: [licences()],
  ssr: { noExternal: [...inside] },
  build: {
    // A benchmark is named on vite's own command line instead.
    ssr: true,
    outDir: here(outDir),
    // Benchmarks share a folder: building one must not take away another that is running.
    emptyOutDir: entries.length > 0,
    target: 'node20',
    minify: false,
    sourcemap: true,
    rollupOptions: {
      ...(entries.length > 0 ? { input: entries.map(here) } : {}),
      output: { entryFileNames: '[name].js', chunkFileNames: 'shared/[name]-[hash].js' },
    },
  },
});

/** Entries of the library by the name they are imported under: "" is `slumpline`, "bag" is `slumpline/bag`. package.json's "exports" lists the same. */
const PUBLIC = ['slumpline', 'bag', 'pattern', 'cutting', 'material', 'swatch', 'report', 'shelf', 'sweep', 'stages', 'units', 'worker', 'worker-browser'];

/** The library: a file for a file of src, so that a program's own bundler takes only what is reached from the entries it imports. */
const library = (): UserConfig => ({
  root: here('.'),
  publicDir: false,
  build: {
    ssr: true,
    outDir: here('./dist/lib'),
    emptyOutDir: true,
    target: 'es2022',
    minify: false,
    sourcemap: false,
    rollupOptions: {
      input: [
        ...PUBLIC.map((name) => here(`./src/public/${name}.ts`)),
        ...PUBLIC.filter((name) => !name.startsWith('worker')).map((name) => here(`./src/public/checked/${name}.ts`)),
        here('./src/workers/node-thread.ts'),
      ],
      preserveEntrySignatures: 'strict',
      output: { preserveModules: true, preserveModulesRoot: here('./src'), entryFileNames: '[name].js' },
    },
  },
});

/** The library's web worker in one file that needs no other: a worker knows no import map, and not every bundler looks into it. */
const browserThread = (): UserConfig => ({
  root: here('.'),
  publicDir: false,
  plugins: [noJsonSchema()],
  build: {
    outDir: here('./dist/lib/workers'),
    emptyOutDir: false,
    target: 'es2022',
    modulePreload: false,
    rollupOptions: {
      input: here('./src/workers/browser-thread.ts'),
      output: { format: 'es', codeSplitting: false, entryFileNames: 'browser-thread.js' },
    },
  },
});

const onlyBrowser = 'test/browser/**/*.browser.test.ts';

export default defineConfig(({ mode }) => {
  if (process.env.VITEST !== undefined) {
    return {
      root: here('.'),
      publicDir: false,
      resolve: { alias: { '/shaders': here('./shaders') } },
      test: {
        passWithNoTests: false,
        projects: [
          {
            extends: true,
            // Settling a bag takes seconds, and on a busy two-core machine several times that.
            // Both cores: left to itself vitest keeps one of two for its own process, which has next to nothing to do here.
            test: {
              name: 'unit',
              include: ['test/**/*.test.ts'],
              exclude: [onlyBrowser],
              environment: 'node',
              testTimeout: 300_000,
              hookTimeout: 300_000,
              maxWorkers: 2,
              // One set of modules for a worker's files: read once, and the solver stays compiled.
              isolate: false,
            },
          },
          {
            extends: true,
            // One browser at a time and after everything else: software rendering takes both cores,
            // and a starved page fails on its time limits rather than on its merits.
            test: {
              name: 'browser',
              include: [onlyBrowser],
              environment: 'node',
              testTimeout: 180_000,
              hookTimeout: 180_000,
              fileParallelism: false,
              sequence: { groupOrder: 1 },
            },
          },
        ],
      },
    };
  }
  if (mode === 'lib') return library();
  if (mode === 'browser-thread') return browserThread();
  if (mode === 'cli') return modules('./dist/cli', AT_START, './src/cli/slumpline.ts', './src/workers/node-thread.ts');
  if (mode === 'bench') return modules('./dist/bench', []);
  return page();
});
