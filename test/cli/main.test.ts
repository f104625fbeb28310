import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { folderNames } from '../../src/cli/settle-files.ts';
import type { PreviewOptions, Result } from '../../src/index.ts';
import { resultOf, runOf, sunk, tote } from '../report/results.ts';
import { createDesk, run } from './desk.ts';

const demo = (name: string) => readFileSync(fileURLToPath(new URL(`../../demos/${name}.bag.json`, import.meta.url)), 'utf8');
const strip = demo('clamped-strip');
const harbour = demo('harbour-tote');

/** Gives a hand-made result instead of minutes of settling; progress is told as the real one does. */
const made =
  (change: (r: Result) => Result = (r) => r) =>
  async (_: unknown, o: PreviewOptions = {}): Promise<Result> => {
    o.onProgress?.({ band: 'mid', stage: 'settling', fraction: 0.4, positions: tote.drafted });
    return change({ ...resultOf([runOf('mid', sunk(0.7, 0.02), 0.143)]), option: o.option ?? 'canvas and poplin' });
  };

describe('the command line as a whole', () => {
  it('--version prints 0.1.0 or later and ends with 0', async () => {
    const desk = createDesk();
    expect(await run(desk, ['--version'])).toBe(0);
    expect(desk.out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
  it('--help names every command on stdout and ends with 0', async () => {
    const desk = createDesk();
    expect(await run(desk, ['--help'])).toBe(0);
    for (const word of ['check', 'settle', 'new', 'materials', 'Exit code']) expect(desk.out).toContain(word);
    expect(desk.err).toBe('');
  });
  it.each([[[]], [['sette', 'x']], [['settle']], [['settle', 'a', '--colour']], [['settle', 'a', 'b']]])(
    '%j ends with 2, says why on stderr, nothing on stdout',
    async (argv) => {
      const desk = createDesk();
      expect(await run(desk, argv)).toBe(2);
      expect(desk.out).toBe('');
      expect(desk.err).not.toBe('');
    },
  );
  it('a fault of the program ends with 1 and says that it is not the bag', async () => {
    const desk = createDesk({ 'a.json': harbour });
    const broken = () => {
      throw new TypeError('planted');
    };
    expect(await run(desk, ['settle', 'a.json'], { preview: broken })).toBe(1);
    expect(desk.err).toContain('a fault of the program, not of the bag');
  });
});

describe('bad input ends with 2, lists everything, writes nothing', () => {
  it('a file that is not there', async () => {
    const desk = createDesk();
    expect(await run(desk, ['check', 'gone.bag.json'])).toBe(2);
    expect(desk.err).toBe('cannot read gone.bag.json: there is no such file or folder\n');
  });
  it.each(['check', 'settle'])('%s lists 3 faults of one file with path, value and what was expected', async (command) => {
    const desk = createDesk({
      'bad.json': harbour
        .replace('"wanted": "structured"', '"wanted": "floppy"')
        .replace('"W": "300 mm"', '"W": "300 furlongs"')
        .replace('"friction": 0.4', '"friction": -4'),
    });
    expect(await run(desk, [command, 'bad.json', ...(command === 'settle' ? ['--out', 'o', '--json'] : [])])).toBe(2);
    expect(desk.err).toMatch(/bad\.json: \d+ faults; nothing was written/);
    for (const word of ['wanted', 'floppy', 'furlongs', 'friction', '-4', 'expected']) expect(desk.err).toContain(word);
    expect(desk.out).toBe('');
    expect([...desk.files.keys()]).toEqual(['bad.json']);
    expect(desk.folders).toEqual([]);
  });
  it.each([
    ['check', []],
    ['settle', ['--option', 'all', '--out', 'o']],
    ['hang', []],
    ['change', []],
  ] as const)('%s refuses a pattern whose seam joins 300 mm to 240 mm, and settles nothing', async (command, flags) => {
    const file = JSON.parse(harbour);
    const [name] = Object.entries(file.seams as Record<string, { join?: string[] } | string[]>).find(([, s]) => JSON.stringify(s).includes('front.bottom'))!;
    file.seams[name] = ['front.bottom', 'left.right'];
    const desk = createDesk({ 'bad.json': JSON.stringify(file) });
    const settled = () => {
      throw new TypeError('was settled');
    };
    expect(await run(desk, [command, 'bad.json', ...flags], { preview: settled, previewChanges: settled, previewAnchors: settled } as never)).toBe(2);
    expect(desk.err).toMatch(/\d+ faults? in the pattern; nothing was written/);
    expect(desk.err).toContain('300 mm');
    expect([...desk.files.keys()]).toEqual(['bad.json']);
  });
  it.each(['check', 'settle'])('%s tells what is wrong with two stances at once, before anything settles', async (command) => {
    const file = JSON.parse(harbour);
    const big = { thing: 'block', width: '500 mm', depth: '50 mm', height: '50 mm', mass: '1 kg' };
    file.stances = { standing: {}, one: { contents: [big] }, two: { contents: [{ ...big, width: '600 mm' }] } };
    const desk = createDesk({ 'bad.json': JSON.stringify(file) });
    const settled = () => {
      throw new TypeError('was settled');
    };
    expect(await run(desk, [command, 'bad.json', ...(command === 'settle' ? ['--stance', 'all'] : [])], { preview: settled })).toBe(2);
    expect(desk.err).toContain('stances.one.contents[0]');
    expect(desk.err).toContain('stances.two.contents[0]');
  });
  it.each([
    ['truncated', harbour.slice(0, 700)],
    ['empty', ''],
    ['not JSON', 'W = 300 mm'],
    ['a list', '[]'],
  ])('a file that is %s', async (_, text) => {
    const desk = createDesk({ 'x.json': text });
    expect(await run(desk, ['check', 'x.json'])).toBe(2);
    expect(desk.err).toContain('expected');
  });
  it.each([
    ['--option', 'canvas, fleece', 'canvas, fleece, poplin'],
    ['--stance', 'standin', 'standing'],
  ])('%s %s: names those that exist and suggests "%s"', async (flag, value, suggestion) => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', flag, value])).toBe(2);
    expect(desk.err).toContain(`did you mean "${suggestion}"?`);
    expect(desk.err).toContain('this bag has: ');
  });
  it('--every-band beside --bands: they contradict each other', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', '--bands', 'mid', '--every-band', '--quiet'])).toBe(2);
    expect(desk.err).toContain('--every-band and --bands do not go together');
  });
  it.each([
    ['--bands', 'low,medium'],
    ['--bands', ''],
    ['--mesh', 'fine'],
    ['--mesh', '-5'],
    ['--mesh', '0.0001'],
    ['--mesh', '4000'],
  ])('%s "%s"', async (flag, value) => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', `${flag}=${value}`, '--quiet'])).toBe(2);
    expect(desk.err).toContain('expected');
    expect(desk.out).toBe('');
  });
});

describe('check', () => {
  it('says what is in a sound file: 5 panels, 8 seams, 4 options', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['check', 'a.json'])).toBe(0);
    expect(desk.out).toContain('Harbour tote: no faults.');
    expect(desk.out).toContain('5 panels, 8 seams');
    expect(desk.out).toContain('front: 300 mm (11 13/16 in) x 240 mm (9 7/16 in)');
    expect(desk.out).toContain('"vegetable-tanned leather"');
  });
});

describe('settle, with the real calculation', () => {
  it('--json prints JSON and nothing else; a clamped strip has no verdict, marks at the chord of 41.5 degrees, and ends with 0', async () => {
    const desk = createDesk({ 'strip.json': strip });
    expect(await run(desk, ['settle', 'strip.json', '--json', '--bands', 'mid', '--quiet'])).toBe(0);
    const result = JSON.parse(desk.out);
    expect(result).toMatchObject({ status: 'settled', verdict: { word: 'no verdict', margin: null } });
    expect(result.reactions.held[2]).toBeCloseTo(result.massKg * 9.80665, 5);
    expect(desk.err).toBe('');
  });
  it('gives the same bytes twice, and --timing says the seconds on stderr', async () => {
    const text = async () => {
      const desk = createDesk({ 'strip.json': strip });
      await run(desk, ['settle', 'strip.json', '--json', '--bands', 'mid', '--timing', '--quiet']);
      expect(desk.err).toMatch(/^swatch, held, mid: set-up \d+\.\d\d, settling \d+\.\d\d, nudges \d+\.\d\d s\n$/);
      return desk.out;
    };
    expect(await text()).toBe(await text());
  });
  it('a leather tote on a coarse mesh of 30 mm holds, comes back from the nudges, and its reaction is its weight to 1e-3', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', '--option', 'vegetable-tanned leather', '--bands', 'mid', '--mesh', '30', '--json'])).toBe(0);
    const result = JSON.parse(desk.out);
    expect(result.verdict).toMatchObject({ word: 'holds', meetsWanted: true });
    expect(result.reactions.table[2] / (result.massKg * 9.80665)).toBeCloseTo(1, 3);
    expect(desk.err).toMatch(/mid: /);
  });
});

describe('settle, from a hand-made result', () => {
  it('prints the report, ends with 0', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json'], { preview: made() })).toBe(0);
    expect(desk.out).toContain('SLUMPS');
    expect(desk.out).not.toContain('\u001b');
  });
  it('a run that did not come to rest ends with 3 and still prints its result', async () => {
    const desk = createDesk({ 'a.json': harbour });
    const restless = made((r) => resultOf(r.runs.map((run) => ({ ...run, status: 'notConverged' as const }))));
    expect(await run(desk, ['settle', 'a.json', '--json'], { preview: restless })).toBe(3);
    expect(JSON.parse(desk.out)).toMatchObject({ status: 'notConverged', verdict: { word: 'no verdict' } });
  });
  it('a bag still falling below half its height is an answer: 0', async () => {
    const desk = createDesk({ 'a.json': harbour });
    const falling = made((r) => resultOf(r.runs.map((run) => ({ ...run, status: 'notConverged' as const, stillFalling: true }))));
    expect(await run(desk, ['settle', 'a.json', '--json'], { preview: falling })).toBe(0);
    expect(JSON.parse(desk.out).verdict.word).toBe('slumps');
  });
  it('--out writes 5 files and leaves no temporary ones', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', '--out', 'o/'], { preview: made() })).toBe(0);
    expect([...desk.files.keys()].sort()).toEqual(['a.json', 'o/mesh.obj', 'o/panels.svg', 'o/picture.svg', 'o/report.html', 'o/result.json']);
    expect(JSON.parse(desk.files.get('o/result.json')!).verdict.word).toBe('slumps');
  });
  it('--maps adds its four maps, one picture for all options, and asks for --out', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', '--maps'], { preview: made() })).toBe(2);
    expect(desk.err).toBe('--maps writes pictures: give --out <dir> as well, the folder for them\n');
    expect(await run(desk, ['settle', 'a.json', '--option', 'all', '--out', 'o', '--maps'], { preview: made() })).toBe(0);
    expect([...desk.files.keys()].filter((f) => f.includes('map-')).sort()).toEqual(['curvature', 'gap', 'seams', 'strain'].map((m) => `o/map-${m}.svg`));
    expect(desk.files.get('o/map-strain.svg')).toContain('>Strain</text>');
  });
  it.each(['o/result.json', 'o/picture.svg', 'o/mesh.obj'])('a disk that fails at %s leaves the old files as they were', async (path) => {
    const desk = createDesk({ 'a.json': harbour, 'o/result.json': 'old' });
    desk.failing = { path: `${path}.part`, code: 'ENOSPC' };
    expect(await run(desk, ['settle', 'a.json', '--out', 'o', '--force', '--quiet'], { preview: made() })).toBe(2);
    expect(desk.err).toBe('cannot write to o: the disk is full\n');
    expect([...desk.files.keys()].sort()).toEqual(['a.json', 'o/result.json']);
    expect(desk.files.get('o/result.json')).toBe('old');
    expect(desk.out).toBe('');
  });
  it('Ctrl-C while writing ends with 130 and leaves nothing half-written', async () => {
    const desk = createDesk({ 'a.json': harbour });
    desk.interruptAt = 'o/picture.svg.part';
    expect(await run(desk, ['settle', 'a.json', '--out', 'o', '--quiet'], { preview: made() })).toBe(130);
    expect([...desk.files.keys()]).toEqual(['a.json']);
    expect(desk.err).toBe('stopped; nothing was written\n');
  });
  it('--option all compares 4 options and writes a folder for each', async () => {
    const desk = createDesk({ 'a.json': harbour });
    expect(await run(desk, ['settle', 'a.json', '--option', 'all', '--out', 'o'], { preview: made() })).toBe(0);
    expect(desk.out).toContain('4 options');
    expect([...desk.files.keys()].filter((f) => f.endsWith('/mesh.obj'))).toEqual([
      'o/canvas-and-poplin/mesh.obj',
      'o/canvas-fleece-poplin/mesh.obj',
      'o/canvas-board-poplin/mesh.obj',
      'o/vegetable-tanned-leather/mesh.obj',
    ]);
    expect(JSON.parse(desk.files.get('o/result.json')!).results).toHaveLength(4);
  });
  it('on a terminal one line is written over and wiped; --quiet says nothing', async () => {
    const desk = createDesk({ 'a.json': harbour });
    await run(desk, ['settle', 'a.json'], { preview: made() }, true);
    expect(desk.err.match(/\n/g)).toBeNull();
    expect(desk.err.endsWith('\r 40 %  mid: settling\u001b[K\r\u001b[K')).toBe(true);
    expect(desk.out).toContain('\u001b[1mSLUMPS\u001b[22m');
    const quiet = createDesk({ 'a.json': harbour });
    await run(quiet, ['settle', 'a.json', '--quiet'], { preview: made() }, true);
    expect(quiet.err).toBe('');
  });
});

describe('materials', () => {
  it('a kind lists its materials and no others', async () => {
    const desk = createDesk();
    expect(await run(desk, ['materials', 'Leather'])).toBe(0);
    expect(desk.out).toContain('upholstery leather');
    expect(desk.out).not.toContain('canvas10');
  });
  it('lists all 66 presets with their evidence', async () => {
    const desk = createDesk();
    expect(await run(desk, ['materials'])).toBe(0);
    expect(desk.out.match(/\[(estimate|published)\]/g)!.length).toBeGreaterThanOrEqual(66);
  });
  it('shows one by id or by name, with bands, reasons and sources', async () => {
    const desk = createDesk();
    expect(await run(desk, ['materials', 'Canvas10'])).toBe(0);
    expect(desk.out).toMatch(/low \/ mid \/ high \[estimate/);
    expect(desk.out).toContain('why: ');
  });
  it('--json gives SI: canvas10 between 0.3 and 0.4 kg/m2', async () => {
    const desk = createDesk();
    expect(await run(desk, ['materials', 'canvas10', '--json'])).toBe(0);
    const m = JSON.parse(desk.out);
    expect(m.arealMass[1]).toBeGreaterThan(0.3);
    expect(m.arealMass[1]).toBeLessThan(0.4);
  });
  it('a mistyped name ends with 2 and suggests the nearest', async () => {
    const desk = createDesk();
    expect(await run(desk, ['materials', 'canvs10'])).toBe(2);
    expect(desk.err).toMatch(/^unknown material "canvs10"; did you mean "canvas10"/);
    const far = createDesk();
    expect(await run(far, ['materials', 'zzzzzzzz'])).toBe(2);
    expect(far.err).toContain('see `slumpline materials` for the list');
  });
});

describe('small parts', () => {
  it('option names become 4 different folder names without blanks or slashes', () => {
    expect(folderNames(['A / B', 'a b', '../..', 'Ünter'])).toEqual(['a-b', 'a-b-2', 'option-3', 'nter']);
  });
});

describe('a folder that cannot be written to', () => {
  it('is told before anything settles: exit 2, nothing printed', async () => {
    const desk = Object.assign(createDesk({ 'tote.bag.json': readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8') }), {
      locked: 'out',
    });
    const code = await run(desk, ['settle', 'tote.bag.json', '--out', 'out'], {
      preview: () => {
        throw new Error('settled all the same');
      },
    });
    expect([code, desk.out]).toEqual([2, '']);
    expect(desk.err).toBe('cannot write to out: permission denied\n');
  });
});
