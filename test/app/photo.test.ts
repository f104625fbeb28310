import { describe, expect, it } from 'vitest';
import { marksFor, photoMarks, withMark } from '../../src/app/bench/photo/marks.ts';
import { type Brightness, snapped, snappedCard } from '../../src/app/bench/photo/silhouette.ts';
import { seeded } from '../../src/numerics/index.ts';

type Place = readonly [number, number];

/** A picture by a function of place, each pixel the mean of 16 places in it, with noise of a few levels. */
function drawn(width: number, height: number, of: (x: number, y: number) => number, noise = 4): Brightness {
  const chance = seeded(7);
  const at = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = 0;
      // Pixel [3, 4] takes in 3 to 4 across, as a canvas has it.
      for (let k = 0; k < 16; k++) sum += of(x + 0.125 + 0.25 * (k % 4), y + 0.125 + 0.25 * (k >> 2));
      at[y * width + x] = Math.max(0, Math.min(255, sum / 16 + noise * (chance() - 0.5)));
    }
  return { width, height, at };
}

const CARD: readonly Place[] = [
  [102.3, 81.7],
  [305.1, 96.2],
  [296.4, 222.9],
  [98.8, 214.1],
];
const inside = ([x, y]: Place): boolean =>
  CARD.every(([ax, ay], i) => {
    const [bx, by] = CARD[(i + 1) % 4]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0;
  });

describe('snapping to silhouettes', () => {
  const card = drawn(400, 300, (x, y) => (inside([x, y]) ? 70 : 190));

  it('corners marked 5 pixels off go to where the card’s sides meet, to 0.15 pixel', () => {
    const marked = CARD.map(([x, y], i): Place => [x + (i % 2 === 0 ? 4 : -3), y + (i < 2 ? 3 : -4)]);
    const corners = snappedCard(card, marked, 14)!;
    const off = corners.map((c, i) => Math.hypot(c[0] - CARD[i]![0], c[1] - CARD[i]![1]));
    console.log(`off by ${off.map((v) => v.toFixed(3)).join(', ')} pixels`);
    expect(Math.max(...off)).toBeLessThan(0.15);
  });

  it('where there is no card nothing moves; neither does a corner that would have to go further than the reach', () => {
    const blank = drawn(400, 300, () => 128);
    expect(snappedCard(blank, CARD, 14)).toBe(null);
    expect(snapped(blank, [200, 150], 12)).toBe(null);
    expect(snappedCard(card, [[120, 100], ...CARD.slice(1)], 6)).toBe(null);
  });

  it('24 places up to 8 pixels off a disc go to its rim, to 0.3 pixel', () => {
    const disc = drawn(300, 300, (x, y) => (Math.hypot(x - 150, y - 150) < 90 ? 40 : 210));
    const off = Array.from({ length: 24 }, (_, i) => {
      const [angle, radius] = [(i * Math.PI) / 12, 90 + ((i * 7) % 17) - 8];
      const place = snapped(disc, [150 + radius * Math.cos(angle), 150 + radius * Math.sin(angle)], 12)!;
      return Math.abs(Math.hypot(place[0] - 150, place[1] - 150) - 90);
    });
    console.log(`off by up to ${Math.max(...off).toFixed(3)} pixels`);
    expect(Math.max(...off)).toBeLessThan(0.3);
  });
});

describe('marks on a picture', () => {
  const size: Place = [1600, 1200];
  it('card, edge and 9 points are 14 marks; two more points leave every mark that is set where it is, the tip the last', () => {
    let marks = marksFor(size, { by: 'card', second: false, count: 9 }, []);
    expect(marks.length).toBe(14);
    expect(marks.some((m) => m.set)).toBe(false);
    for (const [key, at] of [
      ['card 1', [10, 20]],
      ['strip 3', [700, 500]],
      ['tip', [900, 1300]],
    ] as const)
      marks = withMark(marks, key, at, size);
    const more = marksFor(size, { by: 'card', second: true, count: 11 }, marks);
    expect(more.map((m) => m.key).slice(-3)).toEqual(['strip 9', 'strip 10', 'tip']);
    expect(more.find((m) => m.key === 'strip 3')!.at).toEqual([700, 500]);
    expect(more.at(-1)).toMatchObject({ set: true, at: [900, 1200] });
    const fewer = marksFor(size, { by: 'ruler', second: false, count: 5 }, more);
    expect(fewer.length).toBe(8);
    const read = photoMarks(fewer, 'ruler', 0.1, null, size, 0.15);
    expect(read.size).toBe(null);
    expect(read.measured).toEqual({ length: 0.15, off: 0.0005 });
    expect([read.card, read.ruler?.marks.length, read.table.length, read.strip.length]).toEqual([null, 2, 1, 5]);
    expect(read.strip.at(-1)).toEqual([900, 1200]);
  });
});
