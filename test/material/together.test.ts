import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/index.ts';
import { layUp } from '../../src/material/index.ts';
import { sheetOf } from '../../src/material/layers.ts';

/** D11 of one stack at one end of its band, N*m. */
function end(layers: readonly unknown[], band: 'low' | 'mid' | 'high'): number {
  const bag = parseBag({
    slumpline: 1,
    panels: { p: { rectangle: { width: '100 mm', height: '100 mm' }, clips: [{ edge: 'bottom' }] } },
    stacks: { s: layers },
    stances: { held: {} },
  });
  return layUp(bag, bag.options[0]!.name, band)[0]![0]!.bending[0];
}
const bendingOf = (material: string, band: 'low' | 'mid' | 'high', share = 1) =>
  sheetOf({ materials: [] }, { material, thickness: null, thicknessRange: null, join: 'loose', bond: null, angle: 0 }, band, share).bending;
const alone = (material: string, band: 'low' | 'mid' | 'high', share = 1): number => bendingOf(material, band, share)[0];
/** Of two lying loose: mean of warp and weft. */
const loose = (a: readonly number[], b: readonly number[]): number => Math.sqrt((a[0]! + b[0]!) * (a[1]! + b[1]!));
const BANDS = ['low', 'high'] as const;

describe('how far the materials of a stack go towards the ends of their bands together (design point, first-order reliability)', () => {
  it.each(BANDS)('a stack of one material goes to its end, %s, in one layer or in two loose ones', (band) => {
    expect(end(['canvas10'], band)).toBe(alone('canvas10', band));
    expect(end(['canvas10', { loose: 'canvas10' }], band)).toBeCloseTo(2 * alone('canvas10', band), 15);
  });

  it.each(BANDS)(
    'canvas and lining lying loose, %s: with r the logarithms that each moves the sum by alone, each goes |r|/sqrt(r1^2 + r2^2) of its band, by hand to 1e-12',
    (band) => {
      const [a, b] = ['canvas10', 'foam'] as const;
      const mid = loose(bendingOf(a, 'mid'), bendingOf(b, 'mid'));
      const r = [loose(bendingOf(a, band), bendingOf(b, 'mid')), loose(bendingOf(a, 'mid'), bendingOf(b, band))].map((d) => Math.log(d / mid));
      const [s, t] = r.map((v) => Math.abs(v) / Math.hypot(...r));
      const expected = alone(a, 'mid') * (alone(a, band) / alone(a, 'mid')) ** s! + alone(b, 'mid') * (alone(b, band) / alone(b, 'mid')) ** t!;
      console.log(`${band}: canvas goes ${s!.toFixed(3)}, foam ${t!.toFixed(3)}: ${(1e6 * expected).toFixed(1)} uN.m`);
      expect(Math.abs(end([a, { loose: b }], band) / expected - 1)).toBeLessThan(1e-12);
      expect(alone(a, band, 0)).toBeCloseTo(alone(a, 'mid'), 15);
    },
  );

  it.each([
    [['canvas10', { fused: 'fleece' }, { loose: 'quilting' }]],
    [['denim14raw', { fused: 'fus_heavy' }, { loose: 'poplin' }]],
    [['chrome16', { bonded: 'leatherboard0.8' }, { loose: 'poplin' }]],
  ])('%j: its ends lie on both sides of its middle', (layers) => {
    const [low, mid, high] = (['low', 'mid', 'high'] as const).map((b) => end(layers, b));
    console.log(`${[low, mid, high].map((d) => (1e6 * d!).toFixed(0)).join(' / ')} uN.m, high over low ${(high! / low!).toFixed(1)}`);
    expect(low!).toBeLessThan(mid!);
    expect(high!).toBeGreaterThan(mid!);
  });
});
