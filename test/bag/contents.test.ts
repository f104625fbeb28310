import { describe, expect, it } from 'vitest';
import { BagError, parseBag } from '../../src/bag/index.ts';
import type { Fault } from '../../src/bag/types.ts';

const file = (contents: unknown, stance: object = {}) => ({
  slumpline: 1,
  panels: { p: { rectangle: { width: '300 mm', height: '240 mm' }, open: ['top', 'bottom', 'left', 'right'] } },
  stacks: { plain: ['canvas10'] },
  options: { plain: { 'every panel': 'plain' } },
  stances: { here: { kind: 'standing', ...stance, contents } },
});
const things = (contents: unknown) => {
  const [made] = parseBag(file(contents)).stances;
  return made?.kind === 'standing' ? made.contents : undefined;
};
const faultsOf = (contents: unknown, stance: object = {}): readonly Fault[] => {
  try {
    parseBag(file(contents, stance));
  } catch (error) {
    if (error instanceof BagError) return error.faults;
    throw error;
  }
  return [];
};

describe('rigid contents of a stance', () => {
  it('everyday things come with a usual size and mass, each of which can be written over', () => {
    expect(things([{ thing: 'bottle' }])).toEqual([
      { thing: 'bottle', mass: 0.53, body: { form: 'roll', diameter: 0.065, length: 0.2, round: 0.003 }, along: 'z', turn: 0, at: null, friction: 0.35 },
    ]);
    expect(things([{ thing: 'book', height: '9 in', mass: '1 lb', along: 'x', at: ['2 in', 0] }])?.[0]).toMatchObject({
      mass: expect.closeTo(0.45359237, 9),
      body: { form: 'block', size: [0.15, 0.03, expect.closeTo(0.2286, 9)] },
      along: 'x',
      at: [expect.closeTo(0.0508, 9), 0],
    });
  });

  it('plain shapes need every size and a mass; a thin one has edges of a quarter of its thickness', () => {
    expect(things([{ thing: 'block', width: '100 mm', depth: '8 mm', height: '100 mm', mass: '90 g' }])?.[0]?.body).toEqual({
      form: 'block',
      size: [0.1, 0.008, 0.1],
      round: 0.002,
    });
    const faults = faultsOf([{ thing: 'roll', width: '3 cm' }]);
    expect(faults.map((f) => f.path)).toEqual([
      'stances.here.contents[0].width',
      'stances.here.contents[0].diameter',
      'stances.here.contents[0].length',
      'stances.here.contents[0].mass',
    ]);
  });

  it('tells every fault at once, each with its path', () => {
    const faults = faultsOf([{ thing: 'brick' }, { thing: 'ball', diameter: '-3 cm' }, { thing: 'tin', mass: '0 g', friction: 9 }]);
    expect(faults.map((f) => f.path)).toContain('stances.here.contents[0].thing');
    expect(
      faultsOf([
        { thing: 'ball', diameter: '-3 cm' },
        { thing: 'tin', mass: '0 g', friction: 9 },
      ]).map((f) => f.path),
    ).toEqual(['stances.here.contents[0].diameter', 'stances.here.contents[1].mass', 'stances.here.contents[1].friction']);
    expect(faultsOf(Array.from({ length: 13 }, () => ({ thing: 'tin' })))[0]?.expected).toContain('12');
    expect(faultsOf([{ thing: 'tin' }], { kind: 'held' })[0]?.path).toBe('stances.here.contents');
  });
});
