import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  exports: { '.': { types: string; default: string } };
  bin: { slumpline: string };
};

/** Another program: its own folder, its own settings, slumpline in its node_modules. */
let program = '';

beforeAll(() => {
  for (const path of [manifest.exports['.'].types, manifest.exports['.'].default]) {
    if (!existsSync(join(root, path))) throw new Error(`missing ${path}: run npm run build first (npm test does)`);
  }
  program = mkdtempSync(join(tmpdir(), 'slumpline-user-'));
  mkdirSync(join(program, 'node_modules'));
  symlinkSync(root, join(program, 'node_modules/slumpline'), 'junction');
  writeFileSync(join(program, 'package.json'), '{ "type": "module" }');
  writeFileSync(
    join(program, 'main.ts'),
    `import { preview } from 'slumpline';
type Preview = typeof preview;
// An untyped import would be \`any\`, which is assignable to everything, a number included.
type IsAny<T> = 0 extends 1 & T ? true : false;
export const typed: IsAny<Preview> extends true ? never : IsAny<ReturnType<Preview>> extends true ? never : 'typed' = 'typed';
console.log(typeof preview);
`,
  );
});

afterAll(() => {
  if (program !== '') rmSync(program, { recursive: true, force: true });
});

describe('slumpline as a package of another program', () => {
  // Both ways of finding modules that are in use; skipLibCheck off, so every declaration is read.
  for (const [module, resolution] of [
    ['nodenext', 'nodenext'],
    ['esnext', 'bundler'],
  ]) {
    it(`import { preview } is typed with 0 errors under ${resolution}, declarations checked in full`, () => {
      const tsc = join(root, 'node_modules/typescript/bin/tsc');
      const options = [
        '--strict',
        '--target',
        'es2022',
        '--lib',
        'es2022,dom',
        '--types',
        '',
        '--skipLibCheck',
        'false',
        '--module',
        module as string,
        '--moduleResolution',
        resolution as string,
      ];
      const done = spawnSync(process.execPath, [tsc, ...options, 'main.ts'], { cwd: program, encoding: 'utf8' });
      expect(done.stdout + done.stderr).toBe('');
      expect(done.status).toBe(0);
    });
  }

  it('import { preview } is a function when the program runs, and prints nothing of its own', () => {
    const done = spawnSync(process.execPath, ['main.js'], { cwd: program, encoding: 'utf8' });
    expect([done.status, done.stdout, done.stderr]).toEqual([0, 'function\n', '']);
  });

  it('the command line keeps its first line, #!/usr/bin/env node', () => {
    expect(readFileSync(join(root, manifest.bin.slumpline), 'utf8').split('\n')[0]).toBe('#!/usr/bin/env node');
  });
});
