import { describe, expect, it } from 'vitest';
import { measure } from '../../src/measures/measure.ts';
import type { Measures } from '../../src/measures/types.ts';
import { box, grid, moved, type Sewn, sew, strip, tube } from './shapes.ts';

const W = 0.3;
const H = 0.24;
const D = 0.1;

function read(sewn: Sewn, settled: Float64Array, stance: 'standing' | 'held' = 'standing') {
  const count = sewn.mesh.panelNames.length;
  return measure({ ...sewn, settled, overhangs: new Array(count).fill(0.12), panelMass: new Array(count).fill(0.02), stance });
}

describe('a box as drafted, 300 x 240 x 100 mm', () => {
  const sewn = box(W, H, D);
  const { measures: m, panels } = read(sewn, sewn.drafted);
  it('keeps all of its height, footprint, mouth and volume to 1e-12', () => {
    for (const key of ['heightKept', 'footprintKept', 'mouthGap', 'volumeKept'] as const) expect(m[key], key).toBeCloseTo(1, 12);
    expect(m.draftedHeight).toBeCloseTo(H, 12);
  });
  it('has no drop, lean, bulge or fold to 1e-9', () => {
    for (const key of ['topEdgeDrop', 'wallLean', 'bulge', 'folds'] as const) expect(m[key], key).toBeCloseTo(0, 9);
  });
  it('gives each wall the stand number 240 / 120 = 2 and the base 0', () => {
    expect(panels.map((p) => p.name)).toEqual(['front', 'back', 'right', 'left', 'base']);
    for (const p of panels) expect(p.standNumber, p.name).toBeCloseTo(p.name === 'base' ? 0 : 2, 12);
    for (const p of panels) expect(p.curvature, p.name).toBeLessThan(1e-9);
  });
  it('lifted 7 m and turned 20 degrees on the table it measures the same to 1e-9', () => {
    const a = Math.PI / 9;
    const turned = moved(sewn.drafted, (x, y, z) => [x * Math.cos(a) - y * Math.sin(a) + 3, x * Math.sin(a) + y * Math.cos(a) - 2, z + 7]);
    const t = read(sewn, turned).measures;
    for (const key of Object.keys(m) as (keyof Measures)[]) expect(t[key], key).toBeCloseTo(m[key]!, 9);
  });
});

describe('a box sheared backwards by 0.2', () => {
  const sewn = box(W, H, D);
  const { measures: m, panels } = read(
    sewn,
    moved(sewn.drafted, (x, y, z) => [x, y + 0.2 * z, z]),
  );
  it('leans atan 0.2 = 11.310 degrees in front and back, 0 at the sides, to 1e-9', () => {
    expect(m.wallLean).toBeCloseTo(Math.atan(0.2), 9);
    expect(panels.find((p) => p.name === 'front')!.lean).toBeCloseTo(Math.atan(0.2), 9);
    expect(panels.find((p) => p.name === 'right')!.lean).toBeCloseTo(0, 9);
  });
  it('keeps volume, height and flat walls to 1e-9', () => {
    expect(m.volumeKept).toBeCloseTo(1, 9);
    expect(m.heightKept).toBeCloseTo(1, 9);
    expect(m.bulge).toBeCloseTo(0, 9);
  });
});

describe('a box squashed to 60 % of its height and spread by 1.1', () => {
  const sewn = box(W, H, D);
  const m = read(
    sewn,
    moved(sewn.drafted, (x, y, z) => [1.1 * x, 1.1 * y, 0.6 * z]),
  ).measures;
  it('keeps 0.6 of its height, 1.21 of its footprint, 0.726 of its volume, 1.1 of its mouth, to 1e-9', () => {
    expect(m.heightKept).toBeCloseTo(0.6, 9);
    expect(m.topEdgeDrop).toBeCloseTo(0.4 * H, 9);
    expect(m.footprintKept).toBeCloseTo(1.21, 9);
    expect(m.volumeKept).toBeCloseTo(0.726, 9);
    expect(m.mouthGap).toBeCloseTo(1.1, 9);
  });
});

describe('a mouth that sags in the middle of front and back', () => {
  const s = 0.03;
  const sewn = box(W, H, D, 24);
  const sag = (x: number) => s * (1 - (2 * x) ** 2 / W ** 2);
  const m = read(
    sewn,
    moved(sewn.drafted, (x, y, z) => [x, y, Math.abs(y) > D / 2 - 1e-9 ? z - (z / H) * sag(x) : z]),
  ).measures;
  it('drops 30 mm at its lowest point to 1e-9', () => {
    expect(m.topEdgeDrop).toBeCloseTo(s, 9);
  });
  it('keeps 1 - (2/3)(30/240)(600/800) = 0.9375 of its mean height within 2e-4 (trapezoid of 24 cells)', () => {
    expect(Math.abs(m.heightKept! - 0.9375)).toBeLessThan(2e-4);
  });
});

describe('front and back pushed in by 20 mm half-way along, across the whole height', () => {
  const sewn = box(W, H, D, 24);
  const push = (x: number) => 0.02 * Math.cos((Math.PI * x) / W);
  const m = read(
    sewn,
    moved(sewn.drafted, (x, y, z) => [x, y - Math.sign(y) * (Math.abs(y) > D / 2 - 1e-9 ? push(x) : 0), z]),
  ).measures;
  it('leaves a mouth of 60 mm out of 100 to 1e-6', () => {
    expect(Math.abs(m.mouthGap! - 0.6)).toBeLessThan(1e-6);
  });
  it('takes 2 (2/pi) 20 mm / 100 mm = 0.2546 off the volume within 0.001', () => {
    expect(Math.abs(m.volumeKept! - (1 - 0.08 / Math.PI / 0.1))).toBeLessThan(1e-3);
  });
  it('bulges 2/pi x 20 mm = 12.73 mm off its best-fit plane at the edges: 0.0424 W within 0.0005', () => {
    expect(Math.abs(m.bulge! - ((2 / Math.PI) * 0.02) / W)).toBeLessThan(5e-4);
  });
  it('shows no fold: a plain bulge is not one', () => {
    expect(m.folds).toBe(0);
  });
});

describe('front pushed through the back', () => {
  it('reads as a closed mouth, not as a wide one', () => {
    const sewn = box(W, H, D, 8);
    const settled = moved(sewn.drafted, (x, y, z) => [x, y < -D / 2 + 1e-9 && Math.abs(x) < 0.1 && z > 0.1 ? y + 0.15 : y, z]);
    expect(read(sewn, settled).measures.mouthGap).toBe(0);
  });
});

describe('a mouth like a lens, 100 mm deep in its middle, that closes towards its ends', () => {
  it('reads the same within 0.01 on every mesh, 7 to 40 edges along it, where at mesh points alone it moved by 0.056', () => {
    const deep = (x: number): number => 0.05 * Math.cos((Math.PI * x) / W);
    const gaps = [7, 8, 9, 10, 11, 13, 17, 40].map((n) => {
      const at = (sign: number) => (u: number, v: number) => [u - W / 2, sign * deep(u - W / 2), v] as const;
      const lens = sew('lens', [grid('front', 'front', W, H, n, 8, at(-1), ['top']), grid('back', 'back', W, H, n, 8, (u, v) => at(1)(W - u, v), ['top'])]);
      const settled = moved(lens.drafted, (x, y, z) => [x, y * (1 - 0.8 * Math.abs(x / W)), z]);
      return read(lens, settled).measures.mouthGap!;
    });
    console.log(`${gaps.map((g) => g.toFixed(4)).join(' ')}; tolerance 0.01: chords stand for the curve`);
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThan(0.01);
    // Straight across, 1 - 0.8/3 is left where half of the depth is; the nearest point of a mouth that narrows lies a little further in.
    expect(Math.min(...gaps)).toBeGreaterThan(1 - 0.8 / 3);
  });
});

describe('waves across the front', () => {
  const sewn = box(W, H, D, 40);
  const waved = (a: number, k: number) =>
    moved(sewn.drafted, (x, y, z) => [x, y < -D / 2 + 1e-9 ? y + a * Math.sin((2 * Math.PI * k * (x + W / 2)) / W) : y, z]);
  it('three waves of amplitude 6 mm are three folds', () => {
    expect(read(sewn, waved(0.006, 3)).measures.folds).toBe(3);
  });
  it('three waves of amplitude 2 mm (4 mm deep) are none', () => {
    expect(read(sewn, waved(0.002, 3)).measures.folds).toBe(0);
  });
});

describe('a tube of radius 90 mm, 250 mm high', () => {
  const sewn = tube(0.09, 0.25);
  it('as drafted keeps 1 of everything and bends at 1/R = 11.11 /m within 1 %', () => {
    const { measures: m, panels } = read(sewn, sewn.drafted);
    for (const key of ['heightKept', 'footprintKept', 'mouthGap', 'volumeKept'] as const) expect(m[key], key).toBeCloseTo(1, 9);
    expect(m.wallLean).toBeCloseTo(0, 9);
    expect(m.bulge).toBeCloseTo(0, 9);
    const body = panels.find((p) => p.name === 'body')!;
    expect(Math.abs(body.curvature * 0.09 - 1)).toBeLessThan(0.01);
  });
  it('sheared by 0.1 leans atan 0.1 to 1e-9', () => {
    const m = read(
      sewn,
      moved(sewn.drafted, (x, y, z) => [x + 0.1 * z, y, z]),
    ).measures;
    expect(m.wallLean).toBeCloseTo(Math.atan(0.1), 9);
  });
  it('gone oval by +-5 % keeps 0.95 of its mouth within 0.002, 0.9975 of its volume and bulges 0.025 W', () => {
    const m = read(
      sewn,
      moved(sewn.drafted, (x, y, z) => [1.05 * x, 0.95 * y, z]),
    ).measures;
    expect(Math.abs(m.mouthGap! - 0.95)).toBeLessThan(2e-3);
    expect(m.volumeKept).toBeCloseTo(0.9975, 6);
    expect(Math.abs(m.bulge! - 0.025)).toBeLessThan(5e-4);
  });
});

describe('a plain strip', () => {
  const sewn = strip(0.2, 0.025);
  it('has no heights, walls, mouth or volume, only panel figures', () => {
    const { measures, panels } = read(sewn, sewn.drafted, 'held');
    for (const [key, value] of Object.entries(measures)) expect(value, key).toBeNull();
    expect(panels[0].height).toBe(0);
    expect(panels[0].heightKept).toBeNull();
  });
  it('rolled to radius 50 mm bends at 20 /m within 1 %', () => {
    const rolled = moved(sewn.drafted, (x, y) => [0.05 * Math.sin(x / 0.05), y, 0.05 * (1 - Math.cos(x / 0.05))]);
    expect(Math.abs(read(sewn, rolled).panels[0].curvature / 20 - 1)).toBeLessThan(0.01);
  });
});
