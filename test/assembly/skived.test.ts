import { describe, expect, it } from 'vitest';
import { assemble, panelMasses, seamsOf } from '../../src/assembly/index.ts';
import { sewnOn } from '../../src/assembly/sewn-on.ts';
import { type BagError, parseBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers, thinned } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { flatArea } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { placePanels } from '../../src/placement/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

/** Two strips of 80 x 160 mm sewn along their long edges, 10 mm of allowance; the seam's and the stack's own words. */
const two = (seam: object, stack: unknown = statedStack(1000, 4000, { thickness: '1 mm' })) =>
  parseBag({
    slumpline: 1,
    panels: { p: { rectangle: { width: '80 mm', height: '160 mm' } }, q: { copy: 'p' } },
    seams: { s: { join: ['p.right', 'q.left'], allowance: '10 mm', ...seam } },
    stacks: { cloth: stack },
    options: { o: { 'every panel': 'cloth' } },
  });
function made(bag: ReturnType<typeof two>, edgeLength = 0.02) {
  const draft = draftPanels(bag),
    mesh = meshPanels(bag, draft, { edgeLength }),
    laminates = layUp(bag, 'o', 'mid'),
    sewn = sewnLayers(bag, laminates, 'mid');
  const model = assemble(bag, mesh, laminates, sewn, placePanels(bag, draft, mesh).positions, bag.stances[0]!);
  const whole = model.mass.reduce((s, m) => s + m, 0);
  expect(Math.abs(panelMasses(bag, mesh, laminates, sewn).reduce((s, m) => s + m, 0) / whole - 1), 'panels weigh what the model weighs').toBeLessThan(1e-12);
  /** Rigidity along the seam that stitching adds or takes, N.m2 over both panels. */
  let along = 0;
  for (const [t, { bending }] of sewnOn(bag, mesh, laminates, sewn)) along += (bending[0] - laminates[0]![0]!.bending[0]) * flatArea(mesh, t);
  let hinge = 0;
  for (const k of model.hingeStiffness) if (Number.isFinite(k)) hinge = Math.max(hinge, k);
  return { grams: 1e3 * whole, along: along / 0.16, hinge, bulk: seamsOf(bag, mesh, laminates)[0]!.bulk };
}
const faultsOf = (seam: object, stack?: unknown): string[] => {
  try {
    two(seam, stack);
    return [];
  } catch (error) {
    return (error as BagError).faults.map((f) => f.path);
  }
};

describe('skived and trimmed allowances, by hand', () => {
  const plain = made(two({ pressed: 'creased' }));
  it('trimmed from 10 to 4 mm: 2 x 160 x 6 mm of 1 kg/m2 lighter, 0.4 of the stiffness along the seam, the crease as stiff as before', () => {
    const cut = made(two({ pressed: 'creased', trimmed: '4 mm' }));
    expect(plain.grams - cut.grams).toBeCloseTo(2 * 0.16 * 6, 9);
    expect(cut.along / plain.along).toBeCloseTo(0.4, 9);
    expect(cut.hinge).toBeCloseTo(plain.hinge, 12);
  });
  it('skived from 1 to 0.5 mm over 10 mm and more: half the weight, an eighth of the stiffness along, a crease of 2 D/8 over 1 mm, bulk 0.5 + 0.5 + 1 mm', () => {
    const thin = made(two({ pressed: 'creased', skived: { to: '0.5 mm', over: '15 mm' } }));
    expect(plain.grams - thin.grams).toBeCloseTo(2 * 0.16 * 10 * 0.5, 9);
    expect(thin.along / plain.along).toBeCloseTo(1 / 8, 9);
    expect(plain.hinge).toBeCloseTo((2 * 4e-3) / 2e-3, 9);
    expect(thin.hinge).toBeCloseTo((2 * 4e-3) / 8 / 1e-3, 9);
    expect([plain.bulk, thin.bulk].map((b) => Number((1e3 * b).toFixed(6)))).toEqual([3, 2]);
  });
  it('skived over half of its width: 3/4 of the weight, (1 + 1/8)/2 along, strips one after another across: 2/(1 + 8); thick at the stitch line', () => {
    const half = { allowance: 0.01, skived: { to: 0.5e-3, over: 0.005 } };
    expect(thinned(half, 1e-3)).toMatchObject({ mass: 0.75, along: 0.5625, line: 1e-3, crease: 1 });
    expect(thinned(half, 1e-3).across).toBeCloseTo(2 / 9, 12);
    expect(made(two({ pressed: 'unpressed', skived: { to: '0.5 mm', over: '5 mm' } })).hinge).toBeCloseTo(((2 * 4e-3) / 0.01) * (2 / 9), 9);
  });
  it('skived over 5 mm and trimmed by 6 mm: the thin part is cut off again', () => {
    expect(thinned({ allowance: 0.01, trimmed: 0.004, skived: { to: 0.5e-3, over: 0.005 } }, 1e-3)).toMatchObject({
      width: 0.004,
      mass: 1,
      along: 1,
      across: 1,
    });
  });
  it('a sheet thinner than what it is skived to stays as it is', () => {
    expect(thinned({ allowance: 0.01, skived: { to: 2e-3, over: 0.01 } }, 1e-3)).toMatchObject({ mass: 1, along: 1, across: 1, line: 1e-3 });
  });
  it('zero, negative and unreadable widths, wider than the allowance, of a fold and of a seam without allowance are faults, all at once with their paths', () => {
    for (const width of ['0 mm', '-2 mm', 'some', '12 mm']) expect(faultsOf({ trimmed: width })).toEqual(['seams.s.trimmed']);
    for (const width of ['0 mm', '-2 mm', 'some']) {
      expect(faultsOf({ skived: { to: width, over: width } })).toEqual(['seams.s.skived.to', 'seams.s.skived.over']);
    }
    expect(faultsOf({ skived: { to: '1 mm', over: '0 mm' }, trimmed: '0 mm' })).toEqual(['seams.s.trimmed', 'seams.s.skived.over']);
    expect(faultsOf({ type: 'fold', trimmed: '4 mm' })).toEqual(['seams.s.trimmed']);
    expect(faultsOf({ allowance: '0 mm', skived: { to: '1 mm', over: '4 mm' } })).toEqual(['seams.s.skived']);
  });
});

describe('interfacing ends 5 mm inside the seam unless it is stated otherwise', () => {
  const stack = (more: object) => ['canvas10', { fused: 'fus_heavy', ...more }];
  const [usual, flush, caught, wide] = [{}, { inset: '0 mm' }, { 'in seams': 'caught' }, { inset: '10 mm' }].map((more) =>
    made(two({ pressed: 'open' }, stack(more))),
  );
  it('its weight is short of 80 g/m2 over 2 x 160 x 5 mm, over twice that at 10 mm, and it adds nothing to the allowances', () => {
    expect(flush!.grams - usual!.grams).toBeCloseTo(80 * 2 * 0.16 * 0.005, 9);
    expect(flush!.grams - wide!.grams).toBeCloseTo(80 * 2 * 0.16 * 0.01, 9);
    expect(caught!.grams - flush!.grams).toBeCloseTo(80 * 2 * 0.16 * 0.01, 9);
  });
  it('the strip beside the seam is as stiff along it as the cloth without: less by 2 x 5 mm of the difference', () => {
    const [whole, bare] = [stack({}), ['canvas10']].map((layers) => layUp(two({}, layers), 'o', 'mid')[0]![0]!.bending[0]);
    expect((flush!.along - usual!.along) / (2 * 0.005 * (whole! - bare!))).toBeCloseTo(1, 1);
  });
  it('a seam is as thick as what runs into it: with the fusible caught 0.45 mm more a layer', () => {
    const shell = 0.61e-3,
      panel = 0.61e-3 + 0.45e-3;
    expect(usual!.bulk).toBeCloseTo(2 * shell + panel, 9);
    expect(caught!.bulk).toBeCloseTo(3 * panel, 9);
  });
  it('an inset of what is caught, of the first layer, and a negative one are faults with their paths', () => {
    expect(faultsOf({}, stack({ 'in seams': 'caught', inset: '5 mm' }))).toContain('stacks.cloth[1].inset');
    expect(faultsOf({}, [{ material: 'canvas10', inset: '5 mm' }])).toContain('stacks.cloth[0].inset');
    expect(faultsOf({}, stack({ inset: '-1 mm' }))).toContain('stacks.cloth[1].inset');
  });
});
