import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ran } from './desk.ts';

const strip = { 'strip.bag.json': readFileSync(new URL('../../demos/clamped-strip.bag.json', import.meta.url), 'utf8') };

describe('settle --shape', () => {
  test('glb and stl beside mesh.obj, named in result.json so that the next run can take them away', async () => {
    const { code, files } = await ran(['settle', 'strip.bag.json', '--bands', 'mid', '--mesh', '20', '--out', 'out', '--shape', 'stl,GLB', '--quiet'], strip);
    expect(code).toBe(0);
    expect(files['out/shape.glb']!.startsWith('glTF')).toBe(true);
    expect(files['out/shape.stl']!.length).toBeGreaterThan(84);
    expect(files['out/mesh.obj']).toContain('\nvt ');
    expect(JSON.parse(files['out/result.json']!).files).toEqual(expect.arrayContaining(['shape.glb', 'shape.stl', 'mesh.obj']));
    const again = await ran(['settle', 'strip.bag.json', '--bands', 'mid', '--mesh', '20', '--out', 'out', '--quiet'], files);
    expect(Object.keys(again.files).filter((f) => f.startsWith('out/shape'))).toEqual([]);
  });

  test('an unknown shape and shapes without a folder are refused before anything is settled', async () => {
    const unknown = await ran(['settle', 'strip.bag.json', '--out', 'out', '--shape', 'step'], strip);
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('expected glb, obj, stl')]);
    const nowhere = await ran(['settle', 'strip.bag.json', '--shape', 'glb'], strip);
    expect([nowhere.code, nowhere.err]).toEqual([2, expect.stringContaining('give --out <dir> as well')]);
  });
});
