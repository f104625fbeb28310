import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { shapeOf, slidesUnder } from '../../src/assembly/ground.ts';
import { BagError, parseBag } from '../../src/bag/index.ts';
import { solidOf } from '../../src/report/picture/solids.ts';
import { previewBag } from '../../src/run/index.ts';
import { leastOverFace } from '../../src/solver/index.ts';
import { GRAVITY } from '../../src/units/index.ts';

const tote = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const LEATHER = 'vegetable-tanned leather';
const stand = (stance: object) =>
  previewBag(parseBag({ ...tote, stances: { here: { kind: 'standing', ...stance } } }), { option: LEATHER, bands: ['mid'], edgeLength: 0.025 });

describe('a tote on a table that tilts', () => {
  it.each(['front', 'back', 'left', 'right'] as const)(
    'by 12 deg toward the %s: the table gives back weight x cos 12 square to it and weight x sin 12 along it, within one part in 1000',
    (toward) => {
      const result = stand({ tilt: '12 deg', toward, load: '1 kg' });
      const [run] = result.runs;
      expect(run!.status).toBe('settled');
      const weight = (result.massKg + 1) * GRAVITY;
      const away = { front: [0, -1], back: [0, 1], left: [-1, 0], right: [1, 0] }[toward];
      const s = Math.sin((12 * Math.PI) / 180);
      const expected = [-weight * s * away[0]!, -weight * s * away[1]!, weight * Math.cos((12 * Math.PI) / 180)];
      console.log(
        `table gives ${run!.reactions.table.map((f) => f.toFixed(4)).join(', ')} N, expected ${expected.map((f) => f.toFixed(4)).join(', ')} (statics)`,
      );
      for (let k = 0; k < 3; k++) expect(Math.abs(run!.reactions.table[k]! - expected[k]!)).toBeLessThan(1e-3 * weight);
    },
  );

  it('the same to the front and to the back are mirror images: their heights agree within 0.5 mm', () => {
    const [a, b] = (['front', 'back'] as const).map((toward) => stand({ tilt: '8 deg', toward }).runs[0]!.measures.rimHeight ?? 0);
    console.log(`rim ${(1e3 * a!).toFixed(3)} and ${(1e3 * b!).toFixed(3)} mm`);
    expect(Math.abs(a! - b!)).toBeLessThan(5e-4);
  });
});

describe('a nudge that would slide the bag', () => {
  const here = (stance: object) => parseBag({ ...tote, stances: { here: { kind: 'standing', ...stance } } }).stances[0]!;
  it.each([
    ['20 deg', 0.4, false],
    ['20.3 deg', 0.4, true],
    ['0 deg', 0.031, false],
    ['0 deg', 0.029, true],
  ])('a table of %s with friction %f: tan(slope) + 0.03 / cos(slope) over it is %s (Coulomb, by hand)', (tilt, friction, slides) => {
    expect(slidesUnder(here({ tilt, friction }), 0.03)).toBe(slides);
  });
  it('a firm tote on a table as slick as 0.02 holds, is not nudged, and the reason says why', () => {
    const { verdict, runs } = stand({ friction: 0.02 });
    console.log(verdict.reason);
    expect(verdict.word).toBe('holds');
    expect(runs[0]!.nudge).toMatchObject({ tested: false, slides: true });
    expect(verdict.details.join(' ')).toContain('would slide it along the table');
  });
});

describe('a base that is held', () => {
  it('glued on a slope of 30 deg, over the friction angle: every point of the base stays, clips and table carry the weight within 0.1 %', () => {
    const result = stand({ tilt: '30 deg', base: 'glued' });
    const [run] = result.runs;
    const { table, held } = run!.reactions;
    const sum = Math.hypot(table[0] + held[0], table[1] + held[1], table[2] + held[2]);
    expect(run!.status).toBe('settled');
    expect(Math.abs(sum / (result.massKg * GRAVITY) - 1)).toBeLessThan(1e-3);
    let moved = 0;
    for (let v = 0; v < result.vertices; v++)
      if (result.drafted[3 * v + 2]! < 1e-6)
        for (let k = 0; k < 3; k++) moved = Math.max(moved, Math.abs(run!.positions[3 * v + k]! - result.drafted[3 * v + k]!));
    expect(moved).toBeLessThan(1e-12);
  });
});

describe('cloth over forms', () => {
  const cloth = (form: object) => ({
    slumpline: 1,
    panels: {
      cloth: {
        role: 'flat',
        rectangle: { width: '240 mm', height: '240 mm' },
        pose: { origin: ['-120 mm', '-120 mm', '2 mm'], x: [1, 0, 0], y: [0, 1, 0] },
        open: ['top', 'bottom', 'left', 'right'],
      },
    },
    stacks: { canvas: ['canvas12'] },
    options: { plain: { 'every panel': 'canvas' } },
    stances: { over: { kind: 'standing', on: 'nothing', forms: [form] } },
  });

  it.each([
    ['a ball', { form: 'ball', diameter: '160 mm', at: [0, 0, '-80 mm'] }],
    ['a turned block', { form: 'block', width: '120 mm', depth: '100 mm', height: '60 mm', round: '8 mm', turn: '20 deg', at: [0, 0, '-30 mm'] }],
    ['a lying roll', { form: 'roll', diameter: '90 mm', length: '300 mm', along: 'x', at: [0, 0, '-45 mm'] }],
    ['an egg', { form: 'egg', width: '200 mm', depth: '140 mm', height: '80 mm', at: [0, 0, '-40 mm'] }],
    // Narrower than the cloth's mesh, or with edges sharper than it.
    ['a small ball', { form: 'ball', diameter: '30 mm', at: [0, 0, '-15 mm'] }],
    ['a sharp block', { form: 'block', width: '120 mm', depth: '100 mm', height: '60 mm', round: '0 mm', turn: '20 deg', at: [0, 0, '-30 mm'] }],
    ['a can on end', { form: 'roll', diameter: '60 mm', length: '100 mm', along: 'z', at: [0, 0, '-50 mm'] }],
    ['a thin rod', { form: 'roll', diameter: '12 mm', length: '300 mm', along: 'x', at: [0, 0, '-6 mm'] }],
  ])('%s carries all of its weight at rest; no place of the cloth sinks in, 0 crossings', (_, form) => {
    const bag = parseBag(cloth(form)),
      result = previewBag(bag, { bands: ['mid'], edgeLength: 0.016, skipNudge: true });
    const [run] = result.runs,
      stance = bag.stances[0]!,
      shape = shapeOf((stance.kind === 'standing' ? stance.ground : null)!.forms[0]!);
    let least = Number.POSITIVE_INFINITY;
    for (let t = 0; t < result.mesh.triVerts.length; t += 3) {
      const corners = Float64Array.from({ length: 9 }, (_, i) => run!.positions[3 * result.mesh.triVerts[t + ((i / 3) | 0)]! + (i % 3)]!);
      least = Math.min(least, leastOverFace(shape, corners));
    }
    console.log(
      `${run!.status}, residual ${run!.residual.toExponential(1)}, the cloth's nearest place ${(1e3 * least).toFixed(3)} mm off, ${run!.contact.crossings} crossings`,
    );
    expect(run!.status).toBe('settled');
    expect(Math.abs(run!.reactions.table[2] / (result.massKg * GRAVITY) - 1)).toBeLessThan(1e-3);
    expect(run!.contact.deepestPenetration).toBe(0);
    expect(least).toBeGreaterThan(0);
    expect(run!.contact.crossings).toBe(0);
  });

  it('a form that stands between the points of the drafted cloth is refused too', () => {
    const pin = { form: 'roll', diameter: '4 mm', length: '40 mm', along: 'z', at: ['3 mm', '2 mm', 0] };
    expect(() => previewBag(parseBag(cloth(pin)), { bands: ['mid'], edgeLength: 0.016 })).toThrow(/the roll reaches \d+\.\d mm through cloth/);
  });

  it('a form that stands in the cloth is refused with its path and how far it reaches through', () => {
    expect(() => previewBag(parseBag(cloth({ form: 'ball', diameter: '160 mm', at: [0, 0, '-60 mm'] })))).toThrow(BagError);
    try {
      previewBag(parseBag(cloth({ form: 'ball', diameter: '160 mm', at: [0, 0, '-60 mm'] })));
    } catch (error) {
      expect((error as BagError).faults).toEqual([
        {
          path: 'stances.over.forms[0].at',
          got: '[0 mm, 0 mm, -60 mm]',
          expected: expect.stringMatching(/clear of the bag: the ball reaches 1[78]\.\d mm through cloth/),
        },
      ]);
    }
  });
});

describe('forms as they are drawn', () => {
  const place = { at: [0.01, 0.02, 0.03], friction: 0.4 } as const;
  it.each([
    ['ball', { ...place, form: 'ball', diameter: 0.1 } as const, (Math.PI * 0.1 ** 3) / 6],
    ['egg', { ...place, form: 'egg', size: [0.1, 0.06, 0.04], turn: 0.3 } as const, (Math.PI * 0.1 * 0.06 * 0.04) / 6],
    ['roll', { ...place, form: 'roll', diameter: 0.1, length: 0.2, along: 'x', round: 0 } as const, (Math.PI * 0.1 ** 2 * 0.2) / 4],
    ['bolster', { ...place, form: 'bolster', diameter: 0.1, length: 0.2, along: 'y' } as const, (Math.PI * 0.1 ** 2 * 0.1) / 4 + (Math.PI * 0.1 ** 3) / 6],
    [
      'rounded block',
      { ...place, form: 'block', size: [0.1, 0.06, 0.04], round: 0.01, turn: 0 } as const,
      0.08 * 0.04 * 0.02 + 2 * 0.01 * (0.08 * 0.04 + 0.08 * 0.02 + 0.04 * 0.02) + Math.PI * 0.01 ** 2 * (0.08 + 0.04 + 0.02) + (4 / 3) * Math.PI * 0.01 ** 3,
    ],
    ['block', { ...place, form: 'block', size: [0.1, 0.06, 0.04], round: 0, turn: 0.7 } as const, 0.1 * 0.06 * 0.04],
  ])('a %s encloses its volume (closed form) within 2.5 %%, every face looking outward', (_, form, volume) => {
    const { x, triVerts } = solidOf(form);
    let sum = 0;
    for (let t = 0; t < triVerts.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((i) => x[3 * triVerts[t + k]! + i]!)) as [number[], number[], number[]];
      sum += (a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) - a[1]! * (b[0]! * c[2]! - b[2]! * c[0]!) + a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!)) / 6;
    }
    console.log(`${(1e6 * sum).toFixed(2)} cm3, expected ${(1e6 * volume).toFixed(2)}`);
    expect(Math.abs(sum / volume - 1)).toBeLessThan(0.025);
  });
});
