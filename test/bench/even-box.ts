import { readFileSync } from 'node:fs';
import { type Bag, parseBag } from '../../src/index.ts';

const text = JSON.parse(readFileSync('demos/harbour-tote.bag.json', 'utf8'));
const raw = Object.fromEntries(Object.entries<object>(text.panels).map(([name, { finishes: _, ...panel }]: [string, { finishes?: unknown }]) => [name, panel]));

/**
 * The demo tote of 300 x 240 x 100 mm, every panel 340 g/m2 with C = 2e4 N/m in the plane and D, N*m, in bending, the same in every direction, Poisson 0,
 * without allowances and hems.
 */
export function evenBox(D: number): Bag {
  const uNm = (v: number) => `${(v * 1e6).toFixed(4)} uN.m`;
  const bending = { D11: uNm(D), D22: uNm(D), D12: '0 uN.m', D66: uNm(D / 2) };
  const stack = { mass: '340 g/m2', thickness: '0.6 mm', ...bending, C11: '20 kN/m', C22: '20 kN/m', C12: '0 N/m', C66: '10 kN/m' };
  return parseBag(
    JSON.stringify({
      ...text,
      panels: raw,
      parameters: { ...text.parameters, SA: '0 mm' },
      stacks: { even: stack },
      options: { even: { 'every panel': 'even' } },
    }),
  );
}
