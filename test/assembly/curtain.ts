/** A gathered curtain: a skirt `ratio` times as long as the tube it is gathered onto, hanging free; the tube's top edge is held. */
import { type Bag, parseBag } from '../../src/bag/index.ts';

/** Cloth of 150 g/m2 (a plain-weave cotton, estimate) in one rigidity, N*m, the same in every direction. */
const cloth = (bending: number) => ({
  mass: '150 g/m2',
  thickness: '0.4 mm',
  D11: `${bending} N.m`,
  D22: `${bending} N.m`,
  D66: `${bending / 2} N.m`,
  C11: '5 kN/m',
  C22: '5 kN/m',
  C66: '2 kN/m',
});

export function curtain(ratio: number, rigidities: readonly number[] = [1e-5], length = '120 mm'): Bag {
  const names = rigidities.map((d) => `D ${d}`);
  return parseBag({
    slumpline: 1,
    name: 'Gathered curtain',
    parameters: { girth: '360 mm', ratio, fall: length },
    panels: {
      band: { role: 'body', rectangle: { width: 'girth', height: '30 mm' }, clips: [{ edge: 'top' }], open: ['top'] },
      skirt: { role: 'body', rectangle: { width: 'ratio*girth', height: 'fall' }, open: ['bottom'] },
    },
    seams: {
      'band seam': { join: ['band.left', 'band.right'] },
      'skirt seam': { join: ['skirt.left', 'skirt.right'] },
      gather: { join: ['band.bottom', 'skirt.top'], ...(ratio > 1 ? { gather: 'ratio' } : {}) },
    },
    stacks: Object.fromEntries(rigidities.map((d, i) => [names[i], cloth(d)])),
    options: Object.fromEntries(names.map((n) => [n, { 'every panel': n }])),
    stances: { held: {} },
  });
}
