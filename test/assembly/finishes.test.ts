import { describe, expect, it } from 'vitest';
import { layersAdded } from '../../src/assembly/finishes.ts';
import { assemble, checkBulk, panelMasses } from '../../src/assembly/index.ts';
import { sewnOn } from '../../src/assembly/sewn-on.ts';
import { type BagError, parseBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { flatArea } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { placePanels } from '../../src/placement/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

/** Two sheets of 200 x 150 mm sewn along one side of each; 400 g/m2 with 100 uN.m, a facing of 150 g/m2 with 30 uN.m. */
const two = (finishes: object, more: object = {}, thickness = '0.5 mm') =>
  parseBag({
    slumpline: 1,
    panels: {
      a: { rectangle: { width: '200 mm', height: '150 mm' }, chains: { round: ['right', 'top'] }, finishes },
      b: { rectangle: { width: '200 mm', height: '30 mm' } },
    },
    seams: { A: { join: ['a.bottom', 'b.top'], ...more } },
    stacks: { cloth: statedStack(400, 100, { thickness }), facing: statedStack(150, 30) },
    options: { o: { 'every panel': 'cloth' } },
  });
const faultsOf = (finishes: object, more?: object) => {
  try {
    two(finishes, more);
    return [];
  } catch (error) {
    return (error as BagError).faults.map((f) => f.path);
  }
};
/** Added mass, g, and added rigidity along the edge times area, uN.m x m2. */
function added(finishes: object, edgeLength: number) {
  const of = (bag: ReturnType<typeof two>) => {
    const draft = draftPanels(bag),
      mesh = meshPanels(bag, draft, { edgeLength }),
      laminates = layUp(bag, 'o', 'mid'),
      sewn = sewnLayers(bag, laminates, 'mid');
    const model = assemble(bag, mesh, laminates, sewn, placePanels(bag, draft, mesh).positions, bag.stances[0]!);
    const panels = panelMasses(bag, mesh, laminates, sewn).reduce((s, m) => s + m, 0);
    const whole = model.mass.reduce((s, m) => s + m, 0);
    expect(Math.abs(panels / whole - 1), 'panels together weigh what the model weighs').toBeLessThan(1e-12);
    let rigid = 0;
    for (const [t, { bending }] of sewnOn(bag, mesh, laminates, sewn)) rigid += (bending[1]! - laminates[0]![0]!.bending[1]) * flatArea(mesh, t);
    return { grams: 1e3 * whole, rigid: 1e6 * rigid };
  };
  const [with_, without] = [of(two(finishes)), of(two({}))];
  return { grams: with_.grams - without.grams, rigid: with_.rigid };
}

describe('a finish of an open edge', () => {
  it.each([
    ['raw', undefined, 0],
    ['turned once', '30 mm', 1],
    ['turned twice', '30 mm', 1 + 10 / 30],
    ['turned twice', '8 mm', 2],
    ['bound', '8 mm', 2],
  ] as const)('%s, %s: %f layers of 400 g/m2 on 200 mm weigh what they do by hand, to 1e-9, at 20 and 40 mm', (finish, width, layers) => {
    const wide = Number.parseFloat(width ?? '0') / 1e3;
    expect(layersAdded({ finish, width: wide })).toBeCloseTo(layers, 12);
    for (const edgeLength of [0.02, 0.04])
      expect(added({ top: { finish, ...(width ? { width } : {}) } }, edgeLength).grams).toBeCloseTo(layers * 400 * wide * 0.2, 9);
  });

  it('along the edge its layers add their rigidity as a loose sum over its width: 30 mm turned twice 133 uN.m, faced with 30 uN.m, within 1 %', () => {
    // a.bottom is sewn, so that the edge runs along the weft, which is x: bending[1].
    for (const [finish, each] of [
      [{ finish: 'turned twice', width: '30 mm' }, (4 / 3) * 100],
      [{ finish: 'faced', width: '30 mm', stack: 'facing' }, 30],
    ] as const) {
      const { rigid } = added({ top: finish }, 0.012);
      expect(Math.abs(rigid / (each * 0.03 * 0.2) - 1), JSON.stringify(finish)).toBeLessThan(0.01);
    }
    expect(added({ top: { finish: 'faced', width: '30 mm', stack: 'facing' } }, 0.012).grams).toBeCloseTo(150 * 0.03 * 0.2, 9);
  });

  it('a mitred hem round a corner weighs as its two edges do', () => {
    const hem = { finish: 'turned once', width: '20 mm' };
    const { grams } = added({ round: { ...hem, mitre: true } }, 0.012);
    expect(grams).toBeCloseTo(added({ right: hem, top: hem }, 0.012).grams, 9);
  });

  it('faults with their paths: no width, zero, below zero, of a raw edge, wider than the panel, a sewn edge, two on one edge, a corner without a mitre, a stack of a hem', () => {
    const top = (finish: object) => faultsOf({ top: finish });
    const [at, width] = ['panels.a.finishes.top', 'panels.a.finishes.top.width'];
    expect(top({ finish: 'turned once' })).toEqual([width]);
    for (const w of ['0 mm', '-5 mm', '90 mm x', '160 mm']) expect(top({ finish: 'turned once', width: w }), w).toEqual([width]);
    expect(top({ finish: 'raw', width: '5 mm' })).toEqual([width]);
    expect(top({ finish: 'pinked' })).toEqual([`${at}.finish`]);
    expect(top({ finish: 'turned once', width: '10 mm', stack: 'facing' })).toEqual([`${at}.stack`]);
    expect(top({ finish: 'faced', width: '10 mm', stack: 'silk' })).toEqual([`${at}.stack`]);
    expect(faultsOf({ bottom: { finish: 'bound', width: '8 mm' } })).toEqual(['panels.a.finishes.bottom']);
    expect(faultsOf({ top: { finish: 'raw' }, 'top[20%..40%]': { finish: 'bound', width: '8 mm' } })).toEqual(['panels.a.finishes."top[20%..40%]"']);
    expect(faultsOf({ round: { finish: 'turned once', width: '20 mm' } })).toEqual(['panels.a.finishes.round']);
    expect(faultsOf({ round: { finish: 'bound', width: '8 mm' } })).toEqual([]);
    expect(faultsOf({ side: { finish: 'raw' } })).toEqual(['panels.a.finishes.side']);
  });

  it('an allowance of 30 mm has no room on a panel of 30 mm, one of 29 mm has', () => {
    expect(faultsOf({}, { allowance: '30 mm' })).toEqual(['seams.A.allowance']);
    expect(faultsOf({}, { allowance: '29 mm' })).toEqual([]);
  });

  it('a hem of 5 mm is too narrow to turn a cloth of 1.9 mm, one of 6 mm is not', () => {
    const found = (width: string) => {
      const bag = two({ top: { finish: 'turned once', width } }, { allowance: '20 mm', type: 'lapped' }, '1.9 mm');
      return checkBulk(bag, draftPanels(bag)).map((f) => `${f.panel}.${f.edge} ${f.figure}`);
    };
    expect(found('5 mm')).toEqual(['a.top 1.9 mm in 5 mm']);
    expect(found('6 mm')).toEqual([]);
  });
});
