/**
 * SI values in a maker's units, for labels and reports. Every function returns text with its unit; non-finite values print as "-".
 */
import { libm } from '../numerics/index.ts';
import { DEGREE, INCH, POUND } from './constants.ts';
import { LEATHER_OUNCE, OZ_PER_YD2 } from './trade.ts';

/** Decimal text without trailing zeros and without "-0". */
export function trimmed(value: number, digits: number): string {
  if (!Number.isFinite(value)) return '-';
  const fixed = value.toFixed(digits);
  const text = digits > 0 ? fixed.replace(/\.?0+$/, '') : fixed;
  return text === '-0' ? '0' : text;
}

/** "300 mm". Parameter: metres. */
export const formatMm = (metres: number, digits = 1): string => `${trimmed(metres * 1000, digits)} mm`;

/**
 * "11 13/16 in": inches to the nearest `parts`-th, fraction in lowest terms. Parameters: metres; parts, a power of two (default 16, a maker's ruler).
 */
export function formatInches(metres: number, parts = 16): string {
  if (!Number.isFinite(metres)) return '-';
  const total = Math.round((Math.abs(metres) / INCH) * parts);
  const sign = metres < 0 && total > 0 ? '-' : '';
  const whole = Math.floor(total / parts);
  let top = total % parts;
  let bottom = parts;
  while (top > 0 && top % 2 === 0 && bottom % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return `${sign}${whole} in`;
  return whole === 0 ? `${sign}${top}/${bottom} in` : `${sign}${whole} ${top}/${bottom} in`;
}

/** "300 mm (11 13/16 in)". Parameter: metres. */
export const formatLength = (metres: number): string => `${formatMm(metres)} (${formatInches(metres)})`;

/** "339 g/m2". Parameter: kg/m2. */
export const formatGsm = (arealMass: number, digits = 0): string => `${trimmed(arealMass * 1000, digits)} g/m2`;

/** "10 oz/yd2". Parameter: kg/m2. */
export const formatOzYd2 = (arealMass: number, digits = 1): string => `${trimmed(arealMass / OZ_PER_YD2, digits)} oz/yd2`;

/** "339 g/m2 (10 oz/yd2)". Parameter: kg/m2. */
export const formatArealMass = (arealMass: number): string => `${formatGsm(arealMass)} (${formatOzYd2(arealMass)})`;

/** "2 mm (5 oz)": leather thickness. Parameter: metres. */
export const formatLeather = (thickness: number): string => `${formatMm(thickness)} (${trimmed(thickness / LEATHER_OUNCE, 1)} oz)`;

/** Three significant figures without exponent. */
function three(value: number): string {
  if (!Number.isFinite(value)) return '-';
  if (value === 0) return '0';
  const digits = Math.min(12, Math.max(0, 2 - libm.decimalExponent(value)));
  return trimmed(Number(value.toPrecision(3)), digits);
}

/** "55 uN·m", "30 mN·m" or "1.2 N·m": flexural rigidity per width. Parameter: N*m. */
export function formatRigidity(value: number): string {
  const size = Math.abs(value);
  if (size >= 1) return `${three(value)} N·m`;
  return size >= 1e-3 ? `${three(value * 1e3)} mN·m` : `${three(value * 1e6)} uN·m`;
}

/** "5.4 kN/m" or "190 N/m": in-plane stiffness per width. Parameter: N/m. */
export const formatStiffness = (value: number): string => (Math.abs(value) >= 1000 ? `${three(value / 1000)} kN/m` : `${three(value)} N/m`);

/** "41.5 deg". Parameter: radians. */
export const formatAngle = (radians: number, digits = 1): string => `${trimmed(radians / DEGREE, digits)} deg`;

/** "450 g" below a kilogram, "1.25 kg" above, pounds beside. Parameter: kg. */
export function formatMass(kilograms: number): string {
  const metric = Math.abs(kilograms) < 1 ? `${trimmed(kilograms * 1000, 0)} g` : `${trimmed(kilograms, 2)} kg`;
  return `${metric} (${trimmed(kilograms / POUND, 2)} lb)`;
}

/** "12 N". Parameter: newtons. */
export const formatForce = (newtons: number): string => `${three(newtons)} N`;

/** The next of 1, 2, 5, 10 ... that is not smaller than a positive value: the end of a scale. */
export function roundUp(value: number): number {
  const power = libm.tenTo(libm.decimalExponent(value));
  return [1, 2, 5, 10].map((k) => k * power).find((s) => s >= value * (1 - 1e-9)) ?? 10 * power;
}
