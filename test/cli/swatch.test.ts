import { describe, expect, it } from 'vitest';
import { ran as run } from './desk.ts';

const READINGS = JSON.stringify({
  name: 'my canvas',
  id: 'mine',
  like: 'canvas10',
  piece: { mass: '30.6 g', length: '30 cm', width: '30 cm', scale: '0.1 g' },
  overhang: { warp: ['70 mm', '70 mm'], weft: ['50 mm', '50 mm'], bias: ['58 mm', '58 mm'] },
});

describe('slumpline swatch', () => {
  it('cantilever from bare figures: JSON with reading, theory, error, status, residual; 41.5 +- 0.5 deg at 5 mm; exit 0', async () => {
    const { code, out, err } = await run(['swatch', 'cantilever', '--rigidity', '1e-4', '--areal-mass', '340 g/m2', '--mesh', '5', '--json']);
    expect([code, err]).toEqual([0, '']);
    const r = JSON.parse(out);
    console.log(`reading ${r.reading}, theory ${r.theory}, error ${r.error}; ${r.source}`);
    expect(Math.abs(r.reading - 41.5)).toBeLessThan(0.5);
    expect(r.error).toBeCloseTo(r.reading - r.theory, 9);
    expect(r.status).toBe('settled');
    expect(r.residual).toBeLessThan(1e-4);
    expect(r.formula).toContain('theta');
    expect(r.notes).toEqual([]);
    expect(r.strip).toMatchObject({ width: 0.025, cut: 0, rigidity: 1e-4, weight: 0.34 * 9.80665 });
    expect(Math.abs(r.strip.load - 8.0042)).toBeLessThan(1e-9);
  });

  it('rigidity with its unit is the same: 100 uN.m', async () => {
    const json = async (b: string) => (await run(['swatch', 'pear', '--rigidity', b, '--areal-mass', '340 g/m2', '--mesh', '5 mm', '--json'])).out;
    expect(await json('100 uN.m')).toBe(await json('1e-4'));
  });

  it('a built-in material by id: text with reading, theory, error, formula, source and its place among tested fabrics', async () => {
    const { code, out } = await run(['swatch', 'cantilever', 'denim11', '--cut', '90', '--mesh-kind', 'equilateral']);
    expect(code).toBe(0);
    for (const word of ['reading', 'theory', 'error', 'status', 'formula', 'source', '251 fabrics', '11 oz black denim']) expect(out).toContain(word);
  });

  it('corner of a built-in material: creased by default, text with theory beside the drop; --pressed takes the words of the bag file', async () => {
    const { code, out } = await run(['swatch', 'corner', 'canvas10']);
    console.log(out);
    expect(code).toBe(0);
    for (const word of ['drop of the tip below the seam', 'theory', 'end hinge', 'estimate']) expect(out).toContain(word);
    expect((await run(['swatch', 'corner', 'canvas10', '--pressed', 'ironed'])).code).toBe(2);
    expect((await run(['swatch', 'pear', 'canvas10', '--pressed', 'open'])).code).toBe(2);
  });

  it('readings are written as a material, which is then tested: its bias strip of 58 mm', async () => {
    const made = await run(['swatch', 'reading', 'r.json', '--out', 'mine.json'], { 'r.json': READINGS });
    expect([made.code, made.err]).toEqual([0, '']);
    expect(Object.keys(made.files).sort()).toEqual(['mine.json', 'r.json']);
    expect(Object.keys(JSON.parse(made.files['mine.json']).materials)).toEqual(['mine']);
    const tested = await run(['swatch', 'cantilever', 'mine.json', '--cut', '45', '--json'], made.files);
    expect(tested.code).toBe(0);
    const { more } = JSON.parse(tested.out);
    console.log(`length at 41.5 deg ${more.length}, expected 0.058 +- 0.2 %; rule O = 2c`);
    expect(Math.abs(more.length / 0.058 - 1)).toBeLessThan(2e-3);
  });

  it.each<[string, string[], Record<string, string>, RegExp[]]>([
    [
      'everything wrong at once',
      ['cantilver', 'canvas11', '--rigidity', '-1', '--areal-mass', '400 oz/yd2', '--mesh', 'x', '--mesh-kind', 'hex'],
      {},
      [
        /did you mean "cantilever"/,
        /did you mean "canvas10"/,
        /--rigidity "-1": expected more than zero/,
        /is the unit meant to be g\/m2/,
        /--mesh "x"/,
        /--mesh-kind "hex"/,
      ],
    ],
    ['no material', ['cantilever'], {}, [/name one, or give --rigidity and --areal-mass/]],
    ['half of the figures', ['heart', '--rigidity', '1e-4'], {}, [/both are needed/]],
    ['a mesh coarser than the strip', ['heart', 'pp1', '--length', '50', '--mesh', '30'], {}, [/at most a sixth/]],
    ['far too many vertices', ['cantilever', 'pp1', '--mesh', '0.1'], {}, [/vertices are too many/]],
    ['too stiff', ['pear', '--rigidity', '1000 N.m', '--areal-mass', '300 g/m2'], {}, [/too stiff for this test: .*use board/]],
    ['too limp', ['cantilever', '--rigidity', '2.4e-8', '--areal-mass', '300 g/m2'], {}, [/too limp for this test: .*use heart/]],
    ['too limp for any strip', ['heart', '--rigidity', '1e-10', '--areal-mass', '300 g/m2'], {}, [/too limp for this test: .*use drape/]],
    ['a strip too long', ['cantilever', 'lawn', '--length', '300'], {}, [/too limp for a strip of that length .*use heart/]],
    ['a board test of a cloth', ['board', 'lawn', '--length', '100'], {}, [/too limp .*use cantilever/]],
    ['a loop too short', ['pear', 'pp1', '--length', '100'], {}, [/too stiff .*use cantilever/]],
    ['a mesh kind for the disc', ['drape', 'lawn', '--mesh-kind', 'irregular'], {}, [/a disc is meshed in one way only/]],
    [
      "a test's figures with readings",
      ['reading', 'a.json', '--rigidity', '1', '--cut', '3'],
      { 'a.json': '{}' },
      [/--rigidity is for a test/, /--cut is for a test/],
    ],
    ['a disc no wider than its support', ['drape', 'lawn', '--length', '150'], {}, [/wider than the 180 mm disc/]],
    ['a mass without its unit', ['heart', '--rigidity', '1e-4', '--areal-mass', '340'], {}, [/a mass per area with its unit/]],
    ['no such file', ['heart', 'none.json'], {}, [/there is no such file/]],
    ['a file that is no JSON', ['heart', 'a.json'], { 'a.json': '{' }, [/not a JSON file/]],
    ['a file without a material', ['heart', 'a.json'], { 'a.json': '{}' }, [/no materials and no stacks/]],
    ['a broken material', ['heart', 'a.json'], { 'a.json': '{"materials": {"m": {"mass": 3}}}' }, [/materials\.m\.mass/]],
    [
      'a file of 400 oz/yd2',
      ['heart', 'a.json'],
      { 'a.json': '{"materials": {"m": {"name": "m", "like": "canvas10", "mass": "400 oz/yd2"}}}' },
      [/materials\.m\.mass: got 13562 g\/m2; .*is the unit meant to be g\/m2/],
    ],
    ['a list for a file', ['heart', 'a.json'], { 'a.json': '[]' }, [/an object with "materials"/]],
    ['readings that are none', ['reading', 'a.json'], { 'a.json': '{"name": "x"}' }, [/no strip along the warp/, /nothing was written/]],
    ['reading without a file', ['reading'], {}, [/which file\?/]],
  ])('%s: exit 2, nothing on stdout', async (_, argv, files, wanted) => {
    const { code, out, err } = await run(['swatch', ...argv], files);
    console.log(err);
    expect([code, out]).toEqual([2, '']);
    for (const w of wanted) expect(err).toMatch(w);
  });

  it.each([
    ['the readings themselves', 'r.json', READINGS],
    ['a bag file', 'tote.bag.json', '{"slumpline": 1, "materials": {}}'],
    ['any other text', 'notes.txt', 'my notes'],
  ])('--out never writes over %s: exit 2, the file as it was', async (_, out, before) => {
    const { code, err, files } = await run(['swatch', 'reading', 'r.json', '--out', out], { 'r.json': READINGS, [out]: before });
    expect([code, files[out]]).toEqual([2, before]);
    expect(err).toMatch(/is there already .* nothing was written/);
  });

  it('--out writes over a material of its own making', async () => {
    const { code, files } = await run(['swatch', 'reading', 'r.json', '--out', 'm.json'], { 'r.json': READINGS, 'm.json': '{"materials": {}}' });
    expect(code).toBe(0);
    expect(files['m.json']).toContain('my canvas');
  });

  it('bad readings write nothing', async () => {
    const bad = READINGS.replace('"70 mm","70 mm"', '"-70 mm"');
    const { code, files } = await run(['swatch', 'reading', 'r.json', '--out', 'mine.json'], { 'r.json': bad });
    expect(code).toBe(2);
    expect(Object.keys(files)).toEqual(['r.json']);
  });
});

describe('slumpline compare', () => {
  it('two presets and a material of one’s own: table on stdout, five files in the folder', async () => {
    const made = await run(['swatch', 'reading', 'r.json', '--out', 'mine.json'], { 'r.json': READINGS });
    const { code, out, err, files } = await run(['compare', 'canvas10', 'poplin', 'mine.json', '--length', '80', '--out', 'side'], made.files);
    expect([code, err]).toEqual([0, '']);
    for (const word of ['mine with its twist', 'Overhang at 41.5°, lengthwise', 'of 100 published fabrics', 'A strip 80', 'Peirce 1930', 'estimate'])
      expect(out).toContain(word);
    expect(
      Object.keys(files)
        .filter((f) => f.startsWith('side/'))
        .sort(),
    ).toEqual(['cloths.csv', 'droop.svg', 'lab-sheet.html', 'loops.svg', 'mass.svg'].map((f) => `side/${f}`));
    // Its own reading comes back: strips of 70 mm lengthwise.
    expect(files['side/cloths.csv']).toMatch(/mine with its twist,340,340,340,[\d.]+,(70|69\.9\d*|70\.0\d*),/);
  });

  it('every fault at once: an unknown material, a length of nothing, another unit; nothing written; exit 2', async () => {
    const { code, err, files } = await run(['compare', 'canvas1', '--length', '0', '--unit', 'ell', '--out', 'x']);
    expect(code).toBe(2);
    for (const word of ['canvas1', '--length "0"', '--unit "ell"']) expect(err).toContain(word);
    expect(Object.keys(files)).toEqual([]);
  });
});
