import { inflateSync } from 'node:zlib';
import { createCanvas, loadImage } from '@napi-rs/canvas';
import { describe, expect, test } from 'vitest';
import { seeded } from '../../src/numerics/index.ts';
import { lightOn } from '../../src/report/picture/paint.ts';
import { zlib } from '../../src/report/raster/deflate.ts';
import { png } from '../../src/report/raster/png.ts';
import { ZBuffer } from '../../src/report/raster/z-buffer.ts';

const RED = [
  [0, 0, 0],
  [255, 0, 0],
] as const;

/** Data of every kind that a picture has: nothing, one byte, runs, ramps, chance, and a mixture longer than the window of 32 kB. */
function samples(): Record<string, Uint8Array> {
  const chance = seeded(7);
  const noise = Uint8Array.from({ length: 70_000 }, () => Math.floor(256 * chance()));
  const few = Uint8Array.from({ length: 50_000 }, () => (chance() < 0.9 ? 0 : Math.floor(3 * chance())));
  return {
    nothing: new Uint8Array(0),
    'one byte': Uint8Array.of(200),
    'two bytes': Uint8Array.of(1, 2),
    'one run': new Uint8Array(100_000).fill(5),
    'a ramp': Uint8Array.from({ length: 66_000 }, (_, i) => (i >> 3) & 255),
    chance: noise,
    'mostly nothing': few,
    'twice the same': Uint8Array.from([...noise.subarray(0, 20_000), ...noise.subarray(0, 20_000), ...few]),
  };
}

describe('pictures in reports', () => {
  test.each(Object.entries(samples()))('zlib of %s is read back by node byte for byte', (_, data) => {
    expect(new Uint8Array(inflateSync(zlib(data)))).toEqual(data);
  });

  test('100 000 equal bytes take under 500, 50 000 that are nine tenths nothing under a fifth', () => {
    const { 'one run': run, 'mostly nothing': few } = samples();
    expect(zlib(run!).length).toBeLessThan(500);
    expect(zlib(few!).length).toBeLessThan(10_000);
  });

  test('symbols that stand as often as the numbers of Fibonacci have codes of 15 bits at most and are read back', () => {
    // Without a bound their best codes are 22 bits long, which the format has no room for.
    const list: number[] = [];
    for (let s = 0, [a, b] = [1, 1]; s < 23; s++, [a, b] = [b, a + b]) for (let k = 0; k < a; k++) list.push((s * 37) & 255);
    const chance = seeded(3);
    for (let i = list.length - 1; i > 0; i--) {
      const j = Math.floor((i + 1) * chance());
      [list[i], list[j]] = [list[j]!, list[i]!];
    }
    const data = Uint8Array.from(list);
    expect(new Uint8Array(inflateSync(zlib(data)))).toEqual(data);
  });

  test('a PNG is read by a reader that is not ours, every point as it was written, and says 300 dots an inch', async () => {
    const chance = seeded(11);
    const [width, height] = [37, 21];
    const rgba = Uint8Array.from({ length: 4 * width * height }, (_, i) => (i % 4 === 3 ? 255 : Math.floor(256 * chance())));
    const file = png({ width, height, rgba }, 300 / 0.0254);
    const image = await loadImage(Buffer.from(file));
    const paint = createCanvas(width, height).getContext('2d');
    paint.drawImage(image, 0, 0);
    expect([...paint.getImageData(0, 0, width, height).data]).toEqual([...rgba]);
    const at = Buffer.from(file).indexOf('pHYs');
    expect(Buffer.from(file).readUInt32BE(at + 4)).toBe(11811);
  });

  test('the nearer of two triangles is seen, whichever is drawn first; what is off the picture does no harm', () => {
    const flat = (depth: number) => [
      { x: -50, y: -50, depth },
      { x: 90, y: -50, depth },
      { x: -50, y: 90, depth },
    ];
    for (const order of [
      [1, 2],
      [2, 1],
    ]) {
      const b = new ZBuffer(8, 8);
      for (const depth of order) {
        const [p, q, r] = flat(depth);
        b.triangle(p!, q!, r!, RED, () => depth / 255);
      }
      expect(b.rgba[0]).toBe(1);
      expect(b.seen({ x: 2, y: 2, depth: 1.5 }, 0.1)).toBe(false);
      expect(b.seen({ x: 2, y: 2, depth: 1.05 }, 0.1)).toBe(true);
    }
  });

  test('a tube of 12 flat sides lit by its corners has no step at their borders: under 6 of 255, where its faces one by one have over 15', () => {
    const sides = 12;
    const wide = 600;
    const corner = (i: number) => ({ a: (Math.PI * i) / sides, x: (wide / 2) * (1 - Math.cos((Math.PI * i) / sides)) });
    const drawn = (smooth: boolean): number => {
      const b = new ZBuffer(wide, 3);
      for (let i = 0; i < sides; i++) {
        const [p, q] = [corner(i), corner(i + 1)];
        const normal = (angle: number): [number, number, number] => [-Math.cos(angle), -Math.sin(angle), 0];
        const lit = (angle: number): number => lightOn(normal(angle));
        const quad = (x: number, y: number) => ({ x, y, depth: 0 });
        const half = (p.a + q.a) / 2;
        b.triangle(quad(p.x, -4), quad(q.x, -4), quad(p.x, 9), RED, (_, w) => lit(smooth ? p.a + w * (q.a - p.a) : half));
        b.triangle(quad(q.x, -4), quad(q.x, 9), quad(p.x, 9), RED, (u, v) => lit(smooth ? p.a + (u + v) * (q.a - p.a) : half));
      }
      const row = Array.from({ length: wide - 80 }, (_, x) => b.rgba[4 * (wide + x + 40)]!);
      return Math.max(...row.slice(1).map((v, i) => Math.abs(v - row[i]!)));
    };
    const [smooth, flat] = [drawn(true), drawn(false)];
    expect(smooth, `largest step ${smooth} of 255; a step of 6 is not seen at 290 dots an inch`).toBeLessThan(6);
    expect(flat).toBeGreaterThan(15);
  });
});
