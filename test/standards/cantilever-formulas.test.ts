import { expect, test } from 'vitest';
import { hangingStrip, loadAtChordAngle } from '../../src/material/index.ts';
import {
  bendingLength,
  bendingModulus,
  DEGREE,
  FIXED_ANGLE,
  FIXED_ANGLE_LOAD,
  GRAVITY,
  overallRigidity,
  overhangAtFixedAngle,
  PRINTED_CANTILEVER_CONSTANT,
  peirceRatio,
  rigidityFromBendingLength,
  rigidityFromModulus,
  rigidityFromOverhang,
  rigidityFromTipDrop,
} from '../../src/units/index.ts';
import { check, row, rows } from './rows.ts';

const angles = rows.filter((r) => r.id.startsWith('cant_angle_'));

test.each(angles.map((r) => [r.id]))('%s: exact load, bending length and the error of the approximate formula to 1e-4', (id) => {
  const angle = Number(id.slice('cant_angle_'.length)) * DEGREE;
  const load = loadAtChordAngle(angle);
  check(id, load, { rel: 1e-4 });
  const exact = load ** (-1 / 3);
  const [, c, p, ratio] = /c\/L exact ([\d.]+) ; Peirce ([\d.]+) ; G_Peirce\/G_exact ([\d.]+)/.exec(row(id).detail ?? '') ?? [];
  expect(Math.abs(exact - Number(c)), 'c/L').toBeLessThan(1e-4);
  expect(Math.abs(peirceRatio(angle) - Number(p)), 'approximate c/L').toBeLessThan(1e-5);
  expect(Math.abs((peirceRatio(angle) / exact) ** 3 - Number(ratio)), 'ratio of rigidities').toBeLessThan(2e-4);
});

test('at 41.5 deg the load is 8.0042, so c = L/2 holds to 0.02 %', () => {
  check('c_over_L_415', FIXED_ANGLE_LOAD, { abs: 1e-12 });
  check('c_over_L_415', loadAtChordAngle(FIXED_ANGLE), { rel: 1e-4 });
  check('fixed_angle_rule', loadAtChordAngle(FIXED_ANGLE) ** (-1 / 3), { rel: 2e-4 });
  console.log(`approximate formula at 41.5 deg: ${peirceRatio(FIXED_ANGLE)}; expected 0.50932 (${row('peirce_angle').source})`);
  expect(Math.abs(peirceRatio(FIXED_ANGLE) - 0.50932)).toBeLessThan(1e-5);
});

const hanging = rows.filter((r) => r.id.startsWith('unif_'));

test.each(hanging.map((r) => [r.id]))('%s: drop, reach and tip slope of the heavy strip to 1e-5', (id) => {
  const strip = hangingStrip(Number(id.slice(5)));
  check(id, strip.drop, { abs: 1e-5 });
  const [, reach, slope, chord] = /x_tip\/L ([\d.]+) ; tip slope ([\d.]+) rad ; chord ([\d.]+) deg/.exec(row(id).detail ?? '') ?? [];
  expect(Math.abs(strip.reach - Number(reach)), 'reach').toBeLessThan(1e-5);
  expect(Math.abs(strip.tipSlope - Number(slope)), 'tip slope').toBeLessThan(1e-5);
  expect(Math.abs(strip.chordAngle / DEGREE - Number(chord)), 'chord').toBeLessThan(1e-3);
});

test('worked examination: 250 g/m2 and 275 uN.m give a bending length of 48.23 mm', () => {
  check('gate2020_c', bendingLength(275e-6, 0.25), { abs: 0.05e-3 });
});

test('bending length ratio 2 is rigidity ratio 8, exactly', () => {
  check('gate2018_ratio', rigidityFromBendingLength(0.2, 0.04) / rigidityFromBendingLength(0.2, 0.02), { rel: 1e-12 });
});

test('rigidity and bending length undo each other, and so do overhang and rigidity, to 1e-12', () => {
  const b = rigidityFromBendingLength(0.34, 0.0267);
  console.log(`G = w g c^3 = ${b} N.m; expected ${0.34 * GRAVITY * 0.0267 ** 3} (${row('peirce_G').source})`);
  expect(Math.abs(b / (0.34 * GRAVITY * 0.0267 ** 3) - 1)).toBeLessThan(1e-12);
  expect(Math.abs(bendingLength(b, 0.34) / 0.0267 - 1)).toBeLessThan(1e-12);
  expect(Math.abs(rigidityFromOverhang(overhangAtFixedAngle(b, 0.34), 0.34) / b - 1)).toBeLessThan(1e-12);
});

test('bending modulus 12 B/t^3 and B = E t^3/12 undo each other; overall rigidity is the geometric mean', () => {
  expect(Math.abs(rigidityFromModulus(bendingModulus(30e-3, 2e-3), 2e-3) / 30e-3 - 1)).toBeLessThan(1e-12);
  expect(bendingModulus(30e-3, 2e-3) / 1e6).toBeCloseTo(45, 9);
  expect(overallRigidity(4e-5, 9e-5)).toBeCloseTo(6e-5, 15);
});

test('tip drop of a board at a fixed overhang: the small-drop formula is within 1 % of the exact strip at K = 0.2', () => {
  const load = 0.2;
  const drop = hangingStrip(load).drop;
  const b = rigidityFromTipDrop(1 / GRAVITY, 1, drop);
  console.log(`B/(w L^3) from tip drop ${b}, exact ${1 / load}`);
  expect(Math.abs(b * load - 1)).toBeLessThan(0.01);
});

test('shown beside, never gated: formulas and constants of cantilever standards quoted from memory', () => {
  for (const id of ['d1388_const', 'iso9073_7', 'bs3356', 'saville']) console.log(`${id}: ${row(id).quantity}; ${row(id).source} [${row(id).status}]`);
  console.log(`printed constant / true factor = ${PRINTED_CANTILEVER_CONSTANT / 9.80665e-6} (said to be 1.4490)`);
});
