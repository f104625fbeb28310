/** Pull of a strap on what it hangs from and in its legs, against statics: friction must lock no pull there that hanging did not make. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import type { BandRun } from '../../src/report/types.ts';
import { prepare, previewBag } from '../../src/run/index.ts';
import { createSystem } from '../../src/solver/index.ts';
import { rest } from '../../src/solver/rest/settle.ts';

type Plain = Record<string, unknown>;
const G = 9.80665;
/** web_cotton, middle, 25 mm wide: weight a metre, N/m; force per strain, N. */
const WEIGHT = 0.9 * 0.025 * G;
const EA = 2500;

/** The demo tote, 300 mm long, in a stiff sheet, hung by one strap of 600 mm from end to end, or by a pair of handles. */
function written(stance: Plain, load: number, strap: Plain) {
  const doc = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  doc.stacks = { web: ['web_cotton'], plain: { mass: '1 kg/m2', D11: '2 N.m', D22: '2 N.m', D66: '1 N.m', C11: '1 MN/m', C22: '1 MN/m', C66: '0.4 MN/m' } };
  doc.options = { stiff: { 'every panel': 'plain' } };
  doc.straps = { handle: { width: '25 mm', stack: 'web', ...strap } };
  doc.stances = { hung: { kind: 'hung', ...stance, ...(load > 0 ? { load: { mass: `${load} kg` } } : {}) } };
  return parseBag(doc);
}
const o = { option: 'stiff', edgeLength: 0.025 };
const hang = (stance: Plain, load: number, strap: Plain): BandRun =>
  previewBag(written(stance, load, strap), { ...o, bands: ['mid'], skipNudge: true }).runs[0]!;

const ONE = { length: '600 mm', from: { panel: 'left', 'from left': '50 mm' }, to: { panel: 'right', 'from right': '50 mm' } };
const PAIR = { length: '560 mm', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] };

/** Where a strap of `length` between two edges `wide` apart leans, drawn tight over a round of this radius (its middle line's): rad off the plumb line. */
function leanOver(length: number, wide: number, radius: number): number {
  const tooSteep = (lean: number): boolean => wide / 2 - radius * Math.cos(lean) > (length / 2 - radius * (Math.PI / 2 - lean)) * Math.sin(lean);
  let [low, high] = [0, Math.PI / 2];
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (tooSteep(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

describe('one strap of 600 mm: greatest pull = half the weight over cos(lean), statics, within 2 %', () => {
  it.each([
    ['hook', { from: 'hook' }, 0.006],
    ['bar', { from: 'bar', diameter: '30 mm' }, 0.03],
    ['shoulder', { from: 'shoulder', diameter: '110 mm' }, 0.11],
  ] as const)('%s, 0, 1, 3, 6, 10 kg', (name, stance, diameter) => {
    for (const load of [0, 1, 3, 6, 10]) {
      const run = hang(stance, load, ONE),
        { weight, straps } = run.hung!,
        s = straps[0]!,
        radius = diameter / 2 + 0.001,
        // 25 mm at either end lie on the end panels; what is left stretches by what it carries.
        lean = leanOver(0.55 * (1 + s.anchors[0].size / EA), 0.3, radius),
        lies = 2 * radius * (Math.PI / 2 - lean),
        statics = (weight - lies * WEIGHT) / 2 / Math.cos(lean);
      console.log(
        `${name} ${load} kg: ${run.status}, pull ${s.tension.toFixed(3)} N, statics ${statics.toFixed(3)} N (${(100 * (s.tension / statics - 1)).toFixed(2)} %); ends ${s.anchors[0].size.toFixed(3)}, ${s.anchors[1].size.toFixed(3)} N`,
      );
      expect(run.status).toBe('settled');
      expect(Math.abs(s.tension / statics - 1)).toBeLessThan(0.02);
    }
  });
});

describe('a pair of handles: greatest pull = a quarter of the weight over cos(lean at the top of the leg), statics, within 2 %', () => {
  it.each([
    ['hook', { from: 'hook' }],
    ['bar', { from: 'bar' }],
    ['hands', { from: 'hands' }],
  ] as const)('%s, 0, 1, 3, 6, 10 kg', (name, stance) => {
    for (const load of [0, 1, 3, 6, 10]) {
      const run = hang(stance, load, PAIR),
        { weight, straps } = run.hung!;
      for (const s of straps) {
        const lean = s.anchors[0].legAngle,
          statics = weight / 4 / Math.cos(lean);
        console.log(
          `${name} ${load} kg: ${run.status}, pull ${s.tension.toFixed(3)} N, statics ${statics.toFixed(3)} N (${(100 * (s.tension / statics - 1)).toFixed(2)} %)`,
        );
        expect(run.status).toBe('settled');
        expect(Math.abs(s.tension / statics - 1)).toBeLessThan(0.02);
      }
    }
  });
});

describe('friction locks no pull on what the strap lies on: its greatest pull anywhere is that at the top of its legs, within 2.5 %', () => {
  // A piece is a chord of the round it lies on: at 0.35 rad a piece it reads 1/cos(0.175) - 1 = 1.6 % too high.
  it.each([
    ['hook', { from: 'hook' }],
    ['bar', { from: 'bar', diameter: '30 mm' }],
  ] as const)('one strap over a %s, 0 and 5 kg', (name, stance) => {
    for (const load of [0, 5]) {
      const scene = prepare(written(stance, load, ONE), o),
        sys = createSystem(scene.model, { selfContact: true }),
        { status } = rest(sys, scene.start),
        pulls = sys.el.cables!.tension,
        { nodes, firstCable } = scene.rig.straps[0]!,
        // 3 mm under the hook's lowest point nothing touches the strap any more.
        leg = pulls[firstCable + Math.floor(nodes.length / 3)]!,
        most = Math.max(...pulls);
      console.log(`${name} ${load} kg: ${status}, most ${most.toFixed(3)} N, in a leg ${leg.toFixed(3)} N (${(100 * (most / leg - 1)).toFixed(2)} %)`);
      expect(status).toBe('settled');
      // A third of the way up, the strap's own weight above it is still to come: 9 mN.
      expect(most - leg - 0.03).toBeLessThan(0.025 * leg);
    }
  });
});
