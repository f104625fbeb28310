import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { PRESET_IDS } from '../../src/bag/index.ts';
import { EVIDENCE_ROWS, materialBands, overhang, presetNotes, presets } from '../../src/material/index.ts';
import { sheetOf } from '../../src/material/layers.ts';
import { bendingLength, duckArealMass, OZ_PER_YD2, overhangAtFixedAngle } from '../../src/units/index.ts';
import { numbers, row, rows } from '../standards/rows.ts';

const layerOf = (material: string) => ({ material, thickness: null, thicknessRange: null, join: 'loose' as const, bond: null, angle: 0 });
const bag = { materials: [] };

test('41 built-in materials, one for every id of the bag file, each with its reasoning', () => {
  expect(presets().length).toBe(41);
  expect(
    presets()
      .map((p) => p.id)
      .sort(),
  ).toEqual([...PRESET_IDS].sort());
  for (const p of presets()) {
    expect(presetNotes(p.id)!.reasoning.length, p.id).toBeGreaterThan(5);
    expect(p.status.length, p.id).toBeGreaterThan(5);
  }
  expect(EVIDENCE_ROWS.length).toBe(18);
});

test('every band rises from low to high and lies within the limits of the bag file', () => {
  for (const p of presets()) {
    for (const band of [p.arealMass, p.thickness, p.bending, p.inPlane, p.shear, p.stiffOverSoft])
      expect(band[0] <= band[1] && band[1] <= band[2] && band[0] > 0, `${p.id} ${band}`).toBe(true);
  }
});

test('nothing is called published unless its status says so and both ends of its band were read: the polypropylene sheets; no preset is a swatch', () => {
  const published = presets().filter((p) => p.evidence === 'published');
  console.log(`published: ${published.map((p) => `${p.id} (${p.status})`).join('; ')}`);
  expect(published.every((p) => p.status.startsWith('published') && !/inferred|estimate|second-hand/.test(p.status))).toBe(true);
  expect(published.map((p) => p.id)).toEqual(['pp0.5', 'pp0.8', 'pp1', 'pp1.5']);
  expect(presets().every((p) => p.evidence === 'published' || p.evidence === 'estimate')).toBe(true);
});

test('presets that carry a trade weight weigh it within 2 %: canvas 8-24 oz, duck No. 8 and 10', () => {
  const trade: readonly [string, number][] = [
    ['canvas8', 8 * OZ_PER_YD2],
    ['canvas10', 10 * OZ_PER_YD2],
    ['canvas12', 12 * OZ_PER_YD2],
    ['canvas16', 16 * OZ_PER_YD2],
    ['canvas24', 24 * OZ_PER_YD2],
    ['duck10', duckArealMass('10') ?? 0],
    ['duck8', duckArealMass('8') ?? 0],
  ];
  for (const [id, mass] of trade) {
    const got = materialBands(id)?.arealMass[1] ?? 0;
    console.log(`${id}: ${got} kg/m2, expected ${mass} +- 2 %`);
    expect(Math.abs(got / mass - 1)).toBeLessThan(0.02);
  }
});

test.each([
  ['poplin', 'gsm_poplin'],
  ['denim11', 'gsm_denim'],
  ['canvas10', 'gsm_canvas'],
  ['canvas12', 'gsm_canvas'],
])('%s lies in the band of the trade, %s', (id, check) => {
  const [low, high] = numbers(row(check).value);
  const mass = (materialBands(id)?.arealMass[1] ?? 0) * 1000;
  console.log(`${id}: ${mass} g/m2, band ${low}-${high} (${row(check).source})`);
  expect(mass).toBeGreaterThanOrEqual(low);
  expect(mass).toBeLessThanOrEqual(high);
});

test('lawn 70-100 and quilting 130-200 g/m2 lie in the bands of the trade; leather densities in 600-1050 kg/m3', () => {
  const mass = (id: string) => (materialBands(id)?.arealMass[1] ?? 0) * 1000;
  const [a, b, c, d] = numbers(row('gsm_lawn').value);
  expect(mass('lawn') >= a && mass('lawn') <= b).toBe(true);
  expect(mass('quilting') >= c && mass('quilting') <= d).toBe(true);
  for (const p of presets().filter((q) => q.family === 'leather')) {
    const density = p.arealMass[1] / p.thickness[1];
    console.log(`${p.id}: ${density.toFixed(0)} kg/m3, expected 600-1050 (${row('oz_density').tolerance})`);
    expect(density).toBeGreaterThan(600);
    expect(density).toBeLessThan(1050);
  }
});

test('bending length and overhang computed from each row agree with its source table to 1.5 %', () => {
  // The source takes the mass at the middle of its band, as layUp does, and rounds its lengths to 0.1 mm and 1 mm.
  const source: { presets: { id: string; bending_length_mm: number[]; overhang_41p5deg_mm: number[] }[] } = JSON.parse(
    readFileSync(new URL('./source-lengths.json', import.meta.url), 'utf8'),
  );
  for (const s of source.presets) {
    const p = materialBands(s.id);
    if (!p) throw new Error(s.id);
    for (const i of [0, 1, 2] as const) {
      const c = bendingLength(p.bending[i], p.arealMass[1]) * 1000;
      const o = overhangAtFixedAngle(p.bending[i], p.arealMass[1]) * 1000;
      expect(Math.abs(c / s.bending_length_mm[i] - 1), `${s.id} c ${c} against ${s.bending_length_mm[i]}`).toBeLessThan(0.015);
      expect(Math.abs(o - s.overhang_41p5deg_mm[i]), `${s.id} O ${o} against ${s.overhang_41p5deg_mm[i]}`).toBeLessThan(0.5 + 0.015 * o);
    }
  }
});

test('a narrow strip of every material reads the geometric mean between warp and weft, and cloth 0.96 of it on the bias', () => {
  for (const p of presets()) {
    const sheet = sheetOf(bag, layerOf(p.id), 'mid');
    const laminate = {
      stack: '',
      arealMass: sheet.arealMass,
      thickness: sheet.thickness,
      bending: sheet.bending,
      inPlane: sheet.inPlane,
      angle: 0,
      evidence: sheet.evidence,
      story: '',
    };
    const b = (angle: number) => (overhang(laminate, angle) / 2) ** 3 * sheet.arealMass * 9.80665;
    const warp = b(0);
    const weft = b(Math.PI / 2);
    expect(Math.abs(Math.sqrt(warp * weft) / p.bending[1] - 1), p.id).toBeLessThan(1e-12);
    expect(Math.abs(warp / weft / p.stiffOverSoft[1] - 1), p.id).toBeLessThan(1e-12);
    if (p.class === 'cloth') expect(Math.abs(b(Math.PI / 4) / p.bending[1] - 0.96), p.id).toBeLessThan(1e-12);
    if (p.class === 'sheet') expect(Math.abs(b(0.3) / p.bending[1] - 1), p.id).toBeLessThan(1e-12);
  }
});

test('isotropic sheets are consistent: D66 = (D11 - D12)/2 and C66 = (C11 - C12)/2 to 1e-12, and the shear of the source table to 1 %', () => {
  for (const p of presets().filter((q) => q.class === 'sheet')) {
    const { bending: d, inPlane: c } = sheetOf(bag, layerOf(p.id), 'mid');
    expect(Math.abs(d[3] / ((d[0] - d[2]) / 2) - 1), p.id).toBeLessThan(1e-12);
    expect(Math.abs(c[3] / ((c[0] - c[2]) / 2) - 1), p.id).toBeLessThan(1e-12);
    console.log(`${p.id}: C66 ${c[3]} N/m`);
  }
  // 255 000, 408 000, 511 000, 766 000 N/m in the source for the polypropylene sheets.
  for (const [id, shear] of [
    ['pp0.5', 255e3],
    ['pp0.8', 408e3],
    ['pp1', 511e3],
    ['pp1.5', 766e3],
  ] as const)
    expect(Math.abs(sheetOf(bag, layerOf(id), 'mid').inPlane[3] / shear - 1), id).toBeLessThan(0.01);
});

test('from-memory orders of magnitude are shown beside the presets, never gated', () => {
  for (const r of rows.filter((q) => q.id.startsWith('estimate_') && /interlining|fabrics|leather/.test(q.section)))
    console.log(`${r.id}: ${JSON.stringify(r.value)} ${r.unit ?? ''} [${r.status}]`);
});
