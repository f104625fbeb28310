import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { sha256 } from '../../src/numerics/index.ts';

it.each([
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  ['abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq', '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1'],
])('of "%s" is the example of FIPS 180 (from memory; the next test asks an independent program)', (text, hash) => {
  expect(sha256(text)).toBe(hash);
});

it('of 300 texts in any script is what node:crypto makes of their UTF-8', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (text) => {
      expect(sha256(text)).toBe(createHash('sha256').update(text).digest('hex'));
    }),
    { numRuns: 300, seed: 5 },
  );
});
