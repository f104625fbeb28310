import { expect, test } from 'vitest';
import { assemble } from '../../src/assembly/assemble.ts';
import { BagError, parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { slackPull } from '../../src/material/ease.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { placePanels } from '../../src/placement/place-panels.ts';
import { previewBag } from '../../src/run/index.ts';
import { GRAVITY } from '../../src/units/index.ts';

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

test('ease by length: 6 mm on 240 mm up and 300 mm across weighs as 2.5 % and 2 %, turned with the layer; each panel has its own share', () => {
  const mm = laminate({ loose: 'lawn', ease: '6 mm' }, 'lined').arealMass;
  expect(mm).toBeCloseTo(laminate({ loose: 'lawn', ease: ['2.5%', '2%'] }, 'lined').arealMass, 12);
  const [first, turned] = [
    ['12 mm', 0],
    [0, '12 mm'],
  ].map((ease, i) => laminate({ loose: 'lawn', ease, angle: i === 0 ? 0 : '90 deg' }, 'lined').arealMass);
  expect(turned).toBeCloseTo(first, 12);
  const two = parseBag({
    slumpline: 1,
    parameters: { W: '200 mm' },
    panels: { p: { rectangle: { width: 'W', height: 'W' } }, q: { rectangle: { width: '2*W', height: '2*W' } } },
    stacks: { lined: ['canvas10', { loose: 'lawn', ease: 'W/40' }] },
    stances: { held: {} },
  });
  const [[p], [q]] = layUp(two, 'lined', 'mid');
  expect([p, q].map((l) => l.taut?.map((t) => Math.round(1e9 * t.ease) / 1e9))).toEqual([
    [0.025, 0.025],
    [0.0125, 0.0125],
  ]);
});

test('5 mm of ease on a panel 15 mm wide is a fault at its path, named with the panel; on wide ones it is none', () => {
  const bag = (width: string) => ({
    ...file({ loose: 'lawn', ease: '5 mm' }),
    panels: { p: { rectangle: { width: '300 mm', height: '240 mm' } }, tab: { rectangle: { width, height: '60 mm' } } },
  });
  expect(() => parseBag(bag('25 mm'))).not.toThrow();
  expect(() => parseBag(bag('15 mm'))).toThrow('stacks.lined[1].ease: got more than 25 % of panel tab; expected at most 25 %');
});

test('a stretchy strip hung by its own weight is as long as the bent law says, lined with 1 % ease: it goes taut up high, within 0.2 % of the stretch', () => {
  const [C, lining, ease, L] = [100, 250, 0.01, 0.3];
  const cloth = (mass: string, inPlane: string) => ({ mass, bending: '10 uN.m', thickness: '1 mm', 'in-plane': inPlane, shear: '20 N/m', poisson: 0 });
  const settled = previewBag(
    parseBag({
      slumpline: 1,
      panels: {
        strip: {
          rectangle: { width: '60 mm', height: '300 mm' },
          clips: [{ edge: 'top' }],
          pose: { origin: [0, 0, '1 m'], x: [1, 0, 0], y: [0, 0, 1] },
        },
      },
      materials: { knit: cloth('700 g/m2', '100 N/m'), light: cloth('200 g/m2', '250 N/m') },
      stacks: { lined: ['knit', { loose: 'light', ease: ['1%', 0] }] },
      stances: { held: {} },
    }),
    { edgeLength: 0.01, bands: ['mid'] },
  );
  // Weight per width below each height, drawn up by lambda C (lambda^2 - 1)/2 of the knit and, past its ease, the lining's own.
  const w = GRAVITY * (0.7 + 0.2 * (1 + ease));
  const pull = (l: number, c: number) => 0.5 * c * l * (l * l - 1);
  const stretch = (T: number): number => {
    let [low, high] = [1, 2];
    for (let k = 0; k < 60; k++) {
      const l = (low + high) / 2;
      if (pull(l, C) + (l > 1 + ease ? pull(l / (1 + ease), lining) : 0) < T) low = l;
      else high = l;
    }
    return low;
  };
  const steps = 3000;
  let long = 0;
  for (let k = 0; k < steps; k++) long += (stretch(w * L * ((k + 0.5) / steps)) * L) / steps;
  const [run] = settled.runs;
  const zs = Array.from(run.positions.filter((_, i) => i % 3 === 2));
  const length = Math.max(...zs) - Math.min(...zs);
  const slackOnly = L * (1 + (w * L) / (2 * C));
  console.log(
    `strip: ${(1000 * length).toFixed(3)} mm, law ${(1000 * long).toFixed(3)} mm, never taut about ${(1000 * slackOnly).toFixed(3)} mm; residual ${run.residual}`,
  );
  expect(run.status).toBe('settled');
  expect(Math.abs((length - L) / (long - L) - 1)).toBeLessThan(0.002);
});
