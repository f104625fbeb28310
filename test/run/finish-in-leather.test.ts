import { describe, expect, it } from 'vitest';
import { type BagError, parseBag } from '../../src/bag/index.ts';
import { prepare } from '../../src/index.ts';
import { cutPattern } from '../../src/pattern/cutting.ts';
import { statedStack } from '../bag/stated-stack.ts';

const hem = { finish: 'turned twice', width: '30 mm', 'in leather': { finish: 'turned once', width: '15 mm' } };
/** A square of 200 mm, its lower edge clipped: 400 g/m2 as cloth, 1000 g/m2 as leather. */
const square = (finish: object) => ({
  slumpline: 1,
  panels: { p: { rectangle: { width: '200 mm', height: '200 mm' }, clips: [{ edge: 'bottom', slope: true }], finishes: { top: finish } } },
  materials: { hide: { like: 'veg20', mass: '1000 g/m2', bending: '3 mN.m' } },
  stacks: { cloth: statedStack(400, 100), leather: ['hide'] },
  options: { 'in cloth': { p: 'cloth' }, 'in leather': { p: 'leather' } },
});
/** g */
const massOf = (finish: object, option: string): number =>
  1000 * prepare(parseBag(square(finish)), { option, edgeLength: 0.02 }).model.mass.reduce((sum, m) => sum + m, 0);

describe('a finish that is another one in leather', () => {
  it('weighs 40 mm x 200 mm of the cloth and 15 mm x 200 mm of the leather, by hand to 1e-6 g', () => {
    expect(massOf(hem, 'in cloth')).toBeCloseTo(400 * 0.2 * (0.2 + 0.04), 6);
    expect(massOf(hem, 'in leather')).toBeCloseTo(1000 * 0.2 * (0.2 + 0.015), 6);
  });
  it('is cut with its own allowance: 40 mm of cloth for a hem turned twice, 15 mm of leather turned once', () => {
    const height = (option: string): number => {
      const ys = cutPattern(parseBag(square(hem)), option)
        .pieces[0]!.cut.flat()
        .map((q) => q[1]);
      return 1000 * (Math.max(...ys) - Math.min(...ys));
    };
    expect(height('in cloth')).toBeCloseTo(240, 3);
    expect(height('in leather')).toBeCloseTo(215, 3);
  });
  it('a wrong one is told with its path: no width, a width without room, a stack of a hem', () => {
    const faults = (leather: object): string[] => {
      try {
        parseBag(square({ ...hem, 'in leather': leather }));
        return [];
      } catch (error) {
        return (error as BagError).faults.map((f) => f.path);
      }
    };
    expect(faults({ finish: 'turned once' })).toEqual(['panels.p.finishes.top.in leather.width']);
    expect(faults({ finish: 'turned once', width: '250 mm' })).toEqual(['panels.p.finishes.top.in leather.width']);
    expect(faults({ finish: 'turned once', width: '15 mm', stack: 'cloth' })).toEqual(['panels.p.finishes.top.in leather.stack']);
  });
});
