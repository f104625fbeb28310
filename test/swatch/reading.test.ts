import { describe, expect, it } from 'vitest';
import { type BagError, newBag, parseBag, parseBagDocument, printBag, stripRigidity, withValue } from '../../src/index.ts';
import { loopHeight } from '../../src/swatch/elastica.ts';
import { cantileverReadings } from '../../src/swatch/friction.ts';
import { ownMaterialForm, sourceOf, swatchText } from '../../src/swatch/own-text.ts';
import { swatchMaterial } from '../../src/swatch/reading.ts';
import { parseReadings, scaleStep } from '../../src/swatch/readings.ts';

const G = 9.80665;
const base = {
  name: 'my canvas',
  like: 'canvas10',
  piece: { mass: '30.6 g', length: '30 cm', width: '30 cm', scale: '0.1 g' },
  thickness: '0.6 mm',
  'strip length': '200 mm',
  overhang: { warp: { face: ['70 mm', '72 mm'], back: ['68 mm', '70 mm'] }, weft: ['50 mm', '51 mm', '49 mm'] },
};
const read = (change: object = {}) => swatchMaterial(parseReadings(JSON.stringify({ ...base, ...change })));
const faultsOf = (change: object): string[] => {
  try {
    read(change);
  } catch (error) {
    return (error as BagError).faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`);
  }
  return [];
};
const show = (what: string, got: number, want: number, tolerance: string, source: string) =>
  console.log(`${what}: ${got}; expected ${want} +- ${tolerance}; ${source}`);

describe('readings at the table become a material', () => {
  it('30.6 g on 30 x 30 cm is 340 g/m2; a 70 mm overhang B = w (O/2)^3 = 143 uN.m (Peirce 1930; 41.5 deg rule)', () => {
    const s = read();
    const want = 0.34 * G * 0.035 ** 3;
    show('areal mass', s.arealMass, 0.34, '1e-12', 'M/(a b)');
    expect(s.arealMass).toBeCloseTo(0.34, 12);
    const warp = s.directions[0];
    show('B warp', warp.rigidity[1], want, '0.2 % (mean of cubes of 68..72 mm)', 'Peirce 1930');
    expect(Math.abs(warp.rigidity[1] / want - 1)).toBeLessThan(0.002);
  });

  it('one reading of +-5 % in overhang becomes +-15 % in rigidity, low (0.95)^3 and high (1.05)^3, and says so', () => {
    const s = read({ overhang: { warp: '70 mm', weft: '50 mm' }, ruler: '0.01 mm', piece: { ...base.piece, scale: '0.001 g' } });
    const [low, mid, high] = s.directions[0].rigidity;
    show('low/mid', low / mid, 0.95 ** 3, '1e-3', 'cube of the overhang');
    expect(Math.abs(low / mid - 0.95 ** 3)).toBeLessThan(1e-3);
    expect(Math.abs(high / mid - 1.05 ** 3)).toBeLessThan(1e-3);
    expect(s.warnings.join('\n')).toMatch(/15 % in rigidity/);
  });

  it('a 1 g scale on 10 x 10 cm of 400 g/m2 leaves +-12.5 % of mass and is said to limit the result', () => {
    const s = read({ piece: { mass: '4 g', length: '10 cm', width: '10 cm', scale: '1 g' } });
    show('mass error', s.massError, 0.125, '0.001', 'half a division over the mass, with the ruler');
    expect(s.massError).toBeCloseTo(0.1252, 3);
    expect(s.warnings.join('\n')).toMatch(/scale limits the mass/);
    expect(s.directions[0].rigidity[2] / s.directions[0].rigidity[1]).toBeGreaterThan(1.12);
  });

  it('D66 from warp, weft and bias gives the bias strip back to 1e-12 (compliance transformation)', () => {
    const s = read({ overhang: { ...base.overhang, bias: ['58 mm', '58 mm'] } });
    const bias = s.directions.find((d) => d.direction === 'bias')?.rigidity[1] as number;
    const back = stripRigidity(s.bending as never, Math.PI / 4);
    show('B45', back, bias, '1e-12 rel', 'stripRigidity(twistFromBias)');
    expect(Math.abs(back / bias - 1)).toBeLessThan(1e-12);
  });

  it('a bias strip stiffer than warp and weft allow gives no D66 and a warning', () => {
    const s = read({ overhang: { ...base.overhang, bias: ['120 mm'] } });
    expect(s.bending).toBeNull();
    expect(s.warnings.join('\n')).toMatch(/stiffer than its warp and weft allow/);
  });

  it('a board of 0.05 N.m: 9.0 mm drop at 200 mm, w = 7.85 N/m2, B = w L^4/(8 d) = 0.1744 N.m', () => {
    const s = read({
      like: 'nwboard',
      piece: { mass: '72 g', length: '30 cm', width: '30 cm' },
      overhang: undefined,
      'tip drop': { warp: { overhang: '200 mm', drop: ['9 mm', '9 mm'] }, weft: { overhang: '200 mm', drop: '9 mm' } },
    });
    const want = (0.8 * G * 0.2 ** 4) / (8 * 0.009);
    show('B', s.directions[0].rigidity[1], want, '1e-12 rel', 'uniformly loaded cantilever');
    expect(Math.abs(s.directions[0].rigidity[1] / want - 1)).toBeLessThan(1e-12);
  });

  it('a pear loop of K = 100, greatest width 0.19152 L (check value), gives w L^3/100 within 0.5 %; one too stiff for its strip is told to take a longer one', () => {
    const s = read({ overhang: undefined, 'pear loop': { warp: { length: '500 mm', width: '95.76 mm' }, weft: { length: '500 mm', width: '95.76 mm' } } });
    const want = (0.34 * G * 0.5 ** 3) / 100;
    show(
      'B',
      s.directions[0].rigidity[1],
      want,
      '0.5 % (the check value has five digits of width, of which load takes twenty times the error)',
      'pear_K100, computed',
    );
    expect(Math.abs(s.directions[0].rigidity[1] / want - 1)).toBeLessThan(5e-3);
    const stiff = faultsOf({ overhang: undefined, 'pear loop': { warp: { length: '500 mm', width: '101 mm' }, weft: { length: '500 mm', width: '95 mm' } } });
    expect(stiff.join('\n')).toMatch(/pear loop\.warp: a loop 101 mm wide; at most .* take a longer one, or read its tip drop/);
  });

  it('a heart loop of K = 100, h = 0.18404 L (check value), gives w L^3/100 within 0.1 %', () => {
    const L = 0.15;
    const s = read({
      'strip length': undefined,
      overhang: { weft: '50 mm' },
      'heart loop': { warp: { length: '150 mm', height: [`${0.18404 * L * 1000} mm`] } },
    });
    const want = (0.34 * G * L ** 3) / 100;
    show('B', s.directions[0].rigidity[1], want, '0.1 %', 'heart_K100, computed');
    expect(Math.abs(s.directions[0].rigidity[1] / want - 1)).toBeLessThan(1e-3);
    expect(loopHeight('heart', 100)).toBeCloseTo(0.18404, 4);
  });

  it('a pure-bending slope of 0.118 gf.cm2/cm, 11.6 uN.m, becomes 1.7 times as much, and its high end reaches 2.8 times', () => {
    const s = read({ overhang: { weft: '50 mm' }, 'pure bending': { warp: '0.11829 gf.cm2/cm' } });
    const [low, mid, high] = s.directions[0].rigidity.map((b) => b / 11.6e-6);
    show('mid over slope', mid, 1.7, '1e-3', 'published range for cottons');
    expect(mid).toBeCloseTo(1.7, 3);
    expect(high).toBeGreaterThan(2.8);
    expect(low).toBeLessThan(1.1);
    expect(s.warnings.join('\n')).toMatch(/friction of the yarns/);
  });

  it("with its hysteresis 2HB the range is the cloth's own: broadcloth of 11.6 uN.m and 1.22 mN, 120 g/m2, from the slope up to 31.8 uN.m (materials table: up to 32)", () => {
    const piece = { mass: '10.8 g', length: '30 cm', width: '30 cm', scale: '0.1 g' };
    const s = read({ like: 'poplin', piece, overhang: { weft: '41 mm' }, 'pure bending': { warp: { B: '0.11829 gf.cm2/cm', '2HB': '0.1244 gf.cm/cm' } } });
    const { bentUp, letBack } = cantileverReadings(11.6e-6, 1.22e-3, 0.12);
    show('bent up', bentUp, 32e-6, 'shown', 'materials table, "broadcloth in a pure-bending tester 11.6 elastic, up to 32 with its friction"');
    const [low, mid, high] = s.directions[0].rigidity;
    show('low / mid / high', low, 11.6e-6, `${mid}, ${high}`, 'slope to the reading of a strip bent up for the first time');
    expect(Math.abs(mid / Math.sqrt(11.6e-6 * bentUp) - 1)).toBeLessThan(1e-3);
    expect(low).toBeLessThan(11.6e-6);
    expect(high).toBeGreaterThan(bentUp);
    expect(letBack).toBeLessThan(11.6e-6);
    expect(s.warnings.join('\n')).toMatch(/up to 2\.7 times the slope, bent further and let back down to 0\.16 times/);
  });

  it('slope and hysteresis read alike in N.m2/m and gf.cm2/cm, N.m/m and gf.cm/cm; "kes" of an older file is read as "pure bending"', () => {
    const one = read({ overhang: { weft: '50 mm' }, kes: { warp: { B: '9.80665 uN.m2/m', '2HB': '0.980665 mN.m/m' } } }).directions[0].rigidity;
    const other = read({ overhang: { weft: '50 mm' }, 'pure bending': { warp: { B: ['0.1 gf.cm2/cm'], '2HB': '0.1 gf.cm/cm' } } }).directions[0].rigidity;
    one.forEach((b, i) => {
      expect(Math.abs(b / other[i] - 1)).toBeLessThan(1e-12);
    });
  });

  it('a face and a back that differ by more than 30 % in rigidity are told', () => {
    expect(read({ overhang: { warp: { face: '60 mm', back: '72 mm' }, weft: '50 mm' } }).warnings.join('\n')).toMatch(/face and back differ/);
  });
});

describe('the material goes into a bag file', () => {
  it('and comes out of the parser with the same rigidity to 0.2 %, named "your swatch"; the bias stack with its D66', () => {
    const s = read({ id: 'mine', fused: true, overhang: { ...base.overhang, bias: ['58 mm'] } });
    const form = ownMaterialForm(s);
    let { document } = parseBagDocument(newBag('boxed-tote'));
    document = withValue(document, ['materials', 'mine'], form.materials.mine);
    for (const [name, stack] of Object.entries(form.stacks ?? {})) document = withValue(document, ['stacks', name], stack);
    const bag = parseBag(printBag(document));
    const own = bag.materials.find((m) => m.id === 'mine');
    expect(own?.measured).toBe(true);
    expect(own?.source).toBe(sourceOf(s));
    for (const i of [0, 1, 2]) {
      show(`warp ${i}`, own?.bendingWarp?.[i] ?? Number.NaN, s.directions[0].rigidity[i], '0.2 % (four figures)', 'round trip');
      expect(Math.abs((own?.bendingWarp?.[i] ?? 0) / s.directions[0].rigidity[i] - 1)).toBeLessThan(2e-3);
    }
    const stack = bag.stacks.find((q) => q.name === 'mine with its twist');
    expect(stack?.kind === 'direct' && Math.abs(stack.bending[3] / (s.bending?.[3] ?? 0) - 1)).toBeLessThan(1e-3);
    expect(swatchText(s).join('\n')).toMatch(/340 g\/m2 \(10 oz\/yd2\)/);
  });
});

describe('bad readings are all listed, and nothing comes of them', () => {
  it.each([
    [
      'an overhang longer than the strip',
      { overhang: { warp: '210 mm', weft: '50 mm' } },
      /overhang\.warp: an overhang of 210 mm; less than the strip's own length, 200 mm/,
    ],
    ['zero', { overhang: { warp: '0 mm', weft: '50 mm' } }, /overhang\.warp: "0 mm"; more than zero/],
    ['negative', { overhang: { warp: '-5 mm', weft: '50 mm' } }, /more than zero/],
    ['no unit', { overhang: { warp: 70, weft: '50 mm' } }, /the unit is missing/],
    ['too limp for the overhang', { overhang: { warp: '9 mm', weft: '50 mm' } }, /too limp for this test, hang the strip as a heart loop/],
    ['too stiff for the overhang', { 'strip length': '600 mm', overhang: { warp: '500 mm', weft: '50 mm' } }, /too stiff for this test, read its tip drop/],
    ['a drop too deep', { overhang: { weft: '50 mm' }, 'tip drop': { warp: { overhang: '100 mm', drop: '20 mm' } } }, /too limp for this test, shorten/],
    [
      'a drop too small for the ruler',
      { overhang: { weft: '50 mm' }, 'tip drop': { warp: { overhang: '100 mm', drop: '1 mm' } } },
      /too stiff at this overhang/,
    ],
    ['a loop too stiff', { overhang: { weft: '50 mm' }, 'heart loop': { warp: { length: '100 mm', height: '13 mm' } } }, /too stiff for this strip/],
    ['a loop too limp', { overhang: { weft: '50 mm' }, 'heart loop': { warp: { length: '100 mm', height: '40 mm' } } }, /too limp for this strip/],
    ['ounces for grams', { piece: { mass: '31 oz', length: '30 cm', width: '30 cm' } }, /9760 g\/m2; .*is a unit wrong/],
    ['mm for cm', { piece: { mass: '31 g', length: '30 mm', width: '30 mm' } }, /is a unit wrong/],
    ['an unknown preset', { like: 'canvas11' }, /did you mean "canvas1/],
    [
      'a slope in the wrong unit',
      { overhang: { weft: '50 mm' }, 'pure bending': { warp: { B: '12 N.m' } } },
      /a slope of 12000000 uN\.m; .*is the unit meant to be gf\.cm2\/cm/,
    ],
    [
      'a hysteresis in the wrong unit',
      { overhang: { weft: '50 mm' }, 'pure bending': { warp: { B: '12 uN.m', '2HB': '0.12 N.m/m' } } },
      /2HB: 120 mN\.m\/m; at most 6 mN\.m\/m, .*gf\.cm\/cm/,
    ],
    ['a hysteresis without a slope', { overhang: { weft: '50 mm' }, kes: { warp: { '2HB': '0.1 gf.cm/cm' } } }, /warp\.B/],
    ['two names for one test', { kes: { warp: '12 uN.m' }, 'pure bending': { warp: '12 uN.m' } }, /one of them: "kes" is the older name of the same test/],
    ['an unknown word', { overhang: { wrap: '70 mm', weft: '50 mm' } }, /overhang\.wrap: an unknown entry; a known entry \(did you mean "warp"\?\)/],
    ['no weft', { overhang: { warp: '70 mm' } }, /no strip along the weft/],
    ['no readings', { overhang: { warp: [], weft: '50 mm' } }, /one to a hundred readings/],
  ])('%s', (_, change, wanted) => {
    const got = faultsOf(change).join('\n');
    console.log(got);
    expect(got).toMatch(wanted);
  });

  it('several at once: 400 oz/yd2-like mass, no unit and an unknown word give three faults', () => {
    const got = faultsOf({ piece: { mass: '31 oz', length: '30 cm', width: '30 cm' }, overhang: { warp: 70, weft: '50 mm' }, colour: 'red' });
    expect(got).toHaveLength(3);
  });

  it.each(['', '{', '[]', 'null', '{"overhang": 3}', '{"piece": []}'])('no file of readings: %j is refused with a path or a place', (text) => {
    expect(() => parseReadings(text)).toThrow(/expected/);
  });

  it('the scale is as fine as the weight that was written: 2.9 g tenths, 31 g whole grams, 1.25 oz hundredths of an ounce; one that is stated counts', () => {
    const [gram, ounce] = [1e-3, 0.45359237 / 16];
    expect(scaleStep('2.9 g')).toBeCloseTo(0.1 * gram, 12);
    expect(scaleStep('31 g')).toBeCloseTo(gram, 12);
    expect(scaleStep('1,25 oz')).toBeCloseTo(0.01 * ounce, 12);
    expect(scaleStep('1 1/2 oz')).toBeCloseTo(gram, 12);
    const { scale: _, ...unstated } = base.piece;
    expect(read({ piece: { ...unstated, mass: '30.6 g' } }).readings.scale).toBeCloseTo(0.1 * gram, 12);
    expect(read({ piece: { ...unstated, mass: '30.6 g', scale: '1 g' } }).readings.scale).toBeCloseTo(gram, 12);
  });
});
