import { describe, expect, it } from 'vitest';
import { BagError, bagJsonSchema, parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';

const file = (more: object = {}): Record<string, unknown> => ({
  slumpline: 1,
  name: 'x',
  parameters: { W: '300 mm', H: 'edge(p.right)' },
  panels: { p: { rectangle: { width: 'W', height: '200 mm' } } },
  stacks: { plain: ['canvas10'] },
  options: { o: { 'every panel': 'plain' } },
  ...more,
});
const stance = (forms: object[], contents: object[] = []) => ({ stances: { s: { kind: 'standing', forms, contents } } });
const FORMS = [
  ['box', 'block', { width: '90 mm', depth: '90 mm', height: '90 mm' }],
  ['sphere', 'ball', { diameter: '90 mm' }],
  ['ellipsoid', 'egg', { width: '90 mm', depth: '80 mm', height: '70 mm' }],
  ['cylinder', 'roll', { diameter: '60 mm', length: '90 mm' }],
  ['capsule', 'bolster', { diameter: '60 mm', length: '90 mm' }],
] as const;
const THINGS = [
  ['box', 'block', { width: '90 mm', depth: '90 mm', height: '90 mm', mass: '300 g' }],
  ['cylinder', 'roll', { diameter: '60 mm', length: '90 mm', mass: '300 g' }],
  ['sphere', 'ball', { diameter: '60 mm', mass: '300 g' }],
] as const;

describe('old names of the bag file are read, and told', () => {
  it('5 forms and 3 things under their old names give the bag of the new ones, with 8 notes', () => {
    const named = (i: 0 | 1) =>
      parseBagDocument(
        file(
          stance(
            FORMS.map((f) => ({ form: f[i], ...f[2] })),
            THINGS.map((t) => ({ thing: t[i], ...t[2] })),
          ),
        ),
      );
    const [old, now] = [named(0), named(1)];
    expect(old.bag).toEqual(now.bag);
    expect(now.renamed).toEqual([]);
    expect(old.renamed).toEqual([
      ...FORMS.map(([was, is], i) => ({ path: `stances.s.forms[${i}].form`, old: was, now: is })),
      ...THINGS.map(([was, is], i) => ({ path: `stances.s.contents[${i}].thing`, old: was, now: is })),
    ]);
    // What is printed has the new names, and nothing is left to tell.
    expect(parseBagDocument(printBag(old.document)).renamed).toEqual([]);
  });

  it('strainLimit of 0.03 is "largest strain": 0.03, in the same place of the file', () => {
    const { bag, renamed, document } = parseBagDocument({ ...file({ strainLimit: 0.03 }), note: 'last' });
    expect(bag.strainLimit).toBe(0.03);
    expect(renamed).toEqual([{ path: 'strainLimit', old: 'strainLimit', now: 'largest strain' }]);
    expect(Object.keys(document.value).slice(-2)).toEqual(['largest strain', 'note']);
  });

  it('a strainLimit of 2 is refused under the name it was written with; beside "largest strain" it is a stranger', () => {
    const paths = (more: object): string[] => {
      try {
        parseBag(file(more));
      } catch (error) {
        if (error instanceof BagError) return error.faults.map((f) => f.path);
      }
      return [];
    };
    expect(paths({ strainLimit: 2 })).toEqual(['strainLimit']);
    expect(paths({ strainLimit: 0.03, 'largest strain': 0.03 })).toEqual(['strainLimit']);
  });

  it('length(p.right) in a parameter and in a size is edge(p.right), 200 mm, with 2 notes', () => {
    const { bag, renamed } = parseBagDocument(
      file({
        parameters: { H: 'length(p.right)' },
        panels: { p: { rectangle: { width: '300 mm', height: '200 mm' } }, q: { rectangle: { width: 'length( p.top )', height: 'H' } } },
      }),
    );
    expect(bag.parameters[0]?.value).toBeCloseTo(0.2, 12);
    expect(renamed).toEqual([
      { path: 'parameters.H', old: 'length(...)', now: 'edge(...)' },
      { path: 'panels.q.rectangle.width', old: 'length(...)', now: 'edge(...)' },
    ]);
  });

  it('the schema knows none of the 6 old names', () => {
    const text = JSON.stringify(bagJsonSchema());
    for (const word of ['"sphere"', '"ellipsoid"', '"cylinder"', '"capsule"', 'strainLimit', 'length(']) expect(text.includes(word), word).toBe(false);
  });
});

it('"$schema" is allowed at the top, kept when printed, and refused where it is no text', () => {
  const { document } = parseBagDocument({ $schema: 'https://example.org/bag.json', ...file() });
  expect(parseBagDocument(printBag(document)).document.value.$schema).toBe('https://example.org/bag.json');
  expect(() => parseBag({ $schema: 1, ...file() })).toThrow(BagError);
});
