/** A program without types that hands over the wrong thing is told what was expected, not where the core fell over it. */
import { describe, expect, it } from 'vitest';
import { newBag } from '../../src/bag/index.ts';
import { swatchTest } from '../../src/swatch/index.ts';
import { readQuantity } from '../../src/units/index.ts';

const any = (v: unknown) => v as never;

describe('wrong types from outside', () => {
  it('a size as a bare number is a fault of that parameter (was: text.trim is not a function)', () => {
    expect(() => newBag('boxed-tote', any({ W: 320 }))).toThrow(/parameters\.W: got 320; expected a figure with its unit/);
  });
  it('an unknown test and a setup that is none are told together (was: TESTS[name] is not a function)', () => {
    expect(() => swatchTest(any('cantilevr'), any({ length: '100 mm' }))).toThrow(
      /test: got "cantilevr".*did you mean "cantilever".*\nsheet: got nothing.*\nlength: got "100 mm".*\nmesh: got nothing/,
    );
    expect(() => swatchTest('cantilever', any(undefined))).toThrow(/sheet: got nothing/);
  });
  it('a quantity that is no text has no unit; an unknown kind lists those there are (were: TypeErrors)', () => {
    expect(readQuantity(any(10), 'length')).toMatchObject({ ok: false, expected: expect.stringContaining('a length with its unit') });
    expect(() => readQuantity('10 mm', any('size'))).toThrow(/unknown kind of quantity "size": expected .*length/);
  });
});
