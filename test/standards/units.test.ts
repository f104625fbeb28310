import { expect, test } from 'vitest';
import {
  BENDING_HYSTERESIS_UNIT,
  DEGREE,
  duckArealMass,
  FOOT,
  formatInches,
  GRAVITY,
  LEATHER_OUNCE,
  MG_CM,
  OUNCE,
  OZ_PER_FT2,
  OZ_PER_YD2,
  PURE_BENDING_UNIT,
  readQuantity,
  SHEAR_UNIT,
  shearFromBiasExtension,
} from '../../src/units/index.ts';
import { check, row, rows } from './rows.ts';

const si = (text: string, kind: Parameters<typeof readQuantity>[1]): number => {
  const r = readQuantity(text, kind);
  if (!r.ok) throw new Error(`${text}: ${r.expected}`);
  return r.value;
};

test('one ounce per square yard is 33.9057 g/m2 to 1e-9', () => {
  check('oz_yd2', OZ_PER_YD2, { rel: 1e-9 });
  check('oz_yd2', si('1 oz/yd2', 'arealMass'), { rel: 1e-9 });
});

const ducks = rows.filter((r) => /^duck_\d/.test(r.id));
test.each(ducks.map((r) => [r.id]))('%s weighs what the numbered-duck rule says to 0.1 g/m2', (id) => {
  const number = id.slice(5);
  check(id, duckArealMass(number) as number, { abs: 1e-4 });
  check(id, si(`duck ${number}`, 'arealMass'), { abs: 1e-4 });
});

test('the duck table has 18 rows and its detail gives the ounces per square yard of the rule to 1e-4', () => {
  expect(ducks.length).toBe(18);
  for (const r of ducks) {
    const oz = Number(/; ([\d.]+) oz\/yd2/.exec(r.detail ?? '')?.[1]);
    expect(Math.abs((duckArealMass(r.id.slice(5)) as number) / OZ_PER_YD2 - oz), r.id).toBeLessThan(1e-4);
  }
});

test('a leather ounce is 1/64 in, and leather of one ounce a square foot at that gauge has 768.9 kg/m3', () => {
  check('oz', LEATHER_OUNCE, { rel: 1e-9 });
  check('oz', si('1 oz', 'thickness'), { rel: 1e-9 });
  check('oz_density', OZ_PER_FT2 / LEATHER_OUNCE, { abs: 0.05 });
  check('sqft', FOOT * FOOT, { rel: 1e-12 });
});

test('tester units: pure bending, hysteresis, shear, mg*cm to 1e-9', () => {
  check('u_pure_bending_B', PURE_BENDING_UNIT, { rel: 1e-9 });
  check('u_pure_bending_B', si('1 gf.cm2/cm', 'bending'), { rel: 1e-9 });
  check('u_2hb', BENDING_HYSTERESIS_UNIT, { rel: 1e-9 });
  check('u_mgcm', MG_CM, { rel: 1e-9 });
  check('u_mgcm', si('1 mg.cm', 'bending'), { rel: 1e-9 });
  check('u_uJm', si('1 uJ/m', 'bending'), { rel: 1e-15 });
  check('u_shear_tester_G', SHEAR_UNIT, { rel: 1e-9 });
  check('u_bias_extension_G', shearFromBiasExtension(1), { rel: 1e-12 });
});

test('six denims in gf*cm2/cm convert to 14-22 uN.m to 1e-4', () => {
  const written = [0.172, 0.144, 0.227, 0.147, 0.207, 0.148];
  check(
    'denim_pure_bending',
    written.map((b) => b * PURE_BENDING_UNIT),
    { rel: 1e-4 },
  );
  const shear = [2.18, 3.4, 1.5].map((g) => g * SHEAR_UNIT);
  console.log(`denim shear ${shear.map((g) => g.toFixed(1)).join(', ')} N/m; expected 84-191 (${row('denim_pure_bending').detail})`);
  expect(Math.round(shear[1])).toBe(191);
  expect(Math.round(shear[2])).toBe(84);
});

test('thickness gauge 393 g on 10 mm presses 49.07 kPa; softness tester weighs 5.197 N', () => {
  const pressure = (0.393 * GRAVITY) / ((Math.PI / 4) * 0.01 ** 2);
  check('iso2589', [0.01, 0.393, pressure], { rel: 1e-6 });
  expect(Math.abs(0.53 * GRAVITY - 5.197)).toBeLessThan(0.001);
});

test('a sheet of A4 at 80 g/m2 weighs 4.99 g, a ream 2.495 kg', () => {
  const sheet = si('80 g/m2', 'arealMass') * 0.21 * 0.297;
  check('ream', [sheet, 500 * sheet], { rel: 1e-9 });
});

test('conversions agree with each other: 16 oz = 1 lb, 180 deg = pi, 12 in = 1 ft', () => {
  expect(16 * OUNCE).toBe(si('1 lb', 'mass'));
  expect(180 * DEGREE).toBe(Math.PI);
  expect(Math.abs(12 * si('1 in', 'length') - si('1 ft', 'length'))).toBeLessThan(1e-15);
  expect(formatInches(0.3048)).toBe('12 in');
});
