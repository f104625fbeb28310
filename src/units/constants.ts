/**
 * Exact factors every conversion rests on. SI throughout.
 * Source: international yard and pound, 1959 (inch = 25.4 mm exactly, pound = 0.45359237 kg exactly).
 */
import { GRAVITY } from '../numerics/index.ts';

export { GRAVITY };
/** m */
export const INCH = 0.0254;
/** m */
export const FOOT = 0.3048;
/** m */
export const YARD = 0.9144;
/** kg, avoirdupois */
export const POUND = 0.45359237;
/** kg, avoirdupois: a sixteenth of a pound */
export const OUNCE = POUND / 16;
/** N */
export const POUND_FORCE = POUND * GRAVITY;
/** N: gram-force, the unit of the low-load fabric testers */
export const GRAM_FORCE = GRAVITY / 1000;
/** rad */
export const DEGREE = Math.PI / 180;
