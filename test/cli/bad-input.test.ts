/** What can be wrong with a bag, a folder or a flag, for every command that writes what a maker cuts by or sends. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Bag } from '../../src/bag/types.ts';
import type { Core } from '../../src/cli/core.ts';
import { fileNames } from '../../src/cli/cut-flags.ts';
import { restCorners } from '../../src/mesh/types.ts';
import type { Result } from '../../src/report/types.ts';
import { sew } from '../../src/run/index.ts';
import { resultOf, runOf, tote } from '../report/results.ts';
import { createDesk, ran, run } from './desk.ts';

/** As drafted, and said to hold: what is written is asked here, not what settles. */
const preview = async (bag: Bag, o: { readonly option?: string; readonly stance?: string } = {}): Promise<Result> => {
  const { mesh, drafted } = sew(bag, 0.06);
  const zeros = new Float64Array(3 * mesh.triPanel.length);
  const run = { ...runOf('mid', tote.drafted), positions: drafted, cloth: { strain: zeros, stress: zeros, felt: null, touches: [] } };
  const made = resultOf([run]);
  return {
    ...made,
    option: o.option ?? bag.options[0]!.name,
    stance: o.stance ?? bag.stances[0]!.name,
    settings: { ...made.settings, edgeLength: 0.06 },
    stacks: mesh.panelNames.map((panel) => ({ ...made.stacks[0]!, panel })),
    vertices: mesh.vertexCount,
    mesh,
    triRest: restCorners(mesh),
    drafted,
  };
};
const stubbed = { preview: preview as unknown as Core['preview'] };
/** Fails where anything is settled. */
const unsettled = {
  preview: async () => {
    throw new Error('settled all the same');
  },
};

/** Two sheets sewn on three sides; the left side hollow by 75 mm, its seam 80 mm wide. */
const sheets = (changes: object = {}) => ({
  slumpline: 1,
  name: 'sheets',
  wanted: 'soft',
  panels: {
    front: {
      outline: [
        { at: [0, 0], edge: 'bottom' },
        { at: ['200 mm', 0], edge: 'right' },
        { at: ['200 mm', '150 mm'], edge: 'top' },
        { at: [0, '150 mm'], edge: 'left' },
      ],
      open: ['top'],
    },
    back: { mirror: 'front' },
  },
  seams: { s: ['front.left', 'back.left'], r: ['front.right', 'back.right'], b: ['front.bottom', 'back.bottom'] },
  stacks: { cloth: ['canvas10'] },
  options: { plain: { 'every panel': 'cloth' } },
  ...changes,
});
const hollow = (() => {
  const bag = JSON.stringify(
    sheets({ seams: { s: { join: ['front.left', 'back.left'], allowance: '80 mm' }, r: ['front.right', 'back.right'], b: ['front.bottom', 'back.bottom'] } }),
  );
  return bag.replace('"edge":"left"}', '"edge":"left","through":["75 mm","75 mm"]}');
})();

/** A stack of stated figures, and no thickness among them. */
const STATED = { mass: '300 g/m2', D11: '100 uN.m', D22: '80 uN.m', D66: '30 uN.m', C11: '20000 N/m', C22: '20000 N/m', C66: '900 N/m' };

/** Every command that writes, into `out`. */
const COMMANDS: readonly (readonly [string, readonly string[]])[] = [
  ['settle --out', ['settle', 'b.json', '--out', 'out', '--maps']],
  ['settle --shape', ['settle', 'b.json', '--out', 'out', '--shape', 'glb,stl']],
  ['settle of several', ['settle', 'b.json', 'c.json', '--out', 'out']],
  ['settle of all options and stances', ['settle', 'b.json', '--option', 'all', '--stance', 'all', '--out', 'out']],
  ['pattern', ['pattern', 'b.json', '--out', 'out', '--paper', 'a4']],
  ['cutlist', ['cutlist', 'b.json', '--out', 'out']],
];
const two = JSON.stringify(
  sheets({
    options: { plain: { 'every panel': 'cloth' }, again: { 'every panel': 'cloth' } },
    stances: { 'on a table': { kind: 'standing' }, tilted: { kind: 'standing' } },
  }),
);
const given = { 'b.json': two, 'c.json': two };
const written = (files: Readonly<Record<string, string>>): string[] => Object.keys(files).filter((f) => f.startsWith('out'));

describe.each(COMMANDS)('%s', (_, argv) => {
  let first: Awaited<ReturnType<typeof ran>>;
  beforeAll(async () => {
    first = await ran(argv, given, null, stubbed);
    expect(first.code, first.err).toBe(0);
  });

  test('a full disk at its last file leaves nothing behind', async () => {
    const last = written(first.files).at(-1)!;
    const { code, err, files } = await ran(argv, given, { path: `${last}.part`, code: 'ENOSPC' }, stubbed);
    expect(code).toBe(2);
    expect(err).toContain('the disk is full');
    expect(written(files)).toEqual([]);
  });

  test('a locked folder is told before anything is worked out', async () => {
    const desk = Object.assign(createDesk(given), { locked: 'out' });
    expect(await run(desk, argv, unsettled)).toBe(2);
    expect(desk.err).toContain('cannot write to out: permission denied');
  });

  test("a file that is somebody's own is kept, and told before anything is worked out; --force writes it anew", async () => {
    const mine = written(first.files);
    const there = { ...given, ...Object.fromEntries(mine.map((path) => [path, 'mine'])) };
    const { code, err, files } = await ran(argv, there, null, unsettled);
    expect(code).toBe(2);
    expect(err).toContain('nothing was written. --force');
    for (const path of mine) expect(err).toContain(path);
    expect(files).toEqual(there);
    const own = { ...given, [written(first.files).at(-1)!]: 'mine' };
    const forced = await ran([...argv, '--force'], own, null, stubbed);
    expect(forced.code, forced.err).toBe(0);
    expect(forced.files).toEqual(first.files);
  });

  test('a folder of the name of a file is told, and nothing is half written', async () => {
    const last = written(first.files).at(-1)!;
    const there = { ...given, [`${last}/notes.txt`]: 'mine' };
    const { code, err, files } = await ran([...argv, '--force'], there, null, stubbed);
    expect(code).toBe(2);
    expect(err).toContain(`cannot write to ${last}: it is a folder`);
    expect(files).toEqual(there);
  });
});

test('settle writes over what an earlier run of it left, of whatever version of results', async () => {
  const argv = ['settle', 'b.json', 'c.json', '--out', 'out'];
  const first = await ran(argv, given, null, stubbed);
  const older = Object.fromEntries(
    Object.entries(first.files).map(([f, text]) => [f, f.endsWith('result.json') ? text.replace(/"formatVersion": \d/, '"formatVersion": 1') : text]),
  );
  const again = await ran(argv, older, null, stubbed);
  expect(again.code, again.err).toBe(0);
  expect(again.files).toEqual(first.files);
});

test('an allowance wider than a hollow has room for is told with the 75 mm that fit: by pattern and cutlist as a fault, by a report in the place of its list', async () => {
  for (const command of ['pattern', 'cutlist']) {
    const { code, err, files } = await ran([command, 'b.json', '--out', 'out'], { 'b.json': hollow });
    expect([command, code]).toEqual([command, 2]);
    expect(err).toContain('seams.s.allowance');
    expect(err).toContain('at most 75 mm');
    expect(written(files)).toEqual([]);
  }
  const { code, files } = await ran(['settle', 'b.json', '--out', 'out'], { 'b.json': hollow }, null, stubbed);
  expect(code).toBe(0);
  expect(files['out/report.html']).toContain('It cannot be cut as it is drawn:');
  expect(files['out/report.html']).toContain('at most 75 mm');
});

test('a panel wider than the roll is told with the width that would do, by cutlist as a fault, by a report in the place of its list', async () => {
  const wide = JSON.stringify(sheets()).replaceAll('200 mm', '2200 mm').replaceAll('150 mm', '1900 mm');
  const { code, err, files } = await ran(['cutlist', 'b.json', '--out', 'out'], { 'b.json': wide });
  expect(code).toBe(2);
  expect(err).toMatch(/a roll of at least|at least/);
  expect(written(files)).toEqual([]);
  const settled = await ran(['settle', 'b.json', '--out', 'out'], { 'b.json': wide }, null, stubbed);
  expect(settled.code).toBe(0);
  expect(settled.files['out/report.html']).toContain('It cannot be cut as it is drawn:');
});

test.each([
  ['pattern', ['--allowance', '0', '--interfacing-margin', '-3', '--board-margin', '1e9', '--paper', '']],
  ['cutlist', ['--allowance', '0', '--width', '0', '--width', 'cloth=-1 mm', '--gap', '2 m', '--stitch', '0', '--waste', '100']],
])('%s: none, negative and absurd widths are all told at once, each with what was expected', async (command, flags) => {
  const { code, err, files } = await ran([command, 'b.json', '--out', 'out', ...flags], { 'b.json': JSON.stringify(sheets()) });
  expect(code).toBe(2);
  expect(err).toContain(`${command === 'pattern' ? 4 : 6} faults; nothing was written`);
  for (let k = 0; k < flags.length; k += 2) expect(err, flags[k]).toContain(flags[k]!);
  expect(err.match(/expected/g)).toHaveLength(command === 'pattern' ? 4 : 6);
  expect(written(files)).toEqual([]);
});

test('a seam without width and one of a metre are told with their path, whichever command reads the bag', async () => {
  const seams = (allowance: string) =>
    JSON.stringify(
      sheets({ seams: { s: { join: ['front.left', 'back.left'], allowance }, r: ['front.right', 'back.right'], b: ['front.bottom', 'back.bottom'] } }),
    );
  for (const command of ['settle', 'pattern', 'cutlist'])
    for (const allowance of ['-4 mm', '1 m']) {
      const { code, err, files } = await ran([command, 'b.json', '--out', 'out'], { 'b.json': seams(allowance) }, null, stubbed);
      expect([command, allowance, code]).toEqual([command, allowance, 2]);
      expect(err).toContain('seams.s.allowance');
      expect(written(files)).toEqual([]);
    }
});

describe('names in any script', () => {
  const NAMES = ['帆布', 'قماش', 'ткань №1', 'cloth/../x', '..', '🧵', 'A'.repeat(300), 'wool!', 'wool?', 'WOOL-'];
  test('as names of files they are each different, plain, and no longer than a disk takes', () => {
    const made = fileNames(NAMES);
    expect(new Set(made.map((m) => m.toLowerCase())).size).toBe(NAMES.length);
    for (const name of made) {
      expect(name).toMatch(/^[\p{L}\p{M}\p{N}][\p{L}\p{M}\p{N}.-]*$/u);
      expect(Buffer.byteLength(`lay-${name}.svg.part`)).toBeLessThan(255);
    }
    expect(made.slice(0, 3)).toEqual(['帆布', 'قماش', 'ткань-1']);
  });

  test('a bag, its panels, options and materials in Han, Arabic and with a path in them are settled, cut and listed; two materials share no file', async () => {
    const own = (name: string) => ({ name, like: 'canvas10', mass: '300 g/m2' });
    const text = JSON.stringify(
      sheets({
        name: '港の手提げ ../../etc',
        materials: { 'wool!': own('羊毛'), 'wool?': own('صوف') },
        stacks: { cloth: ['wool!'], other: ['wool?'] },
        options: { 前と後ろ: { front: 'cloth', back: 'other' }, '../x': { 'every panel': 'cloth' } },
      }),
    );
    for (const [command, argv] of [
      ['settle', ['settle', 'b.json', '--option', 'all', '--out', 'out']],
      ['pattern', ['pattern', 'b.json', '--out', 'out']],
      ['cutlist', ['cutlist', 'b.json', '--out', 'out']],
    ] as const) {
      const { code, err, out, files } = await ran(argv, { 'b.json': text }, null, stubbed);
      expect([command, code, err]).toEqual([command, 0, expect.any(String)]);
      for (const path of written(files)) expect(path.split('/').every((part) => part !== '..' && part !== '')).toBe(true);
      if (command === 'cutlist') expect(written(files).filter((f) => f.startsWith('out/lay-'))).toHaveLength(2);
      if (command === 'pattern') expect(out).toContain('港の手提げ');
      if (command === 'pattern') expect(out).toMatch(/look at: .*(font|script|letters)/);
    }
  });
});

test('a stack of stated figures without a thickness is listed, and what rests on it is told', async () => {
  const thin = JSON.stringify(sheets({ stacks: { cloth: STATED } }));
  const { code, out, err } = await ran(['cutlist', 'b.json'], { 'b.json': thin });
  expect([code, err]).toEqual([0, '']);
  expect(out).toContain('no thickness is stated for cloth');
  const settled = await ran(['settle', 'b.json', '--out', 'out'], { 'b.json': thin }, null, stubbed);
  expect(settled.files['out/report.html']).toContain('no thickness is stated for cloth');
});
