import fc from 'fast-check';
import { expect, test } from 'vitest';
import { BagError, parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { layUp } from '../../src/material/index.ts';
import { PLANTS, validFile } from './generate.ts';

test('500 random valid bags: parse -> print -> parse is the identity, and print is stable', () => {
  let panels = 0;
  fc.assert(
    fc.property(validFile, (file) => {
      const text = JSON.stringify(file);
      const first = parseBagDocument(text);
      const printed = printBag(first.document);
      const again = parseBagDocument(printed);
      expect(again.document.value).toEqual(file);
      expect(again.bag).toEqual(first.bag);
      expect(printBag(again.document)).toBe(printed);
      panels += first.bag.panels.length;
    }),
    { seed: 20, numRuns: 500 },
  );
  console.log(`500 bags with ${panels} panels`);
});

test('200 random valid bags: every option lays up to positive definite laminates in every band, mass is the sum of its layers', () => {
  fc.assert(
    fc.property(validFile, (file) => {
      const bag = parseBag(file);
      for (const option of bag.options) {
        for (const band of ['low', 'mid', 'high'] as const) {
          const laminates = layUp(bag, option.name, band);
          expect(laminates.map((l) => l.length)).toEqual(bag.panels.map((p) => 1 + p.regions.length));
          for (const l of laminates.flat()) {
            expect(l.arealMass).toBeGreaterThan(0);
            for (const [a, b, c, d] of [l.bending, l.inPlane]) expect(a > 0 && b > 0 && d > 0 && a * b > c * c, l.story).toBe(true);
          }
        }
      }
    }),
    { seed: 21, numRuns: 200 },
  );
});

test('500 random bags with 1 to 6 planted faults: always a BagError, and every planted fault is on its list', () => {
  const plants = fc.array(fc.constantFrom(...PLANTS), { minLength: 1, maxLength: 6 });
  let planted = 0;
  fc.assert(
    fc.property(validFile, plants, (valid, chosen) => {
      const file = structuredClone(valid);
      chosen.forEach((p, i) => {
        p.apply(file, i);
      });
      let caught: unknown;
      try {
        parseBag(file);
      } catch (error) {
        caught = error;
      }
      expect(caught).toBeInstanceOf(BagError);
      const paths = (caught as BagError).faults.map((f) => f.path);
      for (const [i, p] of chosen.entries()) for (const path of p.paths(i)) expect(paths).toContain(path);
      for (const f of (caught as BagError).faults)
        expect(f.got.length > 0 && f.expected.length > 0 && f.got.length < 200 && f.expected.length < 600, JSON.stringify(f)).toBe(true);
      planted += chosen.length;
    }),
    { seed: 22, numRuns: 500 },
  );
  console.log(`${planted} planted faults, all found`);
});

test('each kind of fault alone gives faults only at its own part of the file', () => {
  const [valid] = fc.sample(validFile, { seed: 23, numRuns: 1 });
  PLANTS.forEach((p, n) => {
    const file = structuredClone(valid);
    p.apply(file, n);
    let faults: readonly { path: string }[] = [];
    try {
      parseBag(file);
    } catch (error) {
      if (error instanceof BagError) ({ faults } = error);
    }
    expect(
      faults.map((f) => f.path),
      p.paths(n)[0],
    ).toEqual(p.paths(n));
  });
});

const either = (source: unknown): void => {
  try {
    parseBag(source);
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    expect(error.faults.length).toBeGreaterThan(0);
  }
};

test('400 random JSON values, also in place of a section or an entry: a bag or a BagError, never another exception', () => {
  const sections = fc.constantFrom('parameters', 'panels', 'seams', 'straps', 'materials', 'stacks', 'options', 'stances', 'name', 'wanted', 'slumpline');
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 6 }), sections, validFile, (junk, section, file) => {
      either(junk);
      either({ ...file, [section]: junk });
      either({ ...file, [section]: { front: junk, s1: junk } });
      either({ ...file, panels: { ...file.panels, front: { rectangle: junk, marks: junk, clips: [junk], topstitch: [junk], regions: { r: junk } } } });
      either({ ...file, straps: { s: { width: '9 mm', length: '1 m', stack: 's1', from: { panel: 'front', 'from left': junk }, to: junk } } });
    }),
    { seed: 24, numRuns: 400 },
  );
});

test('1000 valid texts cut short or with one character changed: a bag or a BagError', () => {
  fc.assert(
    fc.property(
      validFile,
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom('', '"', '{', ']', ',', '0', 'x', '\\', '\u0000', '-', '.', '['),
      (file, where, put) => {
        const text = JSON.stringify(file);
        const at = Math.floor(where * text.length);
        either(text.slice(0, at));
        either(text.slice(0, at) + put + text.slice(at + 1));
      },
    ),
    { seed: 25, numRuns: 1000 },
  );
});
