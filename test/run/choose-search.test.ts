import { describe, expect, it } from 'vitest';
import type { Laminate } from '../../src/material/types.ts';
import { seeded } from '../../src/numerics/index.ts';
import { createSearch, type Field, type Side } from '../../src/run/choose/search.ts';
import { isSofter } from '../../src/run/choose/softer.ts';

const laminate = (rigidity: number, arealMass: number, more: Partial<Laminate> = {}): Laminate => ({
  stack: 's',
  arealMass,
  thickness: 1e-3,
  bending: [rigidity, rigidity, 0, rigidity / 2],
  inPlane: [5e3, 5e3, 0, 2e3],
  angle: 0,
  evidence: 'stated',
  story: '',
  ...more,
});

describe('softer and no lighter', () => {
  const a = [laminate(1e-4, 0.4), laminate(2e-4, 0.5)];
  it('rigidity and mass times the same factor is the same bag where its own weight acts alone; a load forbids it, straps allow it downward', () => {
    const twice = a.map((l) => laminate(2 * l.bending[0], 2 * l.arealMass));
    for (const [p, q] of [
      [a, twice],
      [twice, a],
    ] as const)
      expect(isSofter(p, q, 'any')).toBe(true);
    expect([isSofter(a, twice, 'one'), isSofter(twice, a, 'one')]).toEqual([false, false]);
    expect([isSofter(a, twice, 'up to one'), isSofter(twice, a, 'up to one')]).toEqual([true, false]);
  });
  it('one panel that is stiffer, lighter, or stiff about another axis is enough to say nothing', () => {
    expect(isSofter([laminate(0.9e-4, 0.4), laminate(2.1e-4, 0.5)], a, 'one')).toBe(false);
    expect(isSofter([laminate(0.9e-4, 0.39), laminate(1e-4, 0.5)], a, 'one')).toBe(false);
    expect(isSofter([laminate(0.5e-4, 0.4, { angle: 0.3 }), a[1]!], a, 'any')).toBe(false);
    // Less along both axes and in twist, but coupled: bent into a saddle it is the stiffer one.
    expect(isSofter([laminate(0, 0.4, { bending: [0.9e-4, 0.9e-4, -0.5e-4, 1e-5] }), a[1]!], a, 'one')).toBe(false);
    expect(isSofter([laminate(0.9e-4, 0.4), laminate(1e-4, 0.1)], a, 'one', [false, true])).toBe(true);
  });
});

/** A bag of 4 panels that holds where each is stiff enough for its weight: monotone in the same sense as statics, and known without a solver. */
function made(seed: number, count: number, kind: 'structured' | 'soft') {
  const chance = seeded(seed);
  const cloths = Array.from({ length: 7 }, () => laminate(1e-5 * 10 ** (2.5 * chance()), 0.1 + 0.7 * chance()));
  const stacks = Array.from({ length: count }, () => {
    const cells = Array.from({ length: 4 }, () => cloths[Math.floor(chance() * 7)]!);
    return { cells, weight: cells.reduce((sum, c) => sum + c.arealMass, 0) };
  }).sort((p, q) => p.weight - q.weight);
  const stiff = (c: Laminate): number => c.bending[0] / c.arealMass;
  const need = [2e-4, 5e-4, 1e-4, 3e-4];
  const sideOf = (i: number): Side => {
    const { cells } = stacks[i]!;
    if (cells.some((c, k) => stiff(c) < need[k]!)) return 'soft';
    return kind === 'soft' && cells.every((c, k) => stiff(c) > 4 * need[k]!) ? 'stiff' : 'meets';
  };
  const field: Field = {
    count,
    softer: (p, q) => isSofter(stacks[p]!.cells, stacks[q]!.cells, 'any'),
    promise: (i) => Math.min(...stacks[i]!.cells.map((c) => Math.log(stiff(c)))) / 3,
    likely: Math.log(1e-4) / 3,
    most: 1 + (seed % 3),
  };
  return { field, sideOf };
}

describe('a search among stacks, against settling every one', () => {
  it('gives the same best as brute force in 400 random shelves of 10 to 200 stacks, whatever the lanes, and settles less than half', () => {
    let [settled, all] = [0, 0];
    for (let seed = 1; seed <= 400; seed++) {
      const { field, sideOf } = made(seed, 10 + ((seed * 37) % 191), seed % 2 === 0 ? 'structured' : 'soft');
      const brute = Array.from({ length: field.count }, (_, i) => i)
        .filter((i) => sideOf(i) === 'meets')
        .slice(0, field.most);
      const search = createSearch(field);
      for (let batch = search.next(1 + (seed % 3)); batch.length > 0; batch = search.next(1 + (seed % 3))) for (const i of batch) search.tell(i, sideOf(i));
      expect(search.best(), `seed ${seed}`).toEqual(brute);
      expect(search.open(), `seed ${seed}`).toBe(0);
      // Every rule by itself: what it ruled out is what it says.
      for (const [i, r] of search.ruledOut) {
        if (r.rule === 'behind') expect(i).toBeGreaterThan(brute[brute.length - 1]!);
        else expect(sideOf(i), `seed ${seed}, stack ${i} by ${r.rule}`).toBe(r.rule === 'softer' ? 'soft' : 'stiff');
      }
      settled += search.settled.size;
      all += field.count;
    }
    console.log(`${settled} of ${all} settled`);
    expect(settled / all).toBeLessThan(0.5);
  }, 60_000);

  it('a stack without a verdict rules nothing out: all 20 are settled', () => {
    const search = createSearch({ count: 20, softer: () => true, promise: () => 0, likely: 0, most: 1 });
    for (let batch = search.next(1); batch.length > 0; batch = search.next(1)) search.tell(batch[0]!, null);
    expect(search.settled.size).toBe(20);
    expect(search.best()).toEqual([]);
  });
});
