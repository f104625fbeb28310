/** SI constants, trade conversions, reading and writing quantities. Imports nothing but numerics. */
export * from './constants.ts';
export * from './csv.ts';
export * from './format.ts';
export { decimalComma, leadingNumber, plainText } from './fractions.ts';
export * from './quantity.ts';
export * from './testers.ts';
export * from './trade.ts';
export * from './xml.ts';
