import { describe, expect, it } from 'vitest';
import { seeded, UnionFind } from '../../src/numerics/index.ts';

describe('union-find', () => {
  it('150 random joins of 200 numbers give the sets that a search through the pairs gives, each named by its lowest', () => {
    const random = seeded(11);
    const pairs = Array.from({ length: 150 }, () => [Math.floor(200 * random()), Math.floor(200 * random())] as const);
    const sets = new UnionFind(200);
    for (const [a, b] of pairs) sets.join(a, b);
    // Lowest number reachable, by walking along the pairs until nothing changes.
    const lowest = Array.from({ length: 200 }, (_, i) => i);
    for (let changed = true; changed; ) {
      changed = false;
      for (const [a, b] of pairs) {
        const least = Math.min(lowest[a], lowest[b]);
        changed ||= lowest[a] !== least || lowest[b] !== least;
        lowest[a] = lowest[b] = least;
      }
    }
    const found = Array.from({ length: 200 }, (_, i) => sets.find(i));
    console.log(`${new Set(found).size} sets of 200 numbers after 150 joins`);
    expect(found).toEqual(lowest);
  });

  it('300 joins that agree with a hidden side of each number are taken, and 50 that do not are refused', () => {
    const random = seeded(12);
    const side = Array.from({ length: 100 }, () => random() < 0.5);
    const sets = new UnionFind();
    for (const _ of side) sets.add();
    const pick = (): number => Math.floor(100 * random());
    for (let k = 0; k < 300; k++) {
      const [a, b] = [pick(), pick()];
      expect(sets.join(a, b, side[a] !== side[b]), `join ${k} of ${a} and ${b}`).toBe(true);
    }
    let refused = 0;
    for (let k = 0; k < 50; k++) {
      const [a, b] = [pick(), pick()];
      if (sets.find(a) === sets.find(b)) refused += Number(!sets.join(a, b, side[a] === side[b]));
    }
    const joined = side.map((_, i) => i).filter((i) => sets.find(i) === sets.find(0));
    console.log(`${refused} false joins refused; ${joined.length} of 100 numbers in one set`);
    expect(refused).toBeGreaterThan(30);
    for (const i of joined) expect(sets.turned(i) !== sets.turned(0), `number ${i} against number 0`).toBe(side[i] !== side[0]);
  });
});
