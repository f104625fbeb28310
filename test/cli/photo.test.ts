import { describe, expect, it } from 'vitest';
import { exactStrip } from '../swatch/photo/synthetic.ts';
import { ran as run } from './desk.ts';

/** Places of a strip seen square on, 5 pixels a millimetre. */
function shot(bendingLength: number, more: object = {}): object {
  const load = 12;
  const length = bendingLength * Math.cbrt(load);
  const strip = exactStrip(load, 0);
  const at = (x: number, y: number) => [1000 + 5000 * x, 400 + 5000 * y];
  return {
    card: [at(-0.1, -0.05398), at(-0.0144, -0.05398), at(-0.0144, 0), at(-0.1, 0)],
    table: [at(0, 0)],
    strip: Array.from({ length: 9 }, (_, i) => strip((i + 1) / 9)).map(([x, y]) => at(length * x, length * y)),
    ...more,
  };
}
const MARKED = { photo: { warp: [shot(0.035), shot(0.034, { side: 'back' })], weft: [shot(0.025)] } };
const WHOLE = { name: 'my canvas', id: 'mine', like: 'canvas10', piece: { mass: '30.6 g', length: '30 cm', width: '30 cm', scale: '0.1 g' }, ...MARKED };

describe('slumpline swatch photo', () => {
  it('a file of marks alone prints warp 34.5 and weft 25 mm, one line a picture, and no material; JSON in SI', async () => {
    const { code, out, err } = await run(['swatch', 'photo', 'p.json'], { 'p.json': JSON.stringify(MARKED) });
    console.log(out);
    expect([code, err]).toEqual([0, '']);
    for (const word of ['warp: bending length 34.5 mm', 'weft: bending length 25 mm', 'back up, first end: 34 mm', '90 % interval', 'lens'])
      expect(out).toContain(word);
    expect(out).not.toContain('"materials"');
    const json = JSON.parse((await run(['swatch', 'photo', 'p.json', '--json'], { 'p.json': JSON.stringify(MARKED) })).out);
    expect(json.photos[1].bendingLength[1]).toBeCloseTo(0.025, 4);
    expect(json.material).toBe(undefined);
  });

  it('with a weighed piece it writes a material with overhangs of 69 and 50 mm, which the bench takes', async () => {
    const made = await run(['swatch', 'photo', 'p.json', '--out', 'mine.json'], { 'p.json': JSON.stringify(WHOLE) });
    expect([made.code, made.err]).toEqual([0, '']);
    const { overhang, source } = JSON.parse(made.files['mine.json']!).materials.mine;
    console.log(overhang, source);
    expect(Number.parseFloat(overhang.warp[1])).toBeCloseTo(69, 0);
    expect(Number.parseFloat(overhang.weft[1])).toBeCloseTo(50, 1);
    expect(source).toContain('warp 2 x photo');
    const tested = await run(['compare', 'mine.json', '--json'], made.files);
    expect(tested.code).toBe(0);
  });

  it('--out without a weighed piece is refused, nothing written; a fault is told with its path; reading takes the same file', async () => {
    const bare = await run(['swatch', 'photo', 'p.json', '--out', 'm.json'], { 'p.json': JSON.stringify(MARKED) });
    expect(bare.code).toBe(2);
    expect(bare.err).toContain('weighed "piece"');
    expect(Object.keys(bare.files)).toEqual(['p.json']);
    const short = { photo: { warp: [shot(0.035, { strip: [[1, 2]] })] } };
    const bad = await run(['swatch', 'photo', 'p.json'], { 'p.json': JSON.stringify(short) });
    expect(bad.code).toBe(2);
    expect(bad.err).toMatch(/photo\.warp\[0\]\.strip\s+got\s+1 point/);
    expect((await run(['swatch', 'reading', 'p.json'], { 'p.json': JSON.stringify(WHOLE) })).code).toBe(0);
    expect((await run(['swatch', 'photo', 'p.json', '--mesh', '5'], { 'p.json': JSON.stringify(WHOLE) })).err).toContain('--mesh is for a test');
  });
});
