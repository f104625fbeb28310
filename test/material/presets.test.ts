import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { PRESET_IDS } from '../../src/bag/index.ts';
import { EVIDENCE_ROWS, laminateOf, materialBands, overhang, presetNames, presetNotes, presets } from '../../src/material/index.ts';
import { sheetOf } from '../../src/material/layers.ts';
import { bendingLength, duckArealMass, OZ_PER_YD2, overhangAtFixedAngle } from '../../src/units/index.ts';
import { numbers, row, rows } from '../standards/rows.ts';

const layerOf = (material: string) => ({ material, thickness: null, thicknessRange: null, join: 'loose' as const, bond: null, angle: 0 });
const bag = { materials: [] };

test('66 built-in materials, one for every id of the bag file, each with its reasoning', () => {
  expect(presets().length).toBe(66);
  expect(presetNames()).toEqual(presets().map(({ id, name, family }) => ({ id, name, family })));
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

const ORDERED: readonly (readonly [kind: string, lightest: string, ...heavier: string[]])[] = [
  ['canvas and duck', 'canvas8', 'canvas10', 'canvas12', 'duck10', 'canvas16', 'duck8', 'canvas24'],
  ['denim', 'denim11', 'denim14raw'],
  ['chrome-tanned', 'chrome_skived', 'chrome16', 'chrome20'],
  ['vegetable-tanned', 'veg_skived', 'veg12', 'veg20', 'veg32'],
  ['fusible nonwoven', 'fus_light', 'fus_medium', 'fus_heavy'],
  ['woven fusible', 'fus_woven_light', 'fus_woven', 'fus_woven_heavy'],
  ['fusible knit', 'fus_knit_light', 'fus_knit', 'fus_knit_heavy'],
  ['needled fleece', 'fleece_light', 'fleece', 'fleece_heavy'],
  ['leather board', 'leatherboard0.8', 'leatherboard', 'leatherboard1.6'],
  ['fibreboard', 'fibreboard0.6', 'fibreboard1', 'fibreboard1.5'],
  ['polypropylene', 'pp0.5', 'pp0.8', 'pp1', 'pp1.5'],
  ['pressed felt', 'felt2', 'felt4'],
  ['neoprene', 'neoprene2', 'neoprene4'],
];

test.each(ORDERED)(
  '%s: from the lightest to the heaviest, mass, thickness, both ends and the middle of the rigidity, and the overhang all rise',
  (kind, ...ids) => {
    const all = ids.map((id) => materialBands(id)!);
    const rises = (what: string, figure: (p: (typeof all)[number]) => number): void => {
      const figures = all.map(figure);
      for (let i = 1; i < figures.length; i++)
        expect(
          figures[i],
          `${kind}: ${what} of ${ids[i]} ${figures[i]} against ${figures[i - 1]} of ${ids[i - 1]}; a heavier one of a kind is no limper`,
        ).toBeGreaterThan(figures[i - 1]);
    };
    rises('mass', (p) => p.arealMass[1]);
    rises('thickness', (p) => p.thickness[1]);
    for (const i of [0, 1, 2] as const) rises(`rigidity ${['low', 'mid', 'high'][i]}`, (p) => p.bending[i]);
    rises('overhang', (p) => overhangAtFixedAngle(p.bending[1], p.arealMass[1]));
  },
);

test('scaled weights and thicknesses keep their law: t^3 and t for one piece, m^2.1, m^1.22, m^2 and m for interlinings, to 1e-12', () => {
  const laws: readonly (readonly [id: string, base: string, of: 'thickness' | 'arealMass', power: number])[] = [
    ['chrome_skived', 'chrome16', 'thickness', 3],
    ['leatherboard1.6', 'leatherboard', 'thickness', 3],
    ['fibreboard0.6', 'fibreboard1', 'thickness', 3],
    ['felt4', 'felt2', 'thickness', 3],
    ['fus_medium', 'fus_light', 'arealMass', 2.1],
    ['fus_woven_heavy', 'fus_woven', 'arealMass', 1.22],
    ['fus_knit_light', 'fus_knit', 'arealMass', 1.22],
    ['fleece_heavy', 'fleece', 'arealMass', 2],
  ];
  for (const [id, base, of, power] of laws) {
    const [p, b] = [materialBands(id)!, materialBands(base)!];
    const size = p[of][1] / b[of][1];
    for (const i of [0, 1, 2] as const) {
      expect(Math.abs(p.bending[i] / b.bending[i] / size ** power - 1), `${id} B`).toBeLessThan(1e-12);
      expect(Math.abs(p.inPlane[i] / b.inPlane[i] / size - 1), `${id} in plane`).toBeLessThan(1e-12);
    }
    expect(p.class, id).toBe(b.class);
    expect(p.evidence, id).toBe('estimate');
  }
  // The two neighbours that the medium nonwoven lies between were there before its law.
  const [light, medium, heavy] = ['fus_light', 'fus_medium', 'fus_heavy'].map((id) => materialBands(id)!.bending[1]);
  const between = light * (heavy / light) ** (Math.log(50 / 30) / Math.log(80 / 30));
  console.log(`medium nonwoven ${medium} N*m, on the line of the two others ${between}`);
  expect(Math.abs(medium / between - 1)).toBeLessThan(0.02);
});

test('by itself a needled fleece (120 g/m2, 2.5 mm) is limper than a heavy fusible (80 g/m2, 0.45 mm); fused to canvas it stiffens more, because it keeps more distance', () => {
  const [fleece, heavy] = [materialBands('fleece')!, materialBands('fus_heavy')!];
  expect(fleece.bending[1]).toBeLessThan(heavy.bending[1]);
  expect(fleece.arealMass[1] > heavy.arealMass[1] && fleece.thickness[1] > heavy.thickness[1]).toBe(true);
  const fused = (id: string) => {
    const layers = [layerOf('canvas10'), { ...layerOf(id), join: 'fused' as const }];
    return laminateOf({ materials: [] }, { name: 's', kind: 'layers', layers }, 'mid');
  };
  const [withFleece, withHeavy] = [fused('fleece'), fused('fus_heavy')];
  // A soft core shears: a sandwich bent over length L loses pi^2 D/(S L^2) of its rigidity, S = G d^2/t (Allen, sandwich beams; from memory).
  const core = 10e3; // Pa, needled polyester fleece, from memory
  const d = (materialBands('canvas10')!.thickness[1] + fleece.thickness[1]) / 2;
  const lost = (Math.PI ** 2 * withFleece.bending[0]) / (((core * d ** 2) / fleece.thickness[1]) * 0.1 ** 2);
  console.log(
    `fused to canvas: fleece ${(withFleece.bending[0] * 1e6).toFixed(0)}, heavy fusible ${(withHeavy.bending[0] * 1e6).toFixed(0)} uN*m; core shear takes ${(lost * 100).toFixed(1)} % over 100 mm`,
  );
  expect(withFleece.bending[0]).toBeGreaterThan(withHeavy.bending[0]);
  // Even with that loss the order stands.
  expect(withFleece.bending[0] * (1 - lost)).toBeGreaterThan(withHeavy.bending[0]);
});

test('from-memory orders of magnitude are shown beside the presets, never gated', () => {
  for (const r of rows.filter((q) => q.id.startsWith('estimate_') && /interlining|fabrics|leather/.test(q.section)))
    console.log(`${r.id}: ${JSON.stringify(r.value)} ${r.unit ?? ''} [${r.status}]`);
});
