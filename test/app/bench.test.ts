import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { clothsOf } from '../../src/app/bench/cloths.ts';
import { FIRST_ENTRY, readEntry, restored } from '../../src/app/bench/entries.ts';
import { emptyIn, faultsByField, isEmpty, type Key, type OwnEntry, readingsText, restoredOwn } from '../../src/app/bench/own-entries.ts';
import { scaleFor } from '../../src/app/bench/scene.ts';
import { words } from '../../src/app/bench/words.ts';
import { type BagForm, withMaterial, withShell } from '../../src/app/page/bag-form.ts';
import { text } from '../../src/app/page/text.ts';
import { BagError, type Fault, parseBag, parseReadings, TEST_NAMES } from '../../src/index.ts';

const tote = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');

function faultsOf(entry: OwnEntry): ReadonlyMap<Key, string> {
  let faults: readonly Fault[] = [];
  try {
    parseReadings(readingsText(entry));
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    faults = error.faults;
  }
  return faultsByField(faults, entry);
}

const EMPTY = emptyIn('metric');
const GOOD = { ...EMPTY.typed, name: 'Sailcloth', weight: '31', pieceLength: '30 cm', pieceWidth: '300' };

describe('the form of readings', () => {
  it('bare numbers become mm and g, units of their own stay: 4 readings of 2 directions and 2 faces', () => {
    const r = parseReadings(
      readingsText({
        method: 'overhang',
        fused: false,
        unit: 'mm',
        photos: [],
        typed: { ...GOOD, 'warp face': '62; 2 1/2 in', 'warp back': '61.5 mm', 'weft face': '49' },
      }),
    );
    expect(r.mass).toBeCloseTo(0.031, 12);
    expect(r.sides).toEqual([0.3, 0.3]);
    expect(r.strips.map((s) => [s.direction, s.side, Number(s.length.toFixed(6))])).toEqual([
      ['warp', 'face', 0.062],
      ['warp', 'face', 0.0635],
      ['warp', 'back', 0.0615],
      ['weft', 'face', 0.049],
    ]);
  });

  it('an empty form has 6 faults, each at its own field', () => {
    expect([...faultsOf(EMPTY).keys()].sort()).toEqual(['name', 'pieceLength', 'pieceWidth', 'warp face', 'weft face', 'weight']);
  });

  it.each([
    ['overhang', { 'warp face': '8', 'weft back': '-4' }, ['warp face', 'weft back']],
    ['tip drop', { 'warp fixed': '', 'warp face': '9', 'weft fixed': '200', 'weft back': '90' }, ['warp fixed', 'weft back']],
    ['heart loop', { 'warp fixed': '150', 'warp face': 'x', 'weft fixed': 'y', 'weft face': '40' }, ['warp face', 'weft fixed']],
    ['pure bending', { 'warp face': '11.6', 'warp width': 'wide', 'weft face': '0' }, ['warp width', 'weft face']],
  ] as const)('%s: faults stand at %s', (method, typed, expected) => {
    expect([...faultsOf({ method, fused: false, unit: 'mm', photos: [], typed: { ...GOOD, ...typed } }).keys()].sort()).toEqual(expected);
  });

  it('what another version or another hand left in the store is taken only where it makes sense', () => {
    expect(restoredOwn({ method: 'guess', fused: 'yes', typed: { weight: '31', nonsense: 'x', name: 4 } })).toEqual({
      method: 'overhang',
      fused: false,
      unit: 'mm',
      photos: [],
      typed: { ...EMPTY.typed, weight: '31' },
    });
    expect(restored({ test: 'pull', band: 'high', stiffer: 99, length: '60' })).toEqual({ ...FIRST_ENTRY, band: 'high', length: '60' });
    expect(restored(null)).toEqual(FIRST_ENTRY);
  });
});

describe('the fields of a test', () => {
  const cloths = clothsOf(parseBag(tote), 'mid');

  it('every test of the bench has its words', () => {
    expect(Object.keys(words.tests).sort()).toEqual([...TEST_NAMES].sort());
  });

  it('the preset of the first entry hangs over by the length that the check of its own figures gives: 41.5 degrees at (8.0042 B/w)^(1/3)', () => {
    const read = readEntry(FIRST_ENTRY, cloths);
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    // canvas10: geometric mean 55 uN.m, stiffer over softer direction 1.7, so 55 sqrt(1.7) lengthwise; 339 g/m2 (materials table).
    expect(read.length).toBeCloseTo(Math.cbrt((8.0042 * 55e-6 * Math.sqrt(1.7)) / (0.339 * 9.80665)), 6);
  });

  it('2 sliders one octave up double rigidity and mass and leave the overhang as it is', () => {
    const [one, two] = [FIRST_ENTRY, { ...FIRST_ENTRY, stiffer: 1, heavier: 1 }].map((e) => readEntry(e, cloths));
    if ('faults' in one || 'faults' in two) throw new Error('faults');
    expect(two.sheet.arealMass / one.sheet.arealMass).toBeCloseTo(2, 12);
    expect(two.sheet.bending[3] / one.sheet.bending[3]).toBeCloseTo(2, 12);
    expect(two.length).toBeCloseTo(one.length, 12);
  });

  it('3 wrong fields are told together; a mesh too coarse stands at the mesh', () => {
    const bad = readEntry({ ...FIRST_ENTRY, from: 'figures', mass: 'x', rigidity: '-1', length: '0' }, cloths);
    expect('faults' in bad && Object.keys(bad.faults).sort()).toEqual(['length', 'mass', 'rigidity']);
    const coarse = readEntry({ ...FIRST_ENTRY, mesh: '30 mm' }, cloths);
    expect('faults' in coarse && coarse.faults.mesh).toMatch(/at most a sixth/);
  });
});

describe('a swatch in the bag', () => {
  const form = JSON.parse(tote) as BagForm;
  const bag = parseBag(tote);
  const material = { name: 'mine', like: 'canvas10', mass: '344 g/m2', overhang: { warp: '62 mm', weft: '48 mm' } };

  it('takes the place of the shell of the front and of what has the same shell; other options and the file beside it stay', () => {
    const option = bag.options[1].name;
    const next = withShell(withMaterial(form, 'mine', material), bag, { option, from: option, material: 'mine', alone: false }, text.controls.groups);
    const now = parseBag(JSON.stringify(next));
    const shell = (b: typeof bag, o: number, panel: string): string => {
      const stack = b.stacks.find((s) => s.name === b.options[o].stacks[panel])!;
      return stack.kind === 'layers' ? stack.layers.map((l) => l.material).join() : '';
    };
    const old = shell(bag, 1, 'front').split(',');
    for (const panel of bag.panels) {
      const before = shell(bag, 1, panel.name).split(',');
      const expected = before[0] === old[0] ? ['mine', ...before.slice(1)] : before;
      expect(shell(now, 1, panel.name), panel.name).toBe(expected.join());
      expect(shell(now, 0, panel.name)).toBe(shell(bag, 0, panel.name));
    }
    expect(shell(now, 1, 'front').split(',')[0]).toBe('mine');
    expect(next.parameters).toEqual(form.parameters);
  });
});

it('a picture keeps its scale over small changes: boxes of 100 to 103 mm share one, and each fits its room', () => {
  const box = (width: number) => ({ left: 0, right: width, low: -0.01, high: 0 });
  expect(scaleFor(box(0.1), 600, 400)).toBe(scaleFor(box(0.103), 600, 400));
  for (const width of [0.02, 0.05, 0.13, 0.9]) expect(scaleFor(box(width), 600, 400) * width).toBeLessThanOrEqual(600);
});

it('absurd figures of any field are refused beside it, and 1e-9 to 1000 N.m, 10 g/m2 to 10 kg/m2 are taken', () => {
  const bag = parseBag(tote);
  const figures = { ...FIRST_ENTRY, from: 'figures' } as const;
  const faults = (part: Partial<typeof FIRST_ENTRY>) => {
    const read = readEntry({ ...figures, ...part }, clothsOf(bag, 'mid'));
    return 'faults' in read ? read.faults : {};
  };
  expect(faults({})).toEqual({});
  expect(faults({ mass: '1e99 g/m2', rigidity: '1e99 N.m', inPlane: '1e99 N/m', length: '1e99 mm', mesh: '1e-9 mm' })).toEqual({
    mass: words.massRange,
    rigidity: words.rigidityRange,
    inPlane: words.inPlaneRange,
    length: words.lengthRange.metric,
    mesh: words.lengthRange.metric,
  });
  expect(faults({ mass: '10 kg/m2', rigidity: '1000 N.m' })).not.toHaveProperty('mass');
});

it('a reader in inches types bare inches: 2 1/2 and 2.5 are 63.5 mm, kept forms stay in the mm that they were typed in, and an empty one is told from one begun', () => {
  const inches = emptyIn('inch');
  expect(inches.unit).toBe('in');
  const r = parseReadings(
    readingsText({
      ...inches,
      typed: { ...inches.typed, name: 'Duck', weight: '31', pieceLength: '12', pieceWidth: '12', 'warp face': '2.5', 'weft face': '2' },
    }),
  );
  expect(r.strips.map((s) => Number(s.length.toFixed(6)))).toEqual([0.0635, 0.0508]);
  expect(r.sides.map((v) => Number(v.toFixed(6)))).toEqual([0.3048, 0.3048]);
  expect(restoredOwn({ typed: { weight: '31' } }).unit).toBe('mm');
  expect([isEmpty(inches), isEmpty(EMPTY), isEmpty({ ...EMPTY, typed: GOOD })]).toEqual([true, true, false]);
});

it('typed figures: an overhang of 51 mm on 340 g/m2 is the rigidity 55 uN.m that it follows from, within 1 %; a bare length is in the unit chosen', () => {
  const cloths = clothsOf(parseBag(tote), 'mid');
  const figures = { ...FIRST_ENTRY, from: 'figures' } as const;
  const bending = (part: Partial<typeof FIRST_ENTRY>, units: 'metric' | 'inch' = 'metric'): number => {
    const read = readEntry({ ...figures, ...part }, cloths, units);
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    return read.sheet.bending[0];
  };
  // B = w c^3 with c = 25.5 mm (Peirce 1930).
  expect(bending({ rigidity: '51 mm' }) / 0.34 / 9.80665 / 0.0255 ** 3).toBeCloseTo(1, 2);
  expect(bending({ rigidity: '55 uN.m' }) / 55e-6).toBeCloseTo(1, 2);
  expect(bending({ rigidity: '2' }, 'inch')).toBeCloseTo(bending({ rigidity: '2 in' }), 12);
  const long = readEntry({ ...figures, length: '4' }, cloths, 'inch');
  expect('faults' in long ? long.faults : long.length).toBeCloseTo(4 * 0.0254, 12);
});
