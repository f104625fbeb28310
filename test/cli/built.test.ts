import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

/** The program as it is shipped: built, started by node, killed by Ctrl-C. */
const root = fileURLToPath(new URL('../..', import.meta.url));
// Inside the repository, because packages stay imports; apart from dist/cli, which another build may be writing.
const outDir = join(root, 'dist/test-cli');
const program = join(outDir, 'slumpline.js');
const desk = mkdtempSync(join(tmpdir(), 'slumpline-'));

const start = (...argv: string[]) => spawnSync(process.execPath, [program, ...argv], { cwd: desk, encoding: 'utf8' });

beforeAll(async () => {
  // vitest marks the process; without the mark the configuration is that of a build.
  const mark = process.env.VITEST;
  delete process.env.VITEST;
  try {
    await build({ configFile: join(root, 'vite.config.ts'), mode: 'cli', logLevel: 'error', build: { outDir } });
  } finally {
    process.env.VITEST = mark;
  }
});
afterAll(() => {
  rmSync(outDir, { recursive: true, force: true });
  rmSync(desk, { recursive: true, force: true });
});

describe('the built program', () => {
  it('--version ends with 0 and help names its commands', () => {
    expect(start('--version')).toMatchObject({ status: 0, stderr: '' });
    expect(start('--help').stdout).toContain('settle');
  });
  it('carries the licences of the packages whose code is in its files, and imports none of those at its start', () => {
    const licences = readFileSync(join(outDir, 'licences.txt'), 'utf8'),
      code = readFileSync(program, 'utf8');
    for (const name of ['zod', 'commander', 'delaunator', '@kninnug/constrainautor', 'robust-predicates', 'cannon-es']) {
      expect(licences).toMatch(new RegExp(`(^|\\n)${name}\\n\\n`));
      expect(code).not.toContain(`from "${name}"`);
    }
  });
  it('settles the clamped strip into a folder: 5 files, none of them temporary', () => {
    const done = start('settle', join(root, 'demos/clamped-strip.bag.json'), '--out', 'strip', '--json', '--quiet');
    expect(done).toMatchObject({ status: 0, stderr: '' });
    expect(JSON.parse(done.stdout).status).toBe('settled');
    expect(readdirSync(join(desk, 'strip')).sort()).toEqual(['mesh.obj', 'panels.svg', 'picture.svg', 'report.html', 'result.json']);
  });
  it('--jobs 1 and --jobs 2 write the same files to the byte: 2 options, 3 ends of the band each', () => {
    const file = JSON.parse(readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8'));
    file.options = Object.fromEntries(['vegetable-tanned leather', 'canvas, board, poplin'].map((name) => [name, file.options[name]]));
    writeFileSync(join(desk, 'firm.bag.json'), JSON.stringify(file));
    const [one, two] = ['1', '2'].map((jobs) => {
      const done = start('settle', 'firm.bag.json', '--option', 'all', '--mesh', '50', '--jobs', jobs, '--out', `jobs-${jobs}`, '--quiet');
      expect(done).toMatchObject({ status: 0, stderr: '' });
      const files = readdirSync(join(desk, `jobs-${jobs}`), { recursive: true, encoding: 'utf8' }).filter((name) => /\.\w+$/.test(name));
      return { out: done.stdout, files: files.sort().map((name) => [name, readFileSync(join(desk, `jobs-${jobs}`, name), 'utf8')]) };
    });
    expect(one!.files.map(([name]) => name)).toContain('result.json');
    expect(two).toEqual(one);
  });
  it('refuses a file of 17 MB with 2 before reading it', () => {
    writeFileSync(join(desk, 'huge.json'), ' '.repeat(17e6));
    const done = start('check', 'huge.json');
    expect(done.status).toBe(2);
    expect(done.stderr).toContain('at most 16 MB');
  });
  it('refuses a folder and a file that is not there with 2, in words', () => {
    expect(start('check', '.').stderr).toContain('it is a folder');
    expect(start('settle', 'gone.json').stderr).toContain('no such file');
  });
  it('Ctrl-C while it settles ends it by that signal and writes nothing', async () => {
    const out = join(desk, 'never');
    const child = spawn(process.execPath, [program, 'settle', join(root, 'demos/harbour-tote.bag.json'), '--mesh', '6', '--out', out], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    await new Promise<void>((settling) => child.stderr.on('data', (text: Buffer) => /settling/.test(String(text)) && settling()));
    child.kill('SIGINT');
    const signal = await new Promise((ended) => child.on('exit', (_, s) => ended(s)));
    expect(signal).toBe('SIGINT');
    expect(existsSync(out)).toBe(false);
  });
  it('a reader that closes the pipe early is no failure', async () => {
    const child = spawn('bash', ['-c', `"${process.execPath}" "${program}" materials --json | head -c 10; exit \${PIPESTATUS[0]}`]);
    expect(await new Promise((ended) => child.on('exit', (code) => ended(code)))).toBe(0);
  });
});
