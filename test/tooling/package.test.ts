import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compile, installPacked, manifest, root } from './packed.ts';

/** Another program: its own folder, its own settings, slumpline from its tarball. */
let program = '';
let home = '';

/** Both ways of finding modules that are in use; declarations read in full, and nothing known but the language itself. */
const WAYS = ['nodenext', 'bundler'].map((way) => [
  '--lib',
  'es2022',
  '--types',
  '',
  '--module',
  way === 'bundler' ? 'esnext' : way,
  '--moduleResolution',
  way,
]);

/** Code blocks of one language in a document. */
const blocks = (file: string, language: string): string[] =>
  [...readFileSync(file, 'utf8').matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\``, 'gm'))].map((m) => m[1]!);

beforeAll(() => {
  program = installPacked();
  home = join(program, 'node_modules/slumpline');
});

afterAll(() => {
  if (program !== '') rmSync(program, { recursive: true, force: true });
});

describe('slumpline as a package of another program, installed from its tarball', () => {
  it('import { preview } is typed, not any, with 0 errors under nodenext and bundler, strict, with neither a DOM nor Node nor any other types', () => {
    writeFileSync(
      join(program, 'typed.ts'),
      `import { preview } from 'slumpline';
type Preview = typeof preview;
// An untyped import would be \`any\`, which is assignable to everything, a number included.
type IsAny<T> = 0 extends 1 & T ? true : false;
export const typed: IsAny<Preview> extends true ? never : IsAny<ReturnType<Preview>> extends true ? never : 'typed' = 'typed';
`,
    );
    for (const way of WAYS) expect(compile(program, ['typed.ts'], ['--noEmit', ...way])).toBe('');
  });

  it('every entry is read without errors when it is imported whole, and no declaration names zod', () => {
    const names = Object.keys(manifest.exports).filter((key) => !key.endsWith('.json'));
    const code = names.map((key, i) => `import * as entry${i} from 'slumpline${key.slice(1)}';\nexport { entry${i} };`).join('\n');
    writeFileSync(join(program, 'whole.ts'), code);
    for (const way of WAYS) expect(compile(program, ['whole.ts'], ['--noEmit', ...way])).toBe('');
    const declarations = readdirSync(join(home, 'dist/lib'), { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.d.ts'));
    expect(declarations.length).toBeGreaterThan(30);
    expect(declarations.filter((name) => /\bzod\b/.test(readFileSync(join(home, 'dist/lib', name), 'utf8')))).toEqual([]);
  });

  it('the command line keeps its first line, #!/usr/bin/env node, and runs', () => {
    expect(readFileSync(join(home, manifest.bin.slumpline), 'utf8').split('\n')[0]).toBe('#!/usr/bin/env node');
    expect(spawnSync(process.execPath, [join(home, manifest.bin.slumpline), '--version'], { encoding: 'utf8' })).toMatchObject({ status: 0, stderr: '' });
  });

  it('the JSON schemas are those of the files: bag, results, shelf, cutlist and sweep.schema.json, draft 2020-12', () => {
    for (const [name, key] of [
      ['bag', 'panels'],
      ['results', 'results'],
      ['shelf', 'items'],
      ['cutlist', 'pieces'],
      ['sweep', 'runs'],
    ]) {
      const schema = JSON.parse(readFileSync(join(home, `dist/lib/${name}.schema.json`), 'utf8'));
      expect(schema.$schema).toContain('2020-12');
      expect(schema.properties).toHaveProperty(key!);
    }
  });
});

describe('the documents that are packed', () => {
  it('every link of every document in the tarball leads to a file in the tarball', () => {
    const documents = readdirSync(home, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.md'));
    for (const name of [
      'README.md',
      'CHANGELOG.md',
      'DEVELOPERS.md',
      join('src', 'run', 'API.md'),
      join('src', 'public', 'README.md'),
      join('src', 'bag', 'README.md'),
    ])
      expect(documents).toContain(name);
    const dead = documents.flatMap((name) =>
      [...readFileSync(join(home, name), 'utf8').matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)]
        .map((m) => m[1]!)
        .filter((link) => !existsSync(join(home, dirname(name), link)))
        .map((link) => `${name}: ${link}`),
    );
    expect(dead).toEqual([]);
  });

  const documents = ['README.md', 'src/public/README.md', 'src/workers/README.md'];
  const examples = documents.flatMap((name) => blocks(join(root, name), 'ts').map((code, i) => ({ name: `${name}, example ${i + 1}`, code })));

  it('the README and the library room have at least 7 examples', () => {
    expect(examples.length).toBeGreaterThanOrEqual(7);
  });

  it('all of them compile strictly with the language alone', () => {
    const files = examples.map(({ code }, i) => {
      writeFileSync(join(program, `example-${i}.ts`), code);
      return `example-${i}.ts`;
    });
    for (const way of WAYS) expect(compile(program, files, way)).toBe('');
  });

  it.each(examples.map(({ name }, i) => [name, i] as const))('%s runs, and what it exports is there', (name, i) => {
    const file = pathToFileURL(join(program, `example-${i}.js`)).href;
    const ran = spawnSync(process.execPath, ['--input-type=module', '-e', `console.log(JSON.stringify(await import(${JSON.stringify(file)})))`], {
      cwd: program,
      encoding: 'utf8',
    });
    expect(ran.stderr).toBe('');
    const shown = JSON.parse(ran.stdout) as Record<string, unknown>;
    console.log(`${name}: ${ran.stdout.slice(0, 200)}`);
    expect(Object.keys(shown).length).toBeGreaterThan(0);
    for (const [key, value] of Object.entries(shown)) expect(value, key).not.toBeNull();
  });
});
