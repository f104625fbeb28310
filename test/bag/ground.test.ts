import { describe, expect, it } from 'vitest';
import { BagError, parseBag } from '../../src/bag/index.ts';
import type { Fault } from '../../src/bag/types.ts';

const file = (stance: object) => ({
  slumpline: 1,
  panels: { p: { rectangle: { width: '300 mm', height: '240 mm' }, open: ['top', 'bottom', 'left', 'right'] } },
  stacks: { plain: ['canvas10'] },
  options: { plain: { 'every panel': 'plain' } },
  stances: { here: { kind: 'standing', ...stance } },
});
const ground = (stance: object) => {
  const [made] = parseBag(file(stance)).stances;
  return made?.kind === 'standing' ? made.ground : undefined;
};
const faultsOf = (stance: object): readonly Fault[] => {
  try {
    parseBag(file(stance));
  } catch (error) {
    if (error instanceof BagError) return error.faults;
    throw error;
  }
  return [];
};

const BALL = { form: 'ball', diameter: '160 mm', at: [0, '10 mm', '-80 mm'] };

describe('what a bag stands on', () => {
  it('is a level table when the file says nothing of it, and then the stance is the same record as before', () => {
    expect(parseBag(file({})).stances[0]).toEqual({ name: 'here', kind: 'standing', friction: 0.4, load: null });
    expect(ground({ on: 'table' })).toBeUndefined();
  });

  it('a table of 12 deg falls to the front unless told otherwise; a base can be glued or hinged down', () => {
    expect(ground({ tilt: '12 deg' })).toMatchObject({ on: 'table', tilt: expect.closeTo((12 * Math.PI) / 180, 12), toward: 'front', base: 'free', forms: [] });
    expect(ground({ tilt: '30 deg', toward: 'left', base: 'glued' })).toMatchObject({ toward: 'left', base: 'glued' });
  });

  it('forms come in metres with their own friction, else that of the stance', () => {
    expect(ground({ on: 'nothing', friction: 0.3, forms: [BALL, { ...BALL, friction: 0.5 }] })?.forms).toEqual([
      { form: 'ball', diameter: 0.16, at: [0, 0.01, -0.08], friction: 0.3 },
      { form: 'ball', diameter: 0.16, at: [0, 0.01, -0.08], friction: 0.5 },
    ]);
    expect(ground({ forms: [{ form: 'roll', diameter: '80 mm', length: '4 in', along: 'x' }] })?.forms[0]).toMatchObject({
      form: 'roll',
      diameter: 0.08,
      length: 0.1016,
      along: 'x',
      round: 0.003,
    });
  });

  it.each([
    ['a slope that nothing stays on (tan 25 deg = 0.466 over friction 0.4)', { tilt: '25 deg' }, 'tilt', 'at most 21.8 deg'],
    ['a slope past 45 deg', { tilt: '50 deg', base: 'glued' }, 'tilt', 'at most 45 deg'],
    ['a direction without a slope', { toward: 'left' }, 'toward', 'only a tilted table'],
    ['nothing at all', { on: 'nothing' }, 'on', 'at least one entry in "forms"'],
    ['a ball without a size', { forms: [{ form: 'ball' }] }, 'forms[0].diameter', 'a ball takes diameter'],
    ['a ball with a width', { forms: [{ ...BALL, width: '9 mm' }] }, 'forms[0].width', 'nothing: a ball takes diameter'],
    ['a bolster shorter than it is thick', { forms: [{ form: 'bolster', diameter: '90 mm', length: '80 mm' }] }, 'forms[0].length', 'at least its diameter'],
    [
      'a rounding of more than half its size',
      { forms: [{ form: 'block', width: '20 mm', depth: '90 mm', height: '90 mm', round: '11 mm' }] },
      'forms[0].round',
      '10 mm',
    ],
    ['an unknown form', { forms: [{ form: 'cone' }] }, 'forms[0].form', 'one of block, ball'],
    ['a bare number', { forms: [{ ...BALL, diameter: 160 }] }, 'forms[0].diameter', 'the unit is missing'],
    ['a hung bag on a table', { kind: 'held', tilt: '5 deg' }, 'tilt', 'a bag that is held'],
  ])('is refused: %s', (_, stance, path, expected) => {
    const faults = faultsOf(stance);
    expect(faults.map((f) => f.path)).toContain(`stances.here.${path}`);
    expect(faults.map((f) => f.expected).join('\n')).toContain(expected);
  });

  it('tells 3 faults at once', () => {
    expect(faultsOf({ tilt: '60 deg', toward: 'up', forms: [{ form: 'ball' }] }).length).toBeGreaterThanOrEqual(1);
    expect(faultsOf({ tilt: '60 deg', base: 'glued', forms: [{ form: 'ball' }, { form: 'block', width: '9 mm' }] }).map((f) => f.path)).toEqual([
      'stances.here.tilt',
      'stances.here.forms[0].diameter',
      'stances.here.forms[1].depth',
      'stances.here.forms[1].height',
    ]);
  });
});
