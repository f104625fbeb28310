/** The text of a plan, what its names stand for, and what its runs take. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { anchorPlace, BagError, newBag, parseBag, strapFamily, withAnchorsAt } from '../../../src/bag/index.ts';
import { layUp, materialBands } from '../../../src/material/index.ts';
import { planDigest } from '../../../src/report/index.ts';
import { planRuns, runsOf, valuesOf } from '../../../src/run/index.ts';

const demo = (name: string): string => readFileSync(new URL(`../../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const harbour = demo('harbour-tote'),
  market = demo('market-tote');

/** Faults of a question: "path: got". */
function faults(vary: string, o: object = {}, file = harbour): { path: string; got: string; expected: string }[] {
  try {
    planRuns(file, { vary, ...o });
  } catch (error) {
    if (error instanceof BagError) return [...error.faults];
    throw error;
  }
  return [];
}
const all = (vary: string, file = harbour, o: object = {}) => {
  const plan = planRuns(file, { vary, ...o }),
    values = valuesOf(plan);
  return Array.from({ length: plan.runs }, (_, i) => values(i));
};

describe('what is varied, as text', () => {
  it('5 sizes x 4 bonds x 9 rigidities x 4 options x 1 stance are 720 runs, the last changing first', () => {
    const plan = planRuns(harbour, { vary: 'W=260..340/5, stack.canvas boarded.bond=0.2..0.8/4,material.canvas10.bending=low..high/9,option=*,stance=*' });
    expect(plan.runs).toBe(720);
    const at = valuesOf(plan);
    expect(at(0)).toMatchObject({ W: 260, option: 'canvas and poplin', stance: 'standing' });
    expect(at(1)).toMatchObject({ W: 260, option: 'canvas, fleece, poplin' });
    expect(at(719)).toMatchObject({ W: 340, 'stack.canvas boarded.bond': 0.8, option: 'vegetable-tanned leather' });
    expect(plan.edgeLength).toBeCloseTo(0.0197, 4);
  });
  it('of a bag in inches 260 to 340 is refused with the unit that it was read in; with a unit of its own it is taken', () => {
    const inches = newBag('boxed-tote', { W: '14 in' });
    expect(faults('W=260..340/5', {}, inches).map((f) => f.expected)).toEqual(
      Array(2).fill('a figure from -196.9 in to 196.9 in; without a unit it is read as the file has it, in in'),
    );
    expect(all('W=260..340mm/3', inches).map((v) => v.W)).toEqual([260, 300, 340]);
  });
  it('steps have both ends; figures stay as they are written, in the unit of the file or their own, inches in fractions too', () => {
    expect(all('W=260..340/5').map((v) => v.W)).toEqual([260, 280, 300, 320, 340]);
    expect(all('W=26..34cm/3').map((v) => v.W)).toEqual([26, 30, 34]);
    expect(all('W=10 1/2..12 in/4').map((v) => v.W)).toEqual([10.5, 11, 11.5, 12]);
    expect(all('friction=0.1..0.3/3').map((v) => v.friction)).toEqual([0.1, 0.2, 0.3]);
    expect(all('W=300|260|280').map((v) => v.W)).toEqual([300, 260, 280]);
    expect(all('material.canvas10.mass=9..11 oz/yd2/3').map((v) => v['material.canvas10.mass'])).toEqual([9, expect.closeTo(Math.sqrt(99), 9), 11]);
    expect(planRuns(newBag('boxed-tote', {}), { vary: 'W=11..13/3' }).axes[0]!.unit, 'its file is in inches').toBe('in');
  });
  it('low..high of a material goes by ratio and has the typical bolt in its middle', () => {
    const [low, , mid, , high] = all('material.canvas10.bending=low..high/5').map((v) => v['material.canvas10.bending'] as number);
    const band = materialBands('canvas10').bending;
    [low, mid, high].forEach((v, i) => {
      expect(v! / band[i]!).toBeCloseTo(1, 11);
    });
    expect(all('material.canvas10.band=low..high/5').map((v) => v['material.canvas10.band'])).toEqual([-1, -0.5, 0, 0.5, 1]);
  });
  it('names with points and commas are quoted, or found without quotes where they can be: 5 ways', () => {
    for (const vary of [
      'option="canvas, board, poplin"|canvas and poplin',
      'stack."canvas boarded".bond=0.2|0.8',
      'stack.canvas boarded[2].bond=0.2|0.8',
      'stack."canvas boarded"[nwboard].bond=0.2|0.8',
      'stack.veg leather.thickness=1.6..2 mm/2',
    ])
      expect(all(vary), vary).toHaveLength(2);
  });
});

describe('bad input', () => {
  it.each([
    ['X=1..2/3', 'a parameter of this bag or another name'],
    ['ww=1..2/3', 'W, H, D'],
    ['options=*', 'did you mean "option"'],
    ['option=canvas, fleece', 'name=values'],
    ['option="canvas, fleece"', 'did you mean "canvas, fleece, poplin"'],
    ['stance=hung', 'a stance'],
    ['W=*', 'options and stances'],
    ['W=340..260/5', 'the smaller end first: 260..340'],
    ['W=300..300/5', 'a range of more than one figure'],
    ['W=..340/5', 'both ends of a range'],
    ['W=/5', 'a length with its unit'],
    ['W=', 'name=values'],
    ['', 'name=values'],
    ['W=260..340', 'a number of steps'],
    ['W=260..340/1', 'a whole number from 2'],
    ['W=260..340/2.5', 'a whole number from 2'],
    ['W=260..340 kg/5', 'a length with its unit'],
    ['W=260..340/5,W=1..2/2', 'each name once'],
    ['W=300|300', 'each once'],
    ['W=low..high/3', 'it has no band'],
    ['friction=-1..0/3', 'a figure from 0 to 3'],
    ['stack.wall.bond=0..1/3', 'a stack of this bag'],
    ['stack.canvas lined.bond=0..1/3', 'a fused layer'],
    ['stack.canvas boarded.thickness=1..2mm/3', 'one layer'],
    ['stack.canvas boarded[7].bond=0..1/3', 'a layer of "canvas boarded"'],
    ['stack.canvas boarded.bnod=0..1/3', 'did you mean "bond"'],
    ['material.canvas11.bending=low..high/3', 'did you mean "canvas10"'],
    ['material.canvas10.bendng=low..high/3', 'did you mean "bending"'],
    ['material.canvas10.bending=1..2/3', 'a rigidity per width with its unit'],
    ['material.canvas10.thickness=1..2mm/3', 'stack.NAME.thickness'],
    ['anchor.handle=40..120mm/5', 'a strap of this bag'],
    ['stance.standing.frction=0..1/3', 'did you mean "friction"'],
    ['stack."canvas.bond=0..1/3', 'names in quotes on both sides'],
    ['W=NaN..Infinity/3', 'a length with its unit'],
  ])('%s is refused: %s', (vary, expected) => {
    const told = faults(vary);
    expect(told.length).toBeGreaterThan(0);
    expect(told.map((f) => f.expected).join('\n')).toContain(expected);
  });
  it('all faults of a question are told at once: 3 names and the samples', () => {
    expect(faults('X=1..2/2,H=3..2/2,stack.a.bond=0..1/2', { samples: 0 }).map((f) => f.path)).toEqual(['samples', 'vary.X', 'vary.H', 'vary.stack.a.bond']);
  });
  it('draws of nothing, a seed that is none, an unknown option of the function, and a plan beyond counting', () => {
    expect(faults('option=*', { samples: 10 })[0]!.expected).toContain('at least one range to draw from');
    expect(faults('W=260..340', { samples: 10, seed: -1 })[0]!.path).toBe('seed');
    expect(faults('W=260..340', { sample: 10 })[0]!.expected).toContain('samples');
    expect(faults('W=1..2/100000,H=1..2/100000,D=1..2/100000')[0]!.got).toBe('1000000000000000 runs');
  });
});

describe('draws', () => {
  const vary = 'W=280..320,material.canvas10.band=low..high,friction=0.2..0.6/5,option=canvas and poplin|vegetable-tanned leather';
  const drawn = all(vary, harbour, { samples: 20, seed: 4 });
  it('20 draws of 3 ranges for 2 options: 40 runs, both options with the same 20, steps drawn 4 times each', () => {
    expect(drawn).toHaveLength(40);
    const without = (v: (typeof drawn)[0]) => ({ ...v, option: '' });
    expect(drawn.slice(0, 20).map(without)).toEqual(drawn.slice(20).map(without));
    for (const f of [0.2, 0.3, 0.4, 0.5, 0.6]) expect(drawn.slice(0, 20).filter((v) => v.friction === f)).toHaveLength(4);
    expect(new Set(drawn.slice(0, 20).map((v) => v.W)).size).toBe(20);
  });
  it('the same seed gives the same plan and draws; seed, text and bag each give a plan of another digest', () => {
    expect(all(vary, harbour, { samples: 20, seed: 4 })).toEqual(drawn);
    const digests = [
      planRuns(harbour, { vary, samples: 20, seed: 4 }),
      planRuns(harbour, { vary, samples: 20, seed: 5 }),
      planRuns(harbour, { vary: vary.replace('320', '321'), samples: 20, seed: 4 }),
      planRuns(harbour.replace('"0.4"', '0.4').replace('Harbour', 'Haven'), { vary, samples: 20, seed: 4 }),
    ].map(planDigest);
    expect(new Set(digests).size).toBe(4);
    expect(planDigest(planRuns(harbour, { vary, samples: 20, seed: 4 }))).toBe(digests[0]);
  });
});

describe('the bag of a run', () => {
  const bagOf = (file: string, vary: string, i: number) => {
    const run = runsOf(file, planRuns(file, { vary }))(i);
    return { ...run, bag: parseBag(run.document.value) };
  };
  it('parameter, bond, thickness, friction and load stand in it as a maker would write them', () => {
    const { bag } = bagOf(
      harbour,
      'W=280|320 mm,stack.canvas boarded.bond=0.25|0.75,stack.veg leather.thickness=1.5|2 mm,friction=0.3|0.6,stance.standing.load=1|2 kg',
      31,
    );
    expect(bag.parameters.find((p) => p.name === 'W')!.value).toBeCloseTo(0.32, 12);
    const stack = (name: string) => bag.stacks.find((s) => s.name === name) as Extract<(typeof bag.stacks)[0], { kind: 'layers' }>;
    expect(stack('canvas boarded').layers[1]!.bond).toBe(0.75);
    expect(stack('veg leather').layers[0]!.thickness).toBeCloseTo(0.002, 12);
    expect(bag.stances[0]).toMatchObject({ friction: 0.6, load: { mass: 2 } });
  });
  it('a material at its middle lays up as the built-in one does, to 1e-11, in canvas and in a hide of another gauge than its table', () => {
    for (const [vary, option] of [
      ['material.canvas10.bending=mid|high', 'canvas and poplin'],
      ['material.canvas10.band=0|1', 'canvas and poplin'],
      ['material.veg20.bending=mid|high', 'vegetable-tanned leather'],
      ['material.veg20.band=0|1', 'vegetable-tanned leather'],
    ] as const) {
      const [made] = layUp(bagOf(harbour, vary, 0).bag, option, 'mid').flat(),
        [plain] = layUp(parseBag(harbour), option, 'mid').flat();
      for (const key of ['bending', 'inPlane'] as const)
        made![key].forEach((v, k) => {
          expect(Math.abs(v - plain![key][k]!), `${vary} ${key} ${k}`).toBeLessThanOrEqual(1e-11 * plain![key][0]!);
        });
      expect(made!.arealMass).toBeCloseTo(plain!.arealMass, 12);
      expect(made!.thickness).toBeCloseTo(plain!.thickness, 12);
    }
  });
  it('a material at an end of its band lays up as that end does where it lies alone: hide of 1.6 to 2.0 mm, soft and stiff, to 1e-11', () => {
    for (const [i, band] of [
      [0, 'low'],
      [1, 'high'],
    ] as const) {
      const [made] = layUp(bagOf(harbour, 'material.veg20.band=low|high', i).bag, 'vegetable-tanned leather', 'mid').flat(),
        [plain] = layUp(parseBag(harbour), 'vegetable-tanned leather', band).flat();
      made!.bending.forEach((v, k) => {
        expect(Math.abs(v / plain!.bending[k]! - 1), `${band} ${k}`).toBeLessThan(1e-11);
      });
    }
  });
  it('an anchor lies where withAnchorsAt puts it, both ends and the copy on the back, to 1e-9 m', () => {
    const { bag } = bagOf(market, 'anchor.handle=80|110 mm', 1),
      moved = withAnchorsAt(parseBag(market), 'handle', 0.11).bag!;
    expect(strapFamily(bag, 'handle').length).toBeGreaterThan(1);
    for (const [s, strap] of strapFamily(bag, 'handle').entries())
      for (const e of [0, 1] as const) {
        expect(anchorPlace(bag, strap, e).fromSide).toBeCloseTo(0.11, 9);
        strap.anchors[e].at.forEach((v, k) => {
          expect(v).toBeCloseTo(strapFamily(moved, 'handle')[s]!.anchors[e].at[k]!, 9);
        });
      }
  });
  it('the file asked about stays as it is written beside what is varied', () => {
    const { document } = bagOf(harbour, 'W=280|320', 1);
    const file = JSON.parse(harbour);
    expect(document.value).toEqual({ ...file, parameters: { ...file.parameters, W: '320 mm' } });
  });
});
