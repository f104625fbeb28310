import { expect, test } from 'vitest';
import { sewable } from './sewable.ts';
import { sewSoundly } from './sewn-soundly.ts';

// All 500: npm run bench:bags.
test.each(Array.from({ length: 24 }, (_, i) => 20 * i + 3))(
  'random bag %i prints and parses to itself, meshes at 20 degrees or more, is sewn with 0 crossings and weighs what is cut to 1e-9',
  (seed) => {
    const bag = sewSoundly(seed, 300);
    console.log(
      `${bag.kind}: ${bag.vertices} vertices, ${bag.ways}, smallest angle ${bag.minAngle.toFixed(1)} deg, mass off by ${bag.massError.toExponential(1)}`,
    );
    expect(bag.failures).toEqual([]);
  },
);

test('the 500 random bags hold all that a file can draw: lines, folds, holes, regions, uneven roundings, even and bunched gathers', () => {
  const text = Array.from({ length: 500 }, (_, i) => JSON.stringify(sewable(i + 1).file));
  const with_ = (part: string): number => text.filter((t) => t.includes(part)).length;
  const counts = ['"crease"', '"fold"', '"holes"', '"regions"', '"mirror"', '"gather"', '"ratio"', '/part"', '"grain"'].map(
    (part) => [part, with_(part)] as const,
  );
  console.log(counts.map(([part, n]) => `${part} ${n}`).join(', '));
  for (const [part, n] of counts) expect(n, part).toBeGreaterThan(20);
});
