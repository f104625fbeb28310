import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag, type SettledMaps, scaleOf, sew } from '../../src/index.ts';
import { placeOnPanel, placeOnSeam } from '../../src/report/maps/place.ts';

const demo = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const bag = parseBag({
  ...demo,
  stacks: { ...demo.stacks, web: ['web_cotton'] },
  straps: { handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] } },
});
const { mesh } = sew(bag, 0.02);
/** Mesh point of a panel nearest to a place on it, m from its lower left corner. */
const nearest = (panel: string, at: readonly [number, number]): [number, number] => {
  const p = mesh.panelNames.indexOf(panel);
  const { verts, flat } = mesh.panelVerts[p]!;
  const far = (i: number) => Math.hypot(flat[2 * i]! - at[0], flat[2 * i + 1]! - at[1]);
  let best = 0;
  for (let i = 1; i < verts.length; i++) if (far(i) < far(best)) best = i;
  return [p, verts[best]!];
};

describe('where on the bag a map points, in words', () => {
  it.each([
    ['front', [0.09, 0.225], 'front, by the left anchor of handle'],
    ['front', [0.21, 0.225], 'front, by the right anchor of handle'],
    ['front', [0.01, 0.02], 'front, low down, left'],
    ['front', [0.15, 0.12], 'front, half way up, middle'],
    ['base', [0.15, 0.05], 'base, in its middle'],
    ['base', [0.15, 0], 'base, by the front'],
    ['base', [0, 0.05], 'base, by the right'],
  ] as const)('%s at %s m: %s', (panel, at, words) => {
    expect(placeOnPanel(bag, mesh, ...nearest(panel, at))).toBe(words);
  });

  it('a point of the seam between front and base is told on the front, whichever side carries it', () => {
    // The base's face looks down, so its right is the front's left.
    const [panel, vertex] = nearest('base', [0.29, 0]);
    const seam = mesh.seamNames.indexOf('A');
    expect(placeOnSeam(bag, mesh, { seam, panel, vertex, value: 1 })).toBe('front, low down, left');
  });
});

describe('scales of the maps', () => {
  const maps = (strain: number, force: number | null) =>
    ({ strain: { largest: { value: strain } }, gap: { reach: 0.02 }, seams: { largest: force === null ? null : { value: force } } }) as unknown as SettledMaps;

  it('strain and force end at the next 1, 2 or 5 over the largest of all options; what is under the floor is not told from nothing', () => {
    const strain = scaleOf('strain', [maps(0.0042, 1), maps(1e-5, 1)], 'metric');
    expect(strain.marks).toEqual(['0 % or shortened', '0.13 %', '0.25 %', '0.38 %', '0.5 %']);
    expect([strain.at(-1), strain.at(0.0025), strain.at(1)]).toEqual([0, 0.5, 1]);
    expect([strain.write(0.0312), strain.write(3e-5)]).toEqual(['3.1 %', 'under 0.01 %']);
    const force = scaleOf('seams', [maps(0, 131), maps(0, null)], 'metric');
    expect(force.marks).toEqual(['0 N/m or pressed', '50 N/m', '100 N/m', '150 N/m', '200 N/m']);
    expect(force.write(131.4)).toBe('131 N/m');
    expect(scaleOf('seams', [], 'metric').top).toBe(1);
  });

  it('the gap ends at 20 mm, dark where it is nothing', () => {
    const gap = scaleOf('gap', [maps(0, 0)], 'inch');
    expect(gap.marks).toEqual(['20 mm (13/16 in) or more', '15 mm', '10 mm', '5 mm', '0 mm: touches']);
    expect([gap.at(0), gap.at(0.005), gap.at(0.03)]).toEqual([1, 0.75, 0]);
  });
});
