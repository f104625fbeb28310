import { describe, expect, it } from 'vitest';
import { checkBulk } from '../../src/assembly/check-bulk.ts';
import { seamsOf } from '../../src/assembly/index.ts';
import { type BagError, parseBag } from '../../src/bag/index.ts';
import { layUp, materialBands, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { draftPanels } from '../../src/panels/index.ts';

const two = (stack: readonly unknown[], type = 'plain') =>
  parseBag({
    slumpline: 1,
    panels: { a: { rectangle: { width: '100 mm', height: '80 mm' } }, b: { copy: 'a' } },
    seams: { A: { join: ['a.top', 'b.bottom'], type } },
    stacks: { s: stack },
  });
const bulk = (stack: readonly unknown[], type?: string) => {
  const bag = two(stack, type);
  return seamsOf(bag, meshPanels(bag, draftPanels(bag), { edgeLength: 0.03 }), layUp(bag, bag.options[0]!.name, 'mid'))[0]!;
};
const t = (id: string) => materialBands(id)!.thickness[1];

describe('the bulk of a seam', () => {
  const [shell, fleece, lining] = [t('canvas10'), t('fleece'), t('poplin')];
  it('of canvas, fleece and poplin counts 2 layers in each allowance and 3 in the panel beside it: the fleece is cut out, and the result names it', () => {
    const seam = bulk(['canvas10', { fused: 'fleece' }, { loose: 'poplin' }]);
    expect(seam.layers).toBe(2 + 2 + 3);
    expect(seam.bulk).toBeCloseTo(3 * (shell + lining) + fleece, 9);
    expect(seam.cutOut).toEqual([materialBands('fleece')!.name]);
  });
  it('counts all 9 layers where the file says that the fleece is caught, and 5 where fleece and lining are said to be cut out', () => {
    const caught = bulk(['canvas10', { fused: 'fleece', 'in seams': 'caught' }, { loose: 'poplin' }]);
    expect(caught.layers).toBe(9);
    expect(caught.bulk).toBeCloseTo(3 * (shell + lining + fleece), 9);
    expect(caught).not.toHaveProperty('cutOut');
    const bare = bulk(['canvas10', { fused: 'fleece' }, { loose: 'poplin', 'in seams': 'cut out' }]);
    expect(bare.layers).toBe(1 + 1 + 3);
    expect(bare.bulk).toBeCloseTo(2 * shell + (shell + lining + fleece), 9);
  });
  it('of a lapped seam is what both allowances catch; a shell of foam is caught, because it is what is sewn', () => {
    expect(bulk(['canvas10', { fused: 'fleece' }], 'lapped').bulk).toBeCloseTo(2 * shell, 9);
    expect(bulk(['foam'], 'lapped').bulk).toBeCloseTo(2 * t('foam'), 9);
  });
  it('a stack of 6 canvases and a board is too thick for the foot, and the finding says that the board is cut out', () => {
    const bag = two(['canvas24', ...Array.from({ length: 5 }, () => ({ loose: 'canvas24' })), { loose: 'fibreboard1' }]);
    expect(checkBulk(bag, draftPanels(bag))[0]!.text).toContain(`${materialBands('fibreboard1')!.name} cut out of its allowance`);
  });
  it('weight and stiffness of an allowance take the shell alone, and more only where a layer is said to be caught', () => {
    const weight = (stack: readonly unknown[]) => {
      const bag = two(stack);
      return sewnLayers(bag, layUp(bag, bag.options[0]!.name, 'mid'), 'mid').allowances[0]![0]!.arealMass;
    };
    const mass = (id: string) => materialBands(id)!.arealMass[1];
    expect(weight(['canvas10', { loose: 'poplin' }])).toBe(mass('canvas10'));
    expect(weight(['canvas10', { loose: 'poplin', 'in seams': 'caught' }])).toBeCloseTo(mass('canvas10') + mass('poplin'), 12);
  });
  it('a shell that is cut out of its own seams and an unknown word are faults with their paths', () => {
    const faults = (stack: readonly unknown[]) => {
      try {
        two(stack);
        return [];
      } catch (error) {
        return (error as BagError).faults.map((f) => f.path);
      }
    };
    expect(faults([{ material: 'canvas10', 'in seams': 'cut out' }])).toEqual(['stacks.s[0].in seams']);
    expect(faults(['canvas10', { fused: 'fleece', 'in seams': 'trimmed' }])).toEqual(['stacks.s[1].in seams']);
  });
});
