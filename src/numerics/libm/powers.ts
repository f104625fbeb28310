export const square = (x: number): number => x * x;

export const cube = (x: number): number => x * x * x;

/** The nearest number to 10^n, n whole: reading a decimal is rounded once, everywhere. */
export const tenTo = (n: number): number => Number(`1e${n}`);

/** The whole number n with 10^n <= |x| < 10^(n + 1), without rounding at the powers of ten; x is finite and not 0. */
export const decimalExponent = (x: number): number => Number(x.toExponential().split('e')[1]);

/** x^n for a whole n of 0 and more, by repeated products: each rounds once. */
export function power(x: number, n: number): number {
  let y = 1;
  for (let k = 0; k < n; k++) y *= x;
  return y;
}
