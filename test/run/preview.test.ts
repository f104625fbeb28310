import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { BagError, Cancelled, parseBag, preview, sew } from '../../src/index.ts';

const text = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const bag = parseBag(text);
const COARSE = 0.022;
/** For which word and which order, where no figure is claimed: half the time. */
const COARSER = 0.028;

describe('the boxed tote, end to end', () => {
  const leather = preview(bag, { option: 'vegetable-tanned leather', edgeLength: COARSE });

  it('holds in vegetable-tanned leather of 1.6-2.0 mm at low, mid and high', () => {
    console.log(
      leather.runs.map((r) => `${r.band}: height kept ${r.measures.heightKept?.toFixed(4)}, nudge ${r.nudge.worstShift.toExponential(1)} m`).join('; '),
    );
    expect(leather.verdict.word).toBe('holds');
    for (const r of leather.runs) {
      expect(r.status).toBe('settled');
      expect(r.residual).toBeLessThan(1e-4);
      expect(r.stable).toBe(true);
      expect(r.nudge.comesBack).toBe(true);
      expect(r.contact.crossings).toBe(0);
      expect(r.contact.deepestPenetration).toBeLessThan(2e-4);
    }
  });

  it('mass is the sum of areas and allowances times areal mass to 1e-9, and the table carries the weight to 1e-3', () => {
    const area: Record<string, number> = { front: 0.3 * 0.24, back: 0.3 * 0.24, left: 0.1 * 0.24, right: 0.1 * 0.24, base: 0.3 * 0.1 };
    // Ten millimetres beside every edge that is sewn: all but the mouth.
    const sewn: Record<string, number> = { front: 0.3 + 0.48, back: 0.3 + 0.48, left: 0.1 + 0.48, right: 0.1 + 0.48, base: 0.8 };
    const mass = leather.stacks.reduce((s, k) => s + (area[k.panel]! + 0.01 * sewn[k.panel]!) * k.arealMass, 0);
    expect(Math.abs(leather.massKg / mass - 1)).toBeLessThan(1e-9);
    for (const r of leather.runs) {
      const weight = leather.massKg * 9.80665;
      console.log(`${r.band}: table carries ${r.reactions.table[2].toFixed(6)} N of ${weight.toFixed(6)} N`);
      expect(Math.abs(r.reactions.table[2] / weight - 1)).toBeLessThan(1e-3);
    }
  });

  it('after the nudge test the table pushes sideways by no more than what rest leaves unbalanced (residual x weight): no friction of the last nudge stays', () => {
    for (const r of leather.runs) {
      const weight = leather.massKg * 9.80665,
        sideways = Math.hypot(r.reactions.table[0], r.reactions.table[1]);
      console.log(`${r.band}: sideways ${sideways.toExponential(2)} N, bar ${(r.residual * weight).toExponential(2)} N (sum of unbalanced forces)`);
      expect(r.nudge.tested).toBe(true);
      expect(sideways).toBeLessThanOrEqual(r.residual * weight);
    }
  });

  it('slumps in lined soft cotton alone, and says so even when it is still falling', () => {
    const soft = structuredClone(JSON.parse(text));
    soft.stacks = { cotton: ['muslin'] };
    soft.options = { cotton: { 'every panel': 'cotton' } };
    const r = preview(soft, { edgeLength: COARSER });
    console.log(`${r.verdict.word}: ${r.verdict.reason}`);
    expect(r.verdict.word).toBe('slumps');
  });

  it('height kept rises with the bending length of the stack', () => {
    const kept: [number, number][] = [];
    for (const thickness of ['0.7 mm', '1 mm', '1.4 mm', '2 mm']) {
      const trial = structuredClone(JSON.parse(text));
      trial.stacks = { hide: [{ material: 'chrome16', thickness }] };
      trial.options = { hide: { 'every panel': 'hide' } };
      const r = preview(trial, { edgeLength: COARSER, bands: ['mid'], skipNudge: true });
      kept.push([r.stacks[0]!.overhang / 2, r.runs[0]!.measures.heightKept!]);
    }
    console.log(kept.map(([c, h]) => `c ${(c * 1000).toFixed(1)} mm -> ${(100 * h).toFixed(1)} %`).join('; '));
    for (let i = 1; i < kept.length; i++) {
      expect(kept[i]![0]).toBeGreaterThan(kept[i - 1]![0]);
      expect(kept[i]![1]).toBeGreaterThan(kept[i - 1]![1] - 0.005);
    }
  });

  it('the same input gives the same figures to the last bit', () => {
    const again = preview(bag, { option: 'vegetable-tanned leather', edgeLength: COARSE, bands: ['mid'] });
    const first = leather.runs.find((r) => r.band === 'mid')!;
    expect(Buffer.from(again.runs[0]!.positions.buffer).equals(Buffer.from(first.positions.buffer))).toBe(true);
  });

  it('an unknown option names those that exist; progress can cancel', () => {
    expect(() => preview(bag, { option: 'cardboard' })).toThrow(BagError);
    expect(() => preview(bag, { option: 'cardboard' })).toThrow(/vegetable-tanned leather/);
    expect(() => preview(bag, { edgeLength: COARSE, onProgress: () => false })).toThrow(Cancelled);
  });

  it('the shape sewn last serves the next cloth as well, and no other pattern or mesh: the same arrays, and equal ones when sewn anew', () => {
    const file = JSON.parse(text),
      first = sew(bag, COARSER),
      other = sew(parseBag({ ...file, stacks: { ...file.stacks, 'veg leather': ['muslin'] }, name: 'another name' }), COARSER);
    expect(other.mesh).toBe(first.mesh);
    expect(sew(bag, COARSE).mesh.vertexCount).toBeGreaterThan(first.mesh.vertexCount);
    const again = sew(bag, COARSER);
    expect(again.mesh).not.toBe(first.mesh);
    expect(again).toEqual(first);
    const wider = structuredClone(file);
    wider.parameters.W = '310 mm';
    expect(sew(parseBag(wider), COARSER).drafted).not.toEqual(first.drafted);
  });
});
