import { expect, test } from 'vitest';
import { assemble } from '../../src/assembly/assemble.ts';
import { placePanels } from '../../src/assembly/place.ts';
import { BagError, parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { slackPull } from '../../src/material/ease.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/meshPanels.ts';
import { draftPanels } from '../../src/panels/draftPanels.ts';

const file = (lining: unknown) => ({
  slumpline: 1,
  panels: { p: { rectangle: { width: '300 mm', height: '240 mm' } } },
  stacks: { shell: ['canvas10'], lined: ['canvas10', lining], inner: ['lawn'] },
  options: { shell: { 'every panel': 'shell' }, lined: { 'every panel': 'lined' }, inner: { 'every panel': 'inner' } },
});
const laminate = (lining: unknown, option: string) => layUp(parseBag(file(lining)), option, 'mid')[0][0];

test('a lining with 3 % ease along and 2 % across weighs 1.03 x 1.02 of one cut to the panel, in the laminate and in the model, to 1e-12', () => {
  const eased = { loose: 'lawn', ease: ['3%', 0.02] };
  const [shell, inner, lined] = ['shell', 'inner', 'lined'].map((o) => laminate(eased, o).arealMass);
  expect(Math.abs((lined - shell) / (inner * 1.03 * 1.02) - 1)).toBeLessThan(1e-12);
  const bag = parseBag(file(eased));
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength: 0.04 });
  const laminates = layUp(bag, 'lined', 'mid');
  const model = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placePanels(bag, draft, mesh).positions, bag.stances[0]);
  expect(Math.abs(model.mass.reduce((a, b) => a + b, 0) / (lined * 0.3 * 0.24) - 1)).toBeLessThan(1e-12);
});

test('a slack lining adds its bending but no in-plane stiffness; without ease it adds both', () => {
  const [shell, inner] = ['shell', 'inner'].map((o) => laminate({ loose: 'lawn' }, o));
  const flush = laminate({ loose: 'lawn' }, 'lined');
  const eased = laminate({ loose: 'lawn', ease: '2%' }, 'lined');
  for (const k of [0, 1, 2, 3]) {
    expect(eased.inPlane[k]).toBeCloseTo(shell.inPlane[k], 6);
    expect(flush.inPlane[k]).toBeCloseTo(shell.inPlane[k] + inner.inPlane[k], 6);
    expect(eased.bending[k]).toBeCloseTo(flush.bending[k], 12);
  }
  expect(eased.story).toContain('with 2 % ease, slack until stretched that far');
});

test('ease across alone leaves the pull along the warp: C11 - C12^2/C22 of the lining', () => {
  const [shell, inner] = ['shell', 'inner'].map((o) => laminate({ loose: 'lawn' }, o).inPlane);
  const eased = laminate({ loose: 'lawn', ease: [0, '2%'] }, 'lined').inPlane;
  expect(eased[0]).toBeCloseTo(shell[0] + inner[0] - (inner[2] * inner[2]) / inner[1], 6);
  expect(eased.slice(1)).toEqual(shell.slice(1));
});

test('pull of an eased layer: none to the ease, from there C (s - e)/(1 + e), without a jump', () => {
  expect([0, 0.01, 0.02].map((s) => slackPull(1e4, s, 0.02))).toEqual([0, 0, 0]);
  expect(slackPull(1e4, 0.0302, 0.02)).toBeCloseTo(100, 9);
  expect(slackPull(1e4, 0.02 + 1e-9, 0.02)).toBeLessThan(1e-4);
});

test('what is fused to an eased lining hangs with it: both weigh (1 + e)^2', () => {
  const bag = (ease: object) =>
    parseBag({
      ...file('lawn'),
      stacks: { lined: ['canvas10', { loose: 'lawn', ...ease }, { fused: 'fus_heavy' }] },
      options: { o: { 'every panel': 'lined' } },
    });
  const [flush, eased] = [{}, { ease: '2%' }].map((e) => layUp(bag(e), 'o', 'mid')[0][0].arealMass);
  const shell = laminate('lawn', 'shell').arealMass;
  expect(Math.abs((eased - shell) / ((flush - shell) * 1.02 * 1.02) - 1)).toBeLessThan(1e-12);
});

test('ease prints and parses to itself; on a joined or the first layer, or over 25 %, it is a fault at its path', () => {
  const first = parseBagDocument(JSON.stringify(file({ loose: 'lawn', ease: ['2%', '1/100'] })));
  expect(parseBagDocument(printBag(first.document)).bag).toEqual(first.bag);
  const paths = (layers: unknown): readonly string[] => {
    try {
      parseBag({ ...file('lawn'), stacks: { lined: layers }, options: {} });
    } catch (error) {
      if (error instanceof BagError) return error.faults.map((f) => f.path);
      throw error;
    }
    return [];
  };
  expect(paths(['canvas10', { fused: 'lawn', ease: '2%' }])).toEqual(['stacks.lined[1].ease']);
  expect(paths(['canvas10', { loose: 'lawn', ease: ['2%', '40%'] }])).toEqual(['stacks.lined[1].ease[1]']);
  expect(paths([{ material: 'canvas10', ease: '2%' }])).toEqual(['stacks.lined[0].ease']);
});
