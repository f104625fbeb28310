import { expect, test } from 'vitest';
import type { Four } from '../../src/bag/types.ts';
import { bondedRigidity, compressionRatio, isotropicStack } from '../../src/material/index.ts';
import { check, row } from './rows.ts';

const sheet = (modulus: number, thickness: number, bond: number) => ({
  bending: [(modulus * thickness ** 3) / 12, (modulus * thickness ** 3) / 12, 0, (modulus * thickness ** 3) / 24] as Four,
  inPlane: [modulus * thickness, modulus * thickness, 0, (modulus * thickness) / 2] as Four,
  thickness,
  angle: 0,
  bond,
});

const COTTON_FUSIBLE = [
  { modulus: 40e6, thickness: 0.3e-3 },
  { modulus: 20e6, thickness: 0.4e-3 },
];
const CANVAS_FOAM_LINING = [
  { modulus: 50e6, thickness: 0.5e-3 },
  { modulus: 0.2e6, thickness: 4e-3 },
  { modulus: 50e6, thickness: 0.2e-3 },
];

test('worked stack cotton + fusible: bonded, loose and neutral plane to 1e-9', () => {
  const s = isotropicStack(COTTON_FUSIBLE);
  check('ex_cf', [s.bonded, s.loose, s.neutral], { rel: 1e-9 });
  expect(Math.abs(s.bonded / s.loose - 3.98983)).toBeLessThan(1e-5);
});

test('worked stack canvas + foam + lining: bonded and loose to 1e-9', () => {
  const s = isotropicStack(CANVAS_FOAM_LINING);
  check('ex_foam', [s.bonded, s.loose], { rel: 1e-9 });
  expect(Math.abs(s.bonded / s.loose - 84.88)).toBeLessThan(0.005);
});

test('the lay-up code gives the worked stacks as well: bond 1 bonded, bond 0 loose, to 1e-9', () => {
  for (const [id, stack] of [
    ['ex_cf', COTTON_FUSIBLE],
    ['ex_foam', CANVAS_FOAM_LINING],
  ] as const) {
    const expected = row(id).value as number[];
    const one = bondedRigidity(stack.map((l) => sheet(l.modulus, l.thickness, 1)));
    const none = bondedRigidity(stack.map((l) => sheet(l.modulus, l.thickness, 0)));
    check(id, [one[0], none[0]], { rel: 1e-9 }, expected.slice(0, 2));
    check(id, [one[1], none[1]], { rel: 1e-9 }, expected.slice(0, 2));
  }
});

test('n equal layers bonded over loose are n^2 (n = 2, 3, 4) to 1e-12, and n layers glued are one of n-fold thickness', () => {
  const counts = [2, 3, 4];
  const layers = (n: number, bond: number) => Array.from({ length: n }, () => sheet(37e6, 0.7e-3, bond));
  check(
    'n2',
    counts.map((n) => bondedRigidity(layers(n, 1))[0] / bondedRigidity(layers(n, 0))[0]),
    { rel: 1e-12 },
  );
  check(
    'n2',
    counts.map(
      (n) =>
        isotropicStack(layers(n, 1).map(() => ({ modulus: 37e6, thickness: 0.7e-3 }))).bonded /
        isotropicStack(layers(n, 1).map(() => ({ modulus: 37e6, thickness: 0.7e-3 }))).loose,
    ),
    { rel: 1e-12 },
  );
  const thick = (37e6 * (3 * 0.7e-3) ** 3) / 12;
  expect(Math.abs(bondedRigidity(layers(3, 1))[0] / thick - 1)).toBeLessThan(1e-12);
});

test('two equal layers: bonded rigidity x8 for mass x2 lengthens the overhang by 1.59, loose by 1.00', () => {
  const one = bondedRigidity([sheet(20e6, 1e-3, 0)])[0];
  const glued = bondedRigidity([sheet(20e6, 1e-3, 0), sheet(20e6, 1e-3, 1)])[0];
  const loose = bondedRigidity([sheet(20e6, 1e-3, 0), sheet(20e6, 1e-3, 0)])[0];
  expect(glued / one).toBeCloseTo(8, 10);
  expect(Math.cbrt(glued / one / 2)).toBeCloseTo(1.5874, 4);
  expect(Math.cbrt(loose / one / 2)).toBeCloseTo(1, 12);
});

test('glued order does not matter: outside in or inside out, the same rigidity to 1e-12', () => {
  const a = bondedRigidity(CANVAS_FOAM_LINING.map((l) => sheet(l.modulus, l.thickness, 1)));
  const b = bondedRigidity([...CANVAS_FOAM_LINING].reverse().map((l) => sheet(l.modulus, l.thickness, 1)));
  expect(Math.abs(a[0] / b[0] - 1)).toBeLessThan(1e-12);
});

test('a soft sheet in compression brings a glued stack between the loose sum and lamination theory with tension moduli', () => {
  const soft = (bond: number) => ({ ...sheet(11e6, 0.6e-3, bond), bending: [55e-6, 55e-6, 0, 26e-6] as Four });
  const stiff = (bond: number) => sheet(11e6, 0.6e-3, bond);
  const loose = bondedRigidity([soft(0), soft(0)])[0];
  const glued = bondedRigidity([soft(1), soft(1)])[0];
  const tension = loose + bondedRigidity([stiff(1), stiff(1)])[0] - bondedRigidity([stiff(0), stiff(0)])[0];
  console.log(`loose ${loose}, glued ${glued}, lamination theory with tension moduli ${tension} N.m (${row('kim').source})`);
  expect(glued).toBeGreaterThan(loose);
  expect(glued).toBeLessThan(0.5 * tension);
});

test('compressive over tensile stiffness: 1 for a solid sheet; for Eb = Et/4 it is 1/9 by the bimodulus beam', () => {
  expect(compressionRatio((5e6 * 1e-9) / 12, 5e3, 1e-3)).toBeCloseTo(1, 12);
  expect(compressionRatio((5e6 * 1e-9) / 48, 5e3, 1e-3)).toBeCloseTo(1 / 9, 12);
  // Back through Eb = 4 Et Ec/(sqrt Et + sqrt Ec)^2.
  const ec = 1 / 9;
  expect((4 * ec) / (1 + Math.sqrt(ec)) ** 2).toBeCloseTo(0.25, 12);
});

test('a fused stack is stiffer than its loose layers (sign of the published finding on eight fused woollens)', () => {
  const loose = bondedRigidity(COTTON_FUSIBLE.map((l) => sheet(l.modulus, l.thickness, 0)))[0];
  const fused = bondedRigidity(COTTON_FUSIBLE.map((l) => sheet(l.modulus, l.thickness, 0.5)))[0];
  const bonded = bondedRigidity(COTTON_FUSIBLE.map((l) => sheet(l.modulus, l.thickness, 1)))[0];
  console.log(`${row('gurarda').quantity}; ${row('gurarda').source}: fused/loose ${fused / loose}`);
  expect(fused).toBeCloseTo((loose + bonded) / 2, 15);
  expect(fused).toBeGreaterThan(loose);
});

test('shown beside, never gated: what the literature says about glued stacks', () => {
  for (const id of ['clt', 'kim', 'shishoo', 'gurarda', 'lamin_heart']) console.log(`${id}: ${row(id).quantity}; ${row(id).source} [${row(id).status}]`);
});
