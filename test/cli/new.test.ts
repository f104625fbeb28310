import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { main } from '../../src/cli/main.ts';
import { parseBag, templates } from '../../src/index.ts';

/** Runs the command line with everything it prints kept in memory. */
async function run(...argv: string[]): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const io: Io = {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    errIsTerminal: false,
    outIsTerminal: false,
    readInput: async () => '',
    readFile: () => Promise.reject(new Error('no files here')),
    writeFile: () => Promise.reject(new Error('no files here')),
    exists: async () => false,
    rename: () => Promise.reject(new Error('no files here')),
    remove: () => Promise.resolve(),
    mayWrite: async () => {},
    mkdir: () => Promise.resolve(),
    list: async () => [],
    readLines: () => Promise.reject(new Error('no files here')),
    appendTo: () => Promise.reject(new Error('no files here')),
    now: () => 0,
    cpuSeconds: () => 0,
    cores: 1,
    onInterrupt: () => () => undefined,
  };
  return { code: await main(argv, io), ...said };
}

describe('slumpline new', () => {
  it('--list prints one template name a line and nothing else', async () => {
    const { code, out, err } = await run('new', '--list');
    expect([code, err]).toEqual([0, '']);
    expect(out).toBe(
      `${templates()
        .map((t) => t.name)
        .join('\n')}\n`,
    );
    expect(out.trim().split('\n').length).toBe(12);
  });

  it.each(templates().map((t) => [t.name, t.text]))('%s prints its bag file', async (name, text) => {
    expect(await run('new', name)).toEqual({ code: 0, out: text, err: '' });
  });

  it('--set may be given several times; lengths follow', async () => {
    const { code, out } = await run('new', 'satchel', '--set', 'W=320 mm', '--set', ' R = W / 8 ');
    expect(code).toBe(0);
    const strip = parseBag(out).parameters.find((p) => p.name === 'strip');
    expect(strip?.value).toBeCloseTo(0.32 + 2 * 0.254 - (4 - Math.PI) * 0.04, 12);
  });

  it.each([
    [['new'], 'which template? One of flat-tote, boxed-tote'],
    [['new', 'boxed'], 'unknown template "boxed"; did you mean "boxed-tote"?'],
    [['new', 'satchle'], 'did you mean "satchel"?'],
    [['new', 'zzz'], 'unknown template "zzz"; one of flat-tote, boxed-tote'],
    [['new', 'bucket', '--set', 'D=3 in'], 'did you mean "d"?'],
    [['new', 'boxed-tote', '--set', 'hight=3 in'], 'a parameter of this template: W, H, D, SA'],
    [['new', 'bucket', '--set', 'd=180'], 'a length with its unit'],
    [['new', 'bucket', '--set', 'd'], '--set "d": expected NAME=FIGURE'],
    [['new', 'bucket', '--set', 'd='], '--set "d=": expected NAME=FIGURE'],
    [['new', 'bucket', '--set', 'd=3 in', '--set', 'd=4 in'], '--set d is given twice'],
    [['new', 'satchel', '--set', 'R=300 mm'], 'radii that take 600 mm of edge "bottom"'],
    [['new', 'satchel', '--set', '__proto__=3 in'], 'a parameter of this template'],
    [['new', 'bucket', 'crescent'], 'too many arguments'],
  ])('%j ends with exit code 2, says why, and prints nothing on stdout', async (argv, says) => {
    const { code, out, err } = await run(...argv);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(says);
  });
});
