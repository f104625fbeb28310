/** Maps of a settled state against closed forms: a sewn strip hung with a weight, strain of a pulled strip, distances to a ball and a plane. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import { gapMap } from '../../src/measures/gap.ts';
import { principalStrain } from '../../src/measures/membrane.ts';
import { previewBag, sew } from '../../src/run/index.ts';
import { settledMaps } from '../../src/run/maps.ts';
import { GRAVITY } from '../../src/units/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

const direct = (mass: string, more: object = {}) => statedStack(0, 300, { mass, thickness: '1 mm', ...more });
const HEIGHT = 0.08;

/** Two strips sewn together, the upper one's top held, hanging plumb; the lower one is the weight. */
const hanging = (kgPerM2: number, grain: number) =>
  parseBag({
    slumpline: 1,
    panels: {
      upper: {
        rectangle: { width: '50 mm', height: '120 mm' },
        grain: `${grain} deg`,
        clips: [{ edge: 'top' }],
        pose: { origin: [0, 0, '100 mm'], x: [1, 0, 0], y: [0, 0, 1] },
      },
      lower: { rectangle: { width: '50 mm', height: '80 mm' }, pose: { origin: [0, 0, '20 mm'], x: [1, 0, 0], y: [0, 0, 1] } },
    },
    seams: { join: { join: ['upper.bottom', 'lower.top'], type: 'turned', allowance: '0 mm' } },
    stacks: { light: direct('1 g/m2', grain === 0 ? {} : { C22: '8 kN/m' }), heavy: direct(`${1000 * kgPerM2} g/m2`) },
    options: { one: { upper: 'light', lower: 'heavy' } },
    stances: { held: { kind: 'held' } },
  });

const mapsOf = (bag: ReturnType<typeof parseBag>, edgeLength: number, more: object = {}) => {
  const result = previewBag(bag, { bands: ['mid'], edgeLength, skipNudge: true, ...more });
  const [run] = result.runs;
  return { result, run: run!, maps: settledMaps({ ...result, run: run! }) };
};

describe('a strip of two pieces sewn together, held at its top, mesh 10 mm', () => {
  it.each([
    [5, 0],
    [18, 0],
    [18, 30],
  ])(
    'weight of %d kg/m2, grain turned by %d deg (where turned: weft less than half as stiff as warp): the seam carries W/b, every point within 2 %, on the grain the mean within 0.5 %',
    (kgPerM2, grain) => {
      const { run, maps } = mapsOf(hanging(kgPerM2, grain), 0.01);
      const expected = kgPerM2 * HEIGHT * GRAVITY;
      const { values, largest } = maps.seams;
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      const off = Math.max(...values.map((v) => Math.abs(v / expected - 1)));
      console.log(
        `seam carries ${mean.toFixed(4)} N/m (${Array.from(values, (v) => v.toFixed(3)).join(' ')}), W/b = ${expected.toFixed(4)} N/m (statics); worst point ${(100 * off).toFixed(2)} %`,
      );
      expect(run.status).toBe('settled');
      // Off the grain warp and weft shear the strip, the triangles of the two sides differ, and the larger side is given: 0.97 % high in the mean (shown, not gated).
      if (grain === 0) expect(Math.abs(mean / expected - 1)).toBeLessThan(0.005);
      expect(off).toBeLessThan(0.02);
      expect(largest!.value).toBe(Math.max(...values));
    },
  );

  it('strain of the upper piece is that of a strip pulled by sigma = W/b: lambda (lambda^2 - 1)/2 = sigma/C (sigma/C for small ones), within 1 % between the ends', () => {
    const { result, maps } = mapsOf(hanging(18, 0), 0.01);
    const sigma = 18 * HEIGHT * GRAVITY;
    // Newton's method on the closed form.
    let l = 1;
    for (let i = 0; i < 20; i++) l -= ((l * (l * l - 1)) / 2 - sigma / 20e3) / ((3 * l * l - 1) / 2);
    const { verts, flat } = result.mesh.panelVerts[0]!;
    const inner = [...verts.keys()].filter((i) => flat[2 * i + 1]! > 0.03 && flat[2 * i + 1]! < 0.09);
    const strains = inner.map((i) => maps.strain.values[0]![i]!);
    console.log(
      `strain ${(100 * Math.min(...strains)).toFixed(5)} to ${(100 * Math.max(...strains)).toFixed(5)} %, closed form ${(100 * (l - 1)).toFixed(5)} %, sigma/C ${((100 * sigma) / 20e3).toFixed(5)} %`,
    );
    expect(inner.length).toBeGreaterThan(10);
    for (const e of strains) expect(Math.abs(e / (l - 1) - 1)).toBeLessThan(0.01);
  });
});

describe('larger principal strain', () => {
  it('of pure shear by 20 deg is sqrt(1 + sin 20 deg) - 1, of a stretch by 12 % beside a shortening by 5 % it is 12 %', () => {
    const s = Math.sin(Math.PI / 9);
    expect(principalStrain(0, 0, s)).toBeCloseTo(Math.sqrt(1 + s) - 1, 14);
    expect(principalStrain((1.12 ** 2 - 1) / 2, (0.95 ** 2 - 1) / 2, 0)).toBeCloseTo(0.12, 14);
    expect(principalStrain((0.95 ** 2 - 1) / 2, (0.95 ** 2 - 1) / 2, 0)).toBeCloseTo(-0.05, 14);
  });
});

describe('gap to contact', () => {
  const tote = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  const { result, run, maps } = mapsOf(parseBag(tote), 0.025, { option: 'vegetable-tanned leather' });
  const { mesh } = result;

  it('of a standing tote is its height over the table, cut at 20 mm, to 1e-12 m; the base touches; the walls are no other cloth to the base', () => {
    const z = Array.from({ length: mesh.vertexCount }, (_, v) => run.positions[3 * v + 2]!);
    z.forEach((h, v) => {
      expect(Math.abs(maps.gap.values[v]! - Math.min(0.02, Math.max(0, h)))).toBeLessThan(1e-12);
    });
    const [table, cloth] = maps.gap.by;
    console.log(`table: ${table!.touching} points touch, nearest other ${(1e3 * table!.nearest!.gap).toFixed(3)} mm; other cloth ${JSON.stringify(cloth)}`);
    expect(table).toMatchObject({ name: 'table', touching: z.filter((h) => h <= 0).length });
    expect(table!.touching).toBeGreaterThan(10);
    expect(cloth).toMatchObject({ name: null, touching: 0, nearest: null });
  });

  it('to a ball and to a plane is the distance to its middle less its radius, and the height over it, less what contact begins at: to 1e-15 m', () => {
    const centre = [0.01, -0.02, 0.1] as const;
    const x = run.positions;
    const reach = 0.08;
    const ball = { name: 'ball', shape: { kind: 'sphere', centre, radius: 0.05 }, offset: 1e-3 } as const;
    const slope = [0.6, 0, 0.8] as const;
    const plane = { name: 'slope', shape: { kind: 'plane', point: [0, 0, -0.1], normal: slope }, offset: 5e-4 } as const;
    const { values, by } = gapMap(mesh, x, [ball, plane], null, reach);
    const counts = [0, 0];
    for (let v = 0; v < mesh.vertexCount; v++) {
      const [p, q, r] = [x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!];
      const gaps = [Math.hypot(p - centre[0], q - centre[1], r - centre[2]) - 0.05 - 1e-3, 0.6 * p + 0.8 * (r + 0.1) - 5e-4];
      gaps.forEach((g, i) => {
        if (g <= 0) counts[i]!++;
      });
      expect(Math.abs(values[v]! - Math.min(reach, Math.max(0, Math.min(...gaps))))).toBeLessThan(1e-15);
    }
    expect(by.map((b) => b.touching)).toEqual(counts);
  });

  it('between two panels that lie 6 mm apart is that less the millimetre at which sheets feel each other, away from the edge they are sewn along', () => {
    const flat = { width: '120 mm', height: '100 mm' };
    const book = parseBag({
      slumpline: 1,
      panels: {
        one: { rectangle: flat, clips: [{ edge: 'top' }], pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 0, 1] } },
        two: { rectangle: flat, clips: [{ edge: 'top' }], pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 0, 1] } },
      },
      seams: { spine: { join: ['one.bottom', 'two.bottom'], type: 'turned', allowance: '8 mm' } },
      stacks: { cloth: direct('300 g/m2') },
      options: { one: { 'every panel': 'cloth' } },
      stances: { held: { kind: 'held' } },
    });
    const { mesh: made } = sew(book, 0.01);
    const [, two] = made.panelVerts;
    // Placed by hand: a straight wall, and one that leaves it at the seam and runs beside it from the first row of points on.
    const x = new Float64Array(3 * made.vertexCount);
    made.panelVerts.forEach(({ verts, flat: uv }, p) => {
      verts.forEach((v, i) => {
        const up = uv[2 * i + 1]!;
        // Sewn face to face, so the other one runs the other way.
        x.set([p === 0 ? uv[2 * i]! : 0.12 - uv[2 * i]!, p === 0 ? 0 : Math.min(up, 0.006), up], 3 * v);
      });
    });
    const { values, by } = gapMap(made, x, [], 1e-3, 0.02);
    two!.verts.forEach((v, i) => {
      if (two!.flat[2 * i + 1]! > 0.025) expect(Math.abs(values[v]! - 0.005)).toBeLessThan(1e-12);
      if (two!.flat[2 * i + 1]! === 0) expect(values[v]).toBe(0.02);
    });
    expect(by).toMatchObject([{ name: null, touching: 0 }]);
  });
});
