/**
 * The elementary functions of the core, written out in plain arithmetic. An engine may give sin, exp or pow the last bit it likes, and V8, its next version
 * and another browser do; plus, minus, times, divided by and square root are the same everywhere (IEEE 754), and so is what is built of them alone.
 *
 * The algorithms and their coefficients are those of fdlibm 5.3 (netlib.org/fdlibm), which asks that this notice goes with them:
 * Copyright (C) 1993, 2004 by Sun Microsystems, Inc. All rights reserved. Developed at SunSoft, a Sun Microsystems, Inc. business.
 * Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is preserved.
 */
export { acos, asin, atan, atan2 } from './arc.ts';
export { exp, log } from './exp-log.ts';
export { cube, decimalExponent, power, square, tenTo } from './powers.ts';
export { cbrt, hypot, norm } from './roots.ts';
export { cos, sin, tan } from './trig.ts';
