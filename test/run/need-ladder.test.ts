import { describe, expect, it } from 'vitest';
import { seeded } from '../../src/numerics/index.ts';
import { climb, edgeOf, type Side } from '../../src/run/need/ladder.ts';
import { edgesOf } from '../../src/run/need/search.ts';

const soft = (side: NonNullable<Side>): boolean => side === 'soft';
const notStiff = (side: NonNullable<Side>): boolean => side !== 'stiff';

/** Edge, and how many rungs were asked. */
function found(sideOf: (k: number) => Side, isBelow = soft, lastBelow = true) {
  const c = climb(sideOf),
    edge = edgeOf(c, { sideOf: c.ask, start: 0 }, isBelow, lastBelow);
  return { edge, asked: c.sides };
}

describe('the ladder of rigidities', () => {
  it('of 200 thresholds anywhere on it, each is found between two neighbouring rungs, both asked, in 10 askings at most', () => {
    const random = seeded(7);
    let most = 0;
    for (let i = 0; i < 200; i++) {
      const threshold = Math.round(-79 + 158 * random()) + 0.5;
      const { edge, asked } = found((k) => (k < threshold ? 'soft' : 'meets'));
      expect(edge, `threshold ${threshold}`).toEqual({ below: threshold - 0.5, above: threshold + 0.5 });
      expect([asked.get(edge.below!), asked.get(edge.above!)]).toEqual(['soft', 'meets']);
      most = Math.max(most, asked.size);
    }
    expect(most, 'askings of the longest search').toBeLessThanOrEqual(10);
  });
  it('a window from 5 to 20 rungs has both its edges: the least first, the most with what is known by then', () => {
    const c = climb((k) => (k < 5 ? 'soft' : k <= 20 ? 'meets' : 'stiff'));
    const o = { sideOf: c.ask, start: 0 };
    expect(edgeOf(c, o, soft, true)).toEqual({ below: 4, above: 5 });
    expect(edgeOf(c, o, notStiff, false)).toEqual({ below: 20, above: 21 });
  });
  it('a window narrower than a rung: the two edges fall together', () => {
    const sideOf = (k: number): Side => (k < 5 ? 'soft' : 'stiff');
    expect(found(sideOf).edge).toEqual({ below: 4, above: 5 });
    expect(found(sideOf, notStiff, false).edge).toEqual({ below: 4, above: 5 });
  });
  it('words that go up and down: the edge is above the last failure that was seen, never below it', () => {
    // Meets from 3 to 9 as a heap would by chance, fails to 30, meets from there.
    const { edge, asked } = found((k) => ((k >= 3 && k <= 9) || k > 30 ? 'meets' : 'soft'));
    const last = Math.max(...[...asked].filter(([, s]) => s === 'soft').map(([k]) => k));
    expect(edge).toEqual({ below: 30, above: 31 });
    expect(edge.below).toBe(last);
  });
  it('of a window, what the search for the most finds out moves the least as well', () => {
    // A chance pocket that meets from -14 to 3; really from 40 to 60.
    const c = climb((k) => ((k >= -14 && k <= 3) || (k >= 40 && k <= 60) ? 'meets' : k > 60 ? 'stiff' : 'soft'));
    const { soft: least, stiff: most } = edgesOf(c, { sideOf: c.ask, start: 0, stride: 2 }, true);
    expect([least, most]).toEqual([
      { below: 39, above: 40 },
      { below: 60, above: 61 },
    ]);
  });
  it('a chance failure 8 rungs above a first edge is found out and the edge moves past it', () => {
    const { edge } = found((k) => (k < 16 || (k > 20 && k < 30) ? 'soft' : 'meets'));
    expect(edge).toEqual({ below: 29, above: 30 });
  });
  it('a rung without a verdict is stepped over; the gap grows by that rung and no more', () => {
    expect(found((k) => (k === 11 ? null : k < 11 ? 'soft' : 'meets')).edge).toEqual({ below: 10, above: 12 });
    expect(found((k) => (k === 8 ? null : k < 11 ? 'soft' : 'meets')).edge).toEqual({ below: 10, above: 11 });
  });
  it('what never meets, and what always does, ends at the last rung, 80 away, without an edge', () => {
    const never = found(() => 'soft'),
      always = found(() => 'meets');
    expect(never.edge).toEqual({ below: 80, above: null });
    expect(always.edge).toEqual({ below: null, above: -80 });
    expect(Math.max(never.asked.size, always.asked.size)).toBeLessThanOrEqual(6);
    expect(found(() => null).edge).toEqual({ below: null, above: null });
  });
});
