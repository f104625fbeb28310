import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Bag, Wanted } from '../../src/bag/types.ts';
import { layUp, overhangUpright, parseBag } from '../../src/index.ts';
import { factorOf } from '../../src/run/need/search.ts';
import { likelyRung } from '../../src/run/need/start.ts';

const tote: Bag = parseBag(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const panels = tote.panels.map((p) => p.name);
const rung = (option: string, wanted: Wanted, of: readonly string[] = panels): number =>
  likelyRung(tote, of, layUp(tote, option, 'mid'), tote.stances[0]!, wanted);

describe('where a search for what is needed begins', () => {
  it('walls of 240 mm in canvas, 53 mm of overhang, begin at 0.6 of their height: 144 mm, to a rung of 7 % in rigidity (2.3 % in overhang)', () => {
    const option = tote.options[0]!.name,
      overhang = overhangUpright(layUp(tote, option, 'mid')[0]![0]!, tote.panels[0]!);
    const reached = overhang * Math.cbrt(factorOf(rung(option, 'structured')));
    expect(overhang).toBeCloseTo(0.053, 3);
    expect(Math.abs(reached / 0.144 - 1)).toBeLessThan(0.0125);
  });
  it('boarded walls, 231 mm, begin as they are; so does a bag that is to be soft or slouchy, and panels without a wall among them', () => {
    expect(rung('canvas, board, poplin', 'structured')).toBe(0);
    expect([rung('canvas and poplin', 'soft'), rung('canvas and poplin', 'slouchy')]).toEqual([0, 0]);
    expect(rung('canvas and poplin', 'structured', ['base'])).toBe(0);
  });
});
