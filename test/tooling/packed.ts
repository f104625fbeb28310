/** The package as npm would put it into another program: packed, unpacked there, its dependencies beside it. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));

interface Manifest {
  readonly exports: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
  readonly dependencies: Readonly<Record<string, string>>;
  readonly bin: { readonly slumpline: string };
}

const manifestOf = (folder: string): Manifest => JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
export const manifest = manifestOf(root);

/** Every file that an entry of package.json's "exports" leads to. */
const exported = (): string[] => Object.values(manifest.exports).flatMap((e) => (typeof e === 'string' ? [e] : Object.values(e)));

/** What a package needs, and what that needs. */
export function needed(names: readonly string[], found = new Set<string>()): Set<string> {
  for (const name of names) {
    if (found.has(name)) continue;
    found.add(name);
    needed(Object.keys(manifestOf(join(root, 'node_modules', name)).dependencies ?? {}), found);
  }
  return found;
}

/**
 * A program of its own in a temporary folder: slumpline from its packed tarball in node_modules, what it depends on linked from here (no registry is asked, so that the test
 * runs without a network). Returns the folder. Throws where the package is not built.
 */
export function installPacked(): string {
  for (const path of exported()) if (!existsSync(join(root, path))) throw new Error(`missing ${path}: run npm run build first (npm test does)`);
  const program = mkdtempSync(join(tmpdir(), 'slumpline-user-'));
  const packed = spawnSync('npm', ['pack', '--ignore-scripts', '--pack-destination', program], {
    cwd: root,
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });
  const tarball = readdirSync(program).find((name) => name.endsWith('.tgz'));
  if (tarball === undefined) throw new Error(`npm pack: ${packed.stderr}`);
  const modules = join(program, 'node_modules');
  mkdirSync(modules);
  const unpacked = spawnSync('tar', ['-xzf', join(program, tarball), '-C', modules], { encoding: 'utf8' });
  if (unpacked.status !== 0) throw new Error(`tar: ${unpacked.stderr}`);
  // npm calls the folder in every tarball "package".

  renameSync(join(modules, 'package'), join(modules, 'slumpline'));
  for (const name of needed(Object.keys(manifest.dependencies))) {
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(join(root, 'node_modules', name), join(modules, name), 'junction');
  }
  writeFileSync(join(program, 'package.json'), '{ "type": "module" }');
  return program;
}

/** tsc over files of the program: its complaints, '' where there are none. */
export function compile(program: string, files: readonly string[], options: readonly string[]): string {
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  const done = spawnSync(process.execPath, [tsc, '--strict', '--target', 'es2022', '--skipLibCheck', 'false', ...options, ...files], {
    cwd: program,
    encoding: 'utf8',
  });
  return done.status === 0 ? '' : `${done.stdout}${done.stderr}` || `exit ${done.status}`;
}
