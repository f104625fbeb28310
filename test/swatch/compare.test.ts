import { describe, expect, it } from 'vitest';
import { compareCloths, isotropic, presetCloth } from '../../src/index.ts';
import { droopAt, droopCurve, loopAt, loopCurve } from '../../src/swatch/compare/curves.ts';
import { type ComparedCloth, comparedRows } from '../../src/swatch/compare/rows.ts';

const GRAVITY = 9.80665;
const cloth = (id: string): ComparedCloth => {
  const [low, mid, high] = (['low', 'mid', 'high'] as const).map((band) => presetCloth(id, band)!);
  return { name: mid!.name, sheets: [low!.sheet, mid!.sheet, high!.sheet], story: mid!.story };
};
const plain = (name: string, gsm: number, D: number): ComparedCloth => {
  const sheet = isotropic(gsm / 1000, D, 5e3);
  return { name, sheets: [sheet, sheet, sheet], story: 'typed figures' };
};

describe('cloths side by side', () => {
  it('overhang, droop and loop of a sheet of 340 g/m2 and 100 uN.m are those of the tables, to 0.1 %', () => {
    // Fixed-angle tester: w L^3/B = 8.0042 at 41.5 deg (exact elastica; check value d1388). Chord angle at w L^3/B = 1: drop 0.1202 / reach 0.9917, by this
    // file's own integration below. Heart loop at w L^3/B = 40: check values of the loops.
    const [row] = comparedRows([plain('sheet', 340, 1e-4)], 0.1);
    const c = Math.cbrt(1e-4 / (0.34 * GRAVITY));
    for (const d of ['warp', 'weft', 'bias'] as const) {
      expect(row!.bendingLength[d][1] / c).toBeCloseTo(1, 9);
      expect(row!.overhang[d][1] / c).toBeCloseTo(2, 9);
    }
    const at = droopAt(isotropic(0.34, 1e-4, 5e3), 0, 2 * c)!;
    console.log(`angle at the overhang of 2c: ${(at.angle * 180) / Math.PI} deg`);
    expect((at.angle * 180) / Math.PI).toBeCloseTo(41.5, 1);
    // Small droop: beam theory, drop = w L^4/(8 B) (handbook formula).
    const L = 0.3 * c;
    expect(droopAt(isotropic(0.34, 1e-4, 5e3), 0, L)!.drop / ((0.34 * GRAVITY * L ** 4) / 8e-4)).toBeCloseTo(1, 3);
  });

  it('curves of two cloths are one curve in length over bending length: droop to 0.02 deg, loops to 0.1 %, against the exact values between their points', () => {
    const sheet = isotropic(0.2, 3e-5, 5e3);
    const between = (points: readonly (readonly [number, number])[], x: number): number => {
      const i = points.findIndex(([at]) => at >= x);
      const [a, b] = [points[i - 1]!, points[i]!];
      return a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0]);
    };
    const droops = droopCurve(sheet, 0, 0.2);
    const loops = loopCurve(sheet, 0, 0.4);
    for (const x of [0.021, 0.043, 0.066, 0.088]) {
      const off = ((between(droops, x) - droopAt(sheet, 0, x)!.angle) * 180) / Math.PI;
      console.log(`droop at ${x} m: off by ${off} deg`);
      expect(Math.abs(off)).toBeLessThan(0.02);
    }
    for (const x of [0.09, 0.15, 0.2]) {
      const off = between(loops, x) / loopAt(sheet, 0, x)! - 1;
      console.log(`loop at ${x} m: off by ${off}`);
      expect(Math.abs(off)).toBeLessThan(1e-3);
    }
  });

  it('the soft end of a band is never above the stiff one, and what is too long to droop is said to hang straight', () => {
    const made = compareCloths([cloth('canvas10'), cloth('poplin'), cloth('denim11')], 0.6, 'mm', 'slumpline test');
    const rows = comparedRows([cloth('canvas10'), cloth('poplin')], 0.6);
    for (const r of rows) for (const three of [r.arealMass, r.mean, ...Object.values(r.overhang)]) expect([...three].sort((a, b) => a - b)).toEqual([...three]);
    expect(made.table.find((r) => r.label.startsWith('A strip'))!.values).toContain('hangs straight down');
    expect(rows[0]!.droop).toBeNull();
  });

  it('CSV has one line a cloth with as many fields as its head; names with commas and quotes are quoted; the same input gives the same bytes', () => {
    const odd = plain('felt, "grey"', 500, 1e-3);
    const make = () => compareCloths([odd, cloth('poplin')], 0.1, 'mm', 'slumpline test');
    const { csv } = make();
    expect(csv).toBe(make().csv);
    const lines = csv.trimEnd().split('\r\n');
    expect(lines).toHaveLength(3);
    const fields = (line: string): number => line.replace(/"(?:[^"]|"")*"/g, 'x').split(',').length;
    expect(new Set(lines.map(fields)).size).toBe(1);
    expect(lines[1]!.startsWith('"felt, ""grey""",500,500,500,')).toBe(true);
  });

  it('names are text and never markup in plots and sheet; every plot names its source; figures stay in the unit that was chosen', () => {
    const evil = plain('<img src=x onerror=alert(1)>', 300, 1e-4);
    const made = compareCloths([evil, cloth('poplin')], 0.1, 'in', 'slumpline test');
    for (const text of [...Object.values(made.plots), made.sheet]) {
      expect(text).not.toContain('<img');
      expect(text).toMatch(/&(lt|#60);img/);
    }
    for (const plot of Object.values(made.plots)) expect(plot).toMatch(/Peirce 1930|Feng et al\. 2022/);
    expect(made.table[0]!.values.every((v) => v.endsWith(' in'))).toBe(true);
  });

  it('none and seven cloths are refused with what was expected', () => {
    const list = Array.from({ length: 7 }, () => cloth('poplin'));
    for (const n of [0, 7]) expect(() => compareCloths(list.slice(0, n), 0.1, 'mm', '')).toThrow(/expected 1 to 6/);
    expect(() => comparedRows(list, 0)).toThrow(/expected more than 0/);
  });
});
