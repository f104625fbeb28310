import { describe, expect, it } from 'vitest';
import { editDistance, nearestWord } from '../../src/bag/nearest-word.ts';

describe('the word that was probably meant', () => {
  it('edit distance counts 1 for a swap, 1 for a missing letter, 3 from kitten to sitting', () => {
    expect(editDistance('flecee', 'fleece')).toBe(1);
    expect(editDistance('canvs', 'canvas')).toBe(1);
    expect(editDistance('kitten', 'sitting')).toBe(3);
  });

  const cases: readonly (readonly [string, string[], string | null])[] = [
    ['D', ['H', 'W', 'd'], 'd'],
    ['W', ['H', 'D'], null],
    ['Base Board', ['baseboard', 'board'], 'baseboard'],
    ['boxed', ['boxes', 'boxed-tote'], 'boxed-tote'],
    ['xyz', ['canvas', 'lawn'], null],
    ['satchle', ['satchel', 'bucket'], 'satchel'],
    ['botom', ['bottom', 'top'], 'bottom'],
    ['vegetabel taned lether', ['chrome-tanned leather', 'vegetable-tanned leather'], 'vegetable-tanned leather'],
    // The right word is never beaten by a longer one that holds it.
    ['board', ['base board', 'board'], 'board'],
  ];
  it.each(cases)('%s of %j: %s', (word, known, meant) => {
    expect(nearestWord(word, known)).toBe(meant);
  });
});
