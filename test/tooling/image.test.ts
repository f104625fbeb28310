/** The container of demos/recipes, without a container engine: the files that its Dockerfile puts into the image, alone in a folder, on a machine without network. */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { manifest, needed, root } from './packed.ts';

const image = mkdtempSync(join(tmpdir(), 'slumpline-image-'));
const commands = readFileSync(join(root, 'demos/recipes/Dockerfile'), 'utf8')
  .replaceAll('\\\n', ' ')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'));

/** `unshare -rn` where the system lets a program have a network of its own, with nothing on it; else plain node, and the test says so. */
const apart = spawnSync('unshare', ['-rn', 'true']).status === 0 ? ['unshare', '-rn'] : [];
const start = (...argv: string[]) => {
  const [command, ...rest] = [...apart, process.execPath, join(image, 'slumpline/dist/cli/slumpline.js'), ...argv] as [string, ...string[]];
  return spawnSync(command, rest, { cwd: image, encoding: 'utf8', env: { PATH: process.env.PATH } });
};

beforeAll(() => {
  for (const line of commands) {
    const [, words] = /^COPY --from=build (.*)$/.exec(line) ?? [];
    const paths = words?.split(' ') ?? [];
    for (const path of paths.slice(0, -1)) {
      const from = path.replace('/build/', '');
      if (!existsSync(join(root, from))) throw new Error(`missing ${from}: run npm run build first (npm test does)`);
      // A folder's contents are copied, a file goes into the folder.
      const to = join(image, paths.at(-1)!.endsWith('/') ? join(paths.at(-1)!, from) : paths.at(-1)!);
      mkdirSync(dirname(to), { recursive: true });
      // What is left of node_modules there is what the package depends on (npm prune).
      if (from === 'node_modules')
        for (const name of needed(Object.keys(manifest.dependencies))) cpSync(join(root, from, name), join(to, name), { recursive: true });
      else cpSync(join(root, from), to, { recursive: true });
    }
  }
});
afterAll(() => rmSync(image, { recursive: true, force: true }));

describe('the image of demos/recipes/Dockerfile', () => {
  it('fetches nothing after its build: every npm stands in a RUN line of the first stage, and what runs is slumpline itself', () => {
    expect(commands.filter((l) => l.startsWith('FROM '))).toHaveLength(2);
    const last = commands.slice(commands.lastIndexOf('FROM node:20-slim'));
    expect(commands.filter((l) => /\b(npm|npx|curl|wget|apt)\b/.test(l)).every((l) => l.startsWith('RUN '))).toBe(true);
    expect(last.filter((l) => /\b(npm|npx|curl|wget|apt)\b/.test(l))).toEqual([]);
    expect(last.at(-1)).toBe('ENTRYPOINT ["slumpline"]');
    expect(last).toContain('RUN ln -s /slumpline/dist/cli/slumpline.js /usr/local/bin/slumpline');
  });

  it('settles in two threads, sweeps and cuts from its own files alone, with no network: exit 0 and a verdict', () => {
    if (apart.length === 0) console.log('unshare -rn is not allowed here: the image was run with the network it had');
    const demo = join(image, 'slumpline/demos/harbour-tote.bag.json'),
      leather = ['--option', 'vegetable-tanned leather', '--mesh', '60'];
    const settled = start('settle', demo, ...leather, '--jobs', '2', '--json', '--quiet');
    expect(settled.status, settled.stderr).toBe(0);
    expect(JSON.parse(settled.stdout).verdict.word).toBe('holds');
    const swept = start('sweep', demo, '--vary', 'W=280..320/2,option=vegetable-tanned leather', '--mesh', '80', '--out', 'out', '--quiet');
    expect([swept.status, swept.stdout], swept.stderr).toEqual([0, expect.stringContaining('holds in 2 of 2')]);
    const cut = start('cutlist', demo, '--out', 'cut');
    expect(cut.status, cut.stderr).toBe(0);
  });
});
