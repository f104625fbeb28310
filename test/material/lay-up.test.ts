import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseBag } from '../../src/bag/index.ts';
import { DEFAULT_BOND, hangingStrip, laminateOf, layUp, materialBands, overhang, overhangUpright, rigidityAlong, weakest } from '../../src/material/index.ts';
import { fromStrips, plateRigidity, stripRigidity, turned, twistFromBias } from '../../src/material/orthotropy.ts';
import { GRAVITY } from '../../src/units/index.ts';
import { file, RECTANGLE } from '../bag/made.ts';

const tote = parseBag(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));

/** Laminate of one stack, written as in a bag file. */
function lay(stack: unknown, band: 'low' | 'mid' | 'high' = 'mid', more: object = {}) {
  const bag = parseBag(file(RECTANGLE, {}, { stacks: { s: stack }, ...more }));
  return layUp(bag, 's', band)[0][0];
}

test('loose layers: mass, thickness, bending and in-plane stiffness are sums', () => {
  const [a, b, both] = [lay(['canvas10']), lay(['poplin']), lay(['canvas10', { loose: 'poplin' }])];
  expect(both.arealMass).toBeCloseTo(a.arealMass + b.arealMass, 15);
  expect(both.thickness).toBeCloseTo(a.thickness + b.thickness, 15);
  both.bending.forEach((d, i) => {
    expect(Math.abs(d - a.bending[i] - b.bending[i])).toBeLessThan(1e-18);
  });
  both.inPlane.forEach((c, i) => {
    expect(Math.abs(c - a.inPlane[i] - b.inPlane[i])).toBeLessThan(1e-9);
  });
});

test('a loose twin layer buys no overhang (x1.000); a bonded twin board x1.56 to 1.59', () => {
  const o = (stack: unknown) => overhang(lay(stack), 0);
  expect(o(['canvas10', { loose: 'canvas10' }]) / o(['canvas10'])).toBeCloseTo(1, 12);
  const bonded = o(['pp1', { bonded: 'pp1' }]) / o(['pp1']);
  console.log(`two polypropylene sheets glued: overhang x${bonded}, lamination theory 1.5874 (its B is rounded to 120 of 120.8)`);
  expect(bonded).toBeGreaterThan(1.56);
  expect(bonded).toBeLessThan(1.5875);
});

test('fused is loose + bond (bonded - loose) to 1e-12; unstated bond is 0.5 and makes the stack an estimate', () => {
  const loose = lay(['canvas10', { loose: 'fleece' }]);
  const bonded = lay(['canvas10', { bonded: 'fleece' }]);
  for (const bond of [0, 0.3, 1]) {
    const fused = lay(['canvas10', { fused: 'fleece', bond }]);
    fused.bending.forEach((d, i) => {
      expect(Math.abs(d / (loose.bending[i] + bond * (bonded.bending[i] - loose.bending[i])) - 1)).toBeLessThan(1e-12);
    });
  }
  expect(DEFAULT_BOND).toBe(0.5);
  const fused = lay(['canvas10', { fused: 'fleece' }]);
  expect(fused.bending[0]).toBeCloseTo((loose.bending[0] + bonded.bending[0]) / 2, 12);
  expect(fused.evidence).toBe('estimate');
  expect(fused.story).toContain('bond 0.5, an estimate');
  expect(fused.story).toContain('the soft layer shears');
});

test('stiffness rises from low over mid to high in every option of the demo; mass and thickness do not move', () => {
  for (const option of tote.options) {
    const [low, mid, high] = (['low', 'mid', 'high'] as const).map((b) => layUp(tote, option.name, b)[0][0]);
    for (const i of [0, 1, 3]) expect(low.bending[i] < mid.bending[i] && mid.bending[i] < high.bending[i], `${option.name} ${i}`).toBe(true);
    expect([low.arealMass, high.arealMass]).toEqual([mid.arealMass, mid.arealMass]);
    expect([low.thickness, high.thickness]).toEqual([mid.thickness, mid.thickness]);
  }
});

test('the four options of the demo rank by overhang: canvas < fleece < leather, board', () => {
  const o = tote.options.map((option) => overhangUpright(layUp(tote, option.name, 'mid')[0][0], tote.panels[0]));
  console.log(tote.options.map((option, i) => `${option.name}: ${(o[i] * 1000).toFixed(0)} mm`).join('; '));
  expect(o[0]).toBeLessThan(o[1]);
  expect(o[1]).toBeLessThan(Math.min(o[2], o[3]));
});

test('leather scales with thickness: 2.0 mm to 1.6 mm is B x0.512, mass x0.8; "1.6-2.0 mm" spreads the band by both ends', () => {
  const two = lay([{ material: 'veg20', thickness: '2 mm' }]);
  const thin = lay([{ material: 'veg20', thickness: '1.6 mm' }]);
  expect(thin.bending[0] / two.bending[0]).toBeCloseTo(0.512, 12);
  expect(thin.arealMass / two.arealMass).toBeCloseTo(0.8, 12);
  expect(two.arealMass).toBeCloseTo(materialBands('veg20').arealMass[1], 12);
  const range = [{ material: 'veg20', thickness: '1.6-2.0 mm' }];
  expect(lay(range, 'low').bending[0]).toBeCloseTo(lay([{ material: 'veg20', thickness: '1.6 mm' }], 'low').bending[0], 12);
  expect(lay(range, 'high').bending[0]).toBeCloseTo(lay([{ material: 'veg20', thickness: '2.0 mm' }], 'high').bending[0], 12);
  // 3-4 oz spans a factor (4/3)^3 in rigidity from thickness alone.
  const ounces = [{ material: 'veg20', thickness: '3-4 oz' }];
  const spread =
    lay(ounces, 'high').bending[0] /
    lay(ounces, 'low').bending[0] /
    (lay([{ material: 'veg20', thickness: '3.5 oz' }], 'high').bending[0] / lay([{ material: 'veg20', thickness: '3.5 oz' }], 'low').bending[0]);
  expect(spread).toBeCloseTo((4 / 3) ** 3, 10);
});

test('cloth keeps its rigidity when only its thickness is written: its B is no modulus times t^3', () => {
  expect(lay([{ material: 'canvas10', thickness: '0.7 mm' }]).bending).toEqual(lay(['canvas10']).bending);
});

test('a stack turned by 90 deg swaps warp and weft; one layer keeps its own axes at any angle', () => {
  const straight = lay(['canvas10']);
  const across = lay([{ material: 'canvas10', angle: '90 deg' }]);
  expect(overhang(across, 0)).toBeCloseTo(overhang(straight, Math.PI / 2), 12);
  const bias = lay([{ material: 'canvas10', angle: '45 deg' }]);
  expect(bias.bending).toEqual(straight.bending);
  expect(bias.angle).toBeCloseTo(Math.PI / 4, 12);
  expect(overhang(bias, 0)).toBeCloseTo(overhang(straight, Math.PI / 4), 12);
});

test('a bias interlining: axes with the least coupling are found and what is left out is told', () => {
  const l = lay(['canvas10', { bonded: 'sewin', angle: '30 deg' }]);
  console.log(l.story, l.angle, l.bending);
  expect(l.story).toMatch(/axes turned|^((?!coupling).)*$/);
  expect(l.bending[0] * l.bending[1]).toBeGreaterThan(l.bending[2] ** 2);
});

test('upright overhang follows the grain: a panel cut across reads the weft', () => {
  const bag = parseBag(file({ ...RECTANGLE, grain: '90 deg' }));
  const [[l]] = layUp(bag, 'plain', 'mid');
  expect(overhangUpright(l, bag.panels[0])).toBeCloseTo(overhang(l, Math.PI / 2), 12);
  expect(overhangUpright(l, { grain: 0 })).toBeGreaterThan(overhangUpright(l, bag.panels[0]));
});

test('own swatch: the overhang that was read comes back, along and across, to 1e-12; evidence is "your swatch"', () => {
  const materials = { mine: { mass: '339 g/m2', overhang: { warp: '52 mm', weft: '44 mm' }, like: 'canvas10', source: 'strips of 12 May' } };
  const l = lay(['mine'], 'mid', { materials });
  expect(Math.abs(overhang(l, 0) / 0.052 - 1)).toBeLessThan(1e-12);
  expect(Math.abs(overhang(l, Math.PI / 2) / 0.044 - 1)).toBeLessThan(1e-12);
  expect(l.evidence).toBe('your swatch');
  expect(l.story).toContain('the rest as canvas / duck 10 oz/yd2 (estimate)');
  expect(lay(['mine', { loose: 'poplin' }], 'mid', { materials }).evidence).toBe('estimate');
  const stated = { mine: { mass: '339 g/m2', bending: '55 uN.m', like: 'canvas10' } };
  expect(lay(['mine'], 'mid', { materials: stated }).evidence).toBe('stated');
  const borrowed = { mine: { mass: '339 g/m2', like: 'canvas10' } };
  expect(lay(['mine'], 'mid', { materials: borrowed }).evidence).toBe('estimate');
});

test('direct stack: figures as stated in every band; "swatch" in its source makes it your swatch', () => {
  const direct = { mass: '340 g/m2', D11: '1e-4 N.m', D22: '1e-4 N.m', D66: '5e-5 N.m', C11: '5 kN/m', C22: '5 kN/m', C66: '2.5 kN/m' };
  expect(lay(direct, 'low')).toEqual({ ...lay(direct, 'high') });
  expect(lay(direct).evidence).toBe('stated');
  expect(lay({ ...direct, source: 'my swatch of Monday' }).evidence).toBe('your swatch');
});

test('the weakest evidence wins: estimate, then published, stated, your swatch', () => {
  expect(weakest(['your swatch', 'published', 'stated'])).toBe('published');
  expect(weakest(['your swatch', 'estimate'])).toBe('estimate');
  expect(lay(['pp1']).evidence).toBe('published');
  expect(lay(['pp1', { loose: 'lawn' }]).evidence).toBe('estimate');
});

test('regions get their own laminate, and an option may change it', () => {
  const shape = { ...RECTANGLE, regions: { band: { stack: 'stiff', above: '200 mm' } } };
  const bag = parseBag(
    file(shape, {}, { stacks: { plain: ['canvas10'], stiff: ['pp1'] }, options: { a: { p: 'plain' }, b: { p: 'plain', 'p/band': 'plain' } } }),
  );
  expect(layUp(bag, 'a', 'mid')[0].map((l) => l.stack)).toEqual(['plain', 'stiff']);
  expect(layUp(bag, 'b', 'mid')[0].map((l) => l.stack)).toEqual(['plain', 'plain']);
  expect(() => layUp(bag, 'c', 'mid')).toThrow('option: got "c"');
  expect(() => layUp(bag, bag.options[0]!.name, 'middle' as 'mid')).toThrow('band: got "middle"; expected "low", "mid" or "high"');
});

test('turned stiffness keeps the energy of 100 curvatures to 1e-12', () => {
  const d = [3, 2, 0.5, 0.7] as const;
  for (let i = 0; i < 100; i++) {
    const angle = 0.0631 * i;
    const k = [Math.sin(i), Math.cos(3 * i), Math.sin(7 * i)];
    const [m11, m22, m66, m12, m16, m26] = turned(d, angle);
    const energy = m11 * k[0] ** 2 + m22 * k[1] ** 2 + m66 * k[2] ** 2 + 2 * (m12 * k[0] * k[1] + m16 * k[0] * k[2] + m26 * k[1] * k[2]);
    // The same curvature in the warp frame: k' = R k R^T with the warp at `angle`.
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const w = [c * c * k[0] + s * s * k[1] + s * c * k[2], s * s * k[0] + c * c * k[1] - s * c * k[2], 2 * s * c * (k[1] - k[0]) + (c * c - s * s) * k[2]];
    const own = d[0] * w[0] ** 2 + d[1] * w[1] ** 2 + d[3] * w[2] ** 2 + 2 * d[2] * w[0] * w[1];
    expect(Math.abs(energy / own - 1)).toBeLessThan(1e-12);
  }
});

test('strip and plate rigidity agree for an isotropic sheet with nu = 0, and the bias relation undoes itself', () => {
  const iso = fromStrips(2, 2, 0, 1);
  for (const a of [0, 0.3, 0.8]) {
    expect(stripRigidity(iso, a)).toBeCloseTo(2, 12);
    expect(plateRigidity(iso, a)).toBeCloseTo(2, 12);
  }
  const d66 = twistFromBias(2.6, 1.53, 0, 1.92) ?? 0;
  expect(stripRigidity([2.6, 1.53, 0, d66], Math.PI / 4)).toBeCloseTo(1.92, 12);
  expect(twistFromBias(2.6, 1.53, 0, 40)).toBeNull();
});

test('laminateOf gives one stack without a bag', () => {
  const [stack] = tote.stacks;
  expect(laminateOf({ materials: [] }, stack, 'mid')).toEqual(layUp(tote, 'canvas and poplin', 'mid')[0][0]);
});

test('the clamped strip of the demo is as long as its 41.5 deg overhang, 200 mm, to 0.1 mm', () => {
  const bag = parseBag(readFileSync(new URL('../../demos/clamped-strip.bag.json', import.meta.url), 'utf8'));
  const [[l]] = layUp(bag, 'swatch', 'mid');
  const o = overhangUpright(l, bag.panels[0]);
  const chord = (hangingStrip((l.arealMass * GRAVITY * 0.2 ** 3) / rigidityAlong(l, 0)).chordAngle * 180) / Math.PI;
  console.log(`overhang ${o} m, expected 0.2; exact chord ${chord} deg, expected 41.5 +- 0.01`);
  expect(Math.abs(o - 0.2)).toBeLessThan(1e-4);
  expect(Math.abs(chord - 41.5)).toBeLessThan(0.01);
});
