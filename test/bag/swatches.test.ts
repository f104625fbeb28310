import { describe, expect, it } from 'vitest';
import { BagError, fileCloth, newBag, parseBag, parseBagDocument, printBag, withValue } from '../../src/index.ts';

const G = 9.80665;
const hide = (swatches: unknown, more: object = {}) => ({ materials: { hide: { like: 'chrome16', mass: '1000 g/m2', swatches, ...more } } });
const bagWith = (swatches: unknown, more: object = {}) =>
  parseBag(printBag(withValue(parseBagDocument(newBag('flat-tote')).document, ['materials'], hide(swatches, more).materials)));
const faults = (swatches: unknown, more: object = {}): string[] => {
  try {
    bagWith(swatches, more);
    return [];
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    return error.faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`);
  }
};
const OVERHANGS = [92, 80, 101, 88, 110, 95, 70];
const seven = OVERHANGS.map((mm, i) => ({ from: `place ${i + 1}`, overhang: { warp: `${mm} mm`, weft: `${mm - 20} mm` } }));
/** w (O/2)^3, Peirce 1930. */
const rigidity = (mm: number): number => G * (mm / 2000) ** 3;

describe('a material of several swatches', () => {
  it('seven places on a hide, 70 to 110 mm: low, middle, high are the softest, the median (92 mm) and the stiffest, along warp and weft; it says "7 swatches"', () => {
    const [own] = bagWith(seven).materials;
    console.log(own);
    expect(own.bendingWarp!.map((B, i) => B / rigidity([70, 92, 110][i]!))).toEqual([expect.closeTo(1, 9), expect.closeTo(1, 9), expect.closeTo(1, 9)]);
    expect(own.bendingWeft![1] / rigidity(72)).toBeCloseTo(1, 9);
    expect(own.measured).toBe(true);
    expect(own.swatches).toEqual({ count: 7, rule: 'min median max' });
    expect(own.source).toBe('7 swatches: softest, median, stiffest');
    const { story, sheet } = fileCloth(hide(seven), 'low');
    expect(story).toContain('7 swatches: softest, median, stiffest');
    expect(sheet.bending[0]).toBeLessThan(fileCloth(hide(seven), 'mid').sheet.bending[0]);
  });

  it("by Student's t: mean and 90 % interval for one more, ln B +- 1.943 s sqrt(1 + 1/7) (t of 6 degrees of freedom, common tables)", () => {
    const [own] = bagWith(seven, { rule: 't interval', source: 'one hide' }).materials;
    const logs = OVERHANGS.map((mm) => Math.log(rigidity(mm)));
    const mean = logs.reduce((a, b) => a + b) / 7;
    const s = Math.sqrt(logs.reduce((a, b) => a + (b - mean) ** 2, 0) / 6);
    const reach = 1.943 * s * Math.sqrt(1 + 1 / 7);
    for (const [i, B] of own.bendingWarp!.entries()) expect(Math.abs(B / Math.exp(mean + (i - 1) * reach) - 1)).toBeLessThan(1e-9);
    expect(own.source).toBe("7 swatches: 90 % interval for one more by Student's t; one hide");
  });

  it('each swatch may be weighed by itself: 62 mm of 300 and of 400 g/m2 and of 350 left out; an even number takes the geometric mean of the middle two', () => {
    const [own] = bagWith(
      [
        { overhang: '62 mm', mass: '300 g/m2' },
        { bending: '200 uN.m', mass: '400 g/m2' },
      ],
      { mass: '350 g/m2' },
    ).materials;
    const [a, b] = [0.3 * rigidity(62), 200e-6];
    expect(own.bendingWarp!.map((B) => B * 1e6)).toEqual([Math.min(a, b), Math.sqrt(a * b), Math.max(a, b)].map((B) => expect.closeTo(B * 1e6, 6)));
  });

  it.each<[string, unknown, object, RegExp]>([
    ['one swatch', [seven[0]], {}, /materials\.hide\.swatches: 1 swatch; 2 to 100/],
    ['two for a t interval', seven.slice(0, 2), { rule: 't interval' }, /2 swatches; 3 to 100 of them for "t interval"/],
    ['an overhang beside them', seven, { overhang: '90 mm' }, /overhang and swatches; at most one/],
    ['a rule without swatches', undefined, { rule: 't interval', overhang: '90 mm' }, /rule: "t interval"; a rule only beside "swatches"/],
    ['a swatch with nothing', [{ from: 'belly' }, seven[0]], {}, /swatches\[0\]: a swatch without overhang or bending/],
    ['a swatch with both', [{ overhang: '9 mm', bending: '9 uN.m' }, seven[0]], {}, /swatches\[0\]: a swatch with overhang and bending/],
    ['no unit', [{ overhang: 62 }, { overhang: { warp: '60 mm', weft: 'soft' } }], {}, /swatches\[0\]\.overhang: 62/],
    ['an unknown rule', seven, { rule: 'mean' }, /rule: "mean"; one of min median max, t interval/],
    ['an unknown key', [{ overhung: '62 mm' }, seven[0]], {}, /overhung.*did you mean "overhang"/],
  ])('%s is told with its path', (_, swatches, more, words) => {
    const said = faults(swatches, more).join('\n');
    console.log(said);
    expect(said).toMatch(words);
  });
});
