import { describe, expect, it } from 'vitest';
import { assemble } from '../../src/assembly/index.ts';
import { type BagError, newBag, parseBag } from '../../src/bag/index.ts';
import { settleBag, textReport } from '../../src/index.ts';
import { hardwareFigures, layUp, sewnLayers } from '../../src/material/index.ts';
import { feetOf, meshPanels } from '../../src/mesh/index.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { placePanels } from '../../src/placement/index.ts';
import { GRAVITY } from '../../src/units/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

/** A level square of stiff board, 200 mm a side, 2 kg/m2, with hardware on it; it stands on the table. */
const board = (hardware: object) =>
  parseBag({
    slumpline: 1,
    panels: {
      plate: {
        rectangle: { width: '200 mm', height: '200 mm', at: ['-100 mm', '-100 mm'] },
        role: 'base',
        pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0] },
      },
    },
    hardware,
    stacks: { board: statedStack(2000, 5e6, { thickness: '2 mm' }) },
    options: { o: { 'every panel': 'board' } },
    stances: { standing: { friction: 0.4 } },
  });
const faultsOf = (hardware: object): string[] => {
  try {
    board(hardware);
    return [];
  } catch (error) {
    return (error as BagError).faults.map((f) => f.path);
  }
};
const corners = (...signs: readonly (readonly [number, number])[]) => signs.map(([x, y]) => [`${80 * x} mm`, `${80 * y} mm`]);

describe('hardware', () => {
  it('weighs at its place: total to 1e-12 and centre of mass to 1e-9 m, as stated and by size (a slider for 50 mm is 4 times that for 25)', () => {
    const bag = board({
        lock: { kind: 'clasp', panel: 'plate', at: [['31 mm', '-47 mm']], mass: '60 g' },
        rivets: { kind: 'rivet', panel: 'plate', at: ['top[50%]', 'left[25%]'] },
      }),
      draft = draftPanels(bag),
      mesh = meshPanels(bag, draft, { edgeLength: 0.02 }),
      laminates = layUp(bag, 'o', 'mid'),
      placed = placePanels(bag, draft, mesh).positions,
      model = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placed, bag.stances[0]!),
      bare = assemble({ ...bag, hardware: [] }, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placed, bag.stances[0]!);
    const rivet = hardwareFigures({ kind: 'rivet', size: null, mass: null, height: null }).mass;
    const sum = [0, 0, 0];
    model.mass.forEach((m, v) => {
      const own = m - bare.mass[v]!;
      sum[0]! += own;
      sum[1]! += own * placed[3 * v]!;
      sum[2]! += own * placed[3 * v + 1]!;
    });
    expect(sum[0]!).toBeCloseTo(0.06 + 2 * rivet, 12);
    // Outlines run counterclockwise: the left edge goes down, so a quarter of it is at +50 mm.
    expect(sum[1]! / sum[0]!).toBeCloseTo((0.06 * 0.031 - rivet * 0.1) / (0.06 + 2 * rivet), 9);
    expect(sum[2]! / sum[0]!).toBeCloseTo((0.06 * -0.047 + rivet * (0.1 + 0.05)) / (0.06 + 2 * rivet), 9);
    const slider = (size: number) => hardwareFigures({ kind: 'slider', size, mass: null, height: null }).mass;
    expect(slider(0.05) / slider(0.025)).toBeCloseTo(4, 12);
  });

  it('feet carry a stiff plate: three of its four corners share the weight of plate and a lock off its middle by statics, each within 0.5 % of the weight; the sum is the weight to 1e-3; four sum to it as well', () => {
    const lock = { kind: 'clasp', panel: 'plate', at: [['-20 mm', '10 mm']], mass: '60 g' };
    for (const signs of [
      [
        [1, 1],
        [-1, 1],
        [-1, -1],
      ],
      [
        [1, 1],
        [-1, 1],
        [-1, -1],
        [1, -1],
      ],
    ] as const) {
      const bag = board({ feet: { kind: 'foot', panel: 'plate', at: corners(...signs), height: '10 mm', mass: '4 g' }, lock });
      const result = settleBag(bag, { edgeLength: 0.02, bands: ['mid'] }),
        run = result.runs[0]!;
      expect(run.status).toBe('settled');
      const W = result.massKg * GRAVITY,
        loads = run.feet!.map((f) => f.newtons),
        at = run.feet!.map((f) => f.at);
      expect(Math.abs(loads.reduce((a, b) => a + b, 0) / W - 1)).toBeLessThan(1e-3);
      // The table lies 10 mm below the feet's points, and the plate does not reach it.
      expect(run.reactions.table[2]! / W).toBeCloseTo(1, 3);
      if (signs.length === 3) {
        // Plate and feet as they are meshed: their centre of mass, then three moments.
        const model = masses(bag, 0.02);
        const exact = solve3(at, model.centre, W);
        console.log(`three feet carry ${loads.map((l) => l.toFixed(4))} N, statics ${exact.map((l) => l.toFixed(4))}, of ${W.toFixed(4)} N`);
        loads.forEach((l, i) => {
          expect(Math.abs(l - exact[i]!) / W).toBeLessThan(0.005);
        });
      } else console.log(`four feet carry ${loads.map((l) => l.toFixed(4))} of ${W.toFixed(4)} N`);
      expect(textReport(result)).toMatch(/its feet carry/);
    }
  });

  it('a boxed tote stands on four feet: the report weighs them, its footprint is that of the feet, its heights count from the table under them', () => {
    const source = JSON.parse(newBag('boxed-tote')),
      feet = {
        kind: 'foot',
        panel: 'front',
        at: [
          ['-W/2 + 20 mm', '20 mm'],
          ['W/2 - 20 mm', '20 mm'],
        ],
        height: '12 mm',
      };
    const options = { option: 'canvas, board, poplin, base board', edgeLength: 0.03, bands: ['mid'], skipNudge: true } as const,
      bare = settleBag(parseBag(source), options),
      on = settleBag(parseBag({ ...source, hardware: { 'front feet': feet, 'back feet': { ...feet, panel: 'back' } } }), options);
    const [a, b] = [bare.runs[0]!, on.runs[0]!];
    expect(b.status).toBe('settled');
    expect(b.contact.crossings).toBe(0);
    expect(on.massKg - bare.massKg).toBeCloseTo(4 * hardwareFigures({ kind: 'foot', size: null, mass: null, height: 0.012 }).mass, 12);
    expect(on.parts!.map((p) => p.what)).toEqual(['2 feet of 12 mm', '2 feet of 12 mm']);
    // The base hangs between its feet, 12 mm off the table; the feet's own 12 g low down take some 5 mm off the centre's rise.
    const lowest = Math.min(...b.positions.filter((_, i) => i % 3 === 2)),
      foot = Math.min(...b.feet!.map((f) => f.at[2]));
    console.log(
      `base hangs ${((foot - lowest) * 1000).toFixed(1)} mm below its feet's points; centre ${(a.balance!.centre[2] * 1000).toFixed(1)} -> ${(b.balance!.centre[2] * 1000).toFixed(1)} mm`,
    );
    expect(foot - lowest).toBeLessThan(0.0125);
    expect(b.measures.rimHeight!).toBeGreaterThan(a.measures.rimHeight! - 0.002);
    expect(b.balance!.centre[2] - a.balance!.centre[2]).toBeGreaterThan(0.005);
    expect(b.balance!.centre[2] - a.balance!.centre[2]).toBeLessThan(0.0125);
    expect(b.measures.footprintKept!).toBeCloseTo(1, 1);
    // Feet stand inside the base: it tips over sooner.
    expect(b.balance!.tipping!.front).toBeLessThan(a.balance!.tipping!.front);
    const W = on.massKg * GRAVITY;
    console.log(`feet of the tote carry ${b.feet!.map((f) => f.newtons.toFixed(3))} of ${W.toFixed(3)} N`);
    expect(Math.abs(b.feet!.reduce((sum, f) => sum + f.newtons, 0) / W - 1)).toBeLessThan(1e-3);
  });

  it('every fault with its path', () => {
    expect(
      faultsOf({
        a: { kind: 'rivet', panel: 'plaet', at: [['0', '0']] },
        b: { kind: 'other', panel: 'plate', at: [['0 mm', '0 mm']] },
        c: { kind: 'rivet', panel: 'plate', at: [['300 mm', '0 mm']] },
        d: { kind: 'stud', panel: 'plate', at: [['0 mm', '0 mm']], height: '8 mm' },
        e: { kind: 'foot', panel: 'plate', at: [['0 mm', '0 mm']], size: '2 m' },
        f: { kind: 'foot', panel: 'plate', at: [] },
      }),
    ).toEqual(['hardware.f.at', 'hardware.a.panel', 'hardware.b.mass', 'hardware.c.at[0]', 'hardware.d.height', 'hardware.e.size']);
  });

  it('feet sit on the mesh point nearest to their place', () => {
    const bag = board({ feet: { kind: 'foot', panel: 'plate', at: corners([1, 1]) } }),
      mesh = meshPanels(bag, draftPanels(bag), { edgeLength: 0.02 }),
      [foot] = feetOf(bag, mesh),
      { verts, flat } = mesh.panelVerts[0]!,
      i = verts.indexOf(foot!.vertex);
    expect(Math.hypot(flat[2 * i]! - 0.08, flat[2 * i + 1]! - 0.08)).toBeLessThan(0.0125);
  });
});

/** Centre of mass of a meshed bag at its drafted place. */
function masses(bag: ReturnType<typeof board>, edgeLength: number): { centre: readonly [number, number] } {
  const draft = draftPanels(bag),
    mesh = meshPanels(bag, draft, { edgeLength }),
    laminates = layUp(bag, 'o', 'mid'),
    placed = placePanels(bag, draft, mesh).positions,
    { mass } = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placed, bag.stances[0]!);
  let [m, x, y] = [0, 0, 0];
  mass.forEach((own, v) => {
    m += own;
    x += own * placed[3 * v]!;
    y += own * placed[3 * v + 1]!;
  });
  return { centre: [x / m, y / m] };
}

/** Loads of three feet: their sum is W, their moments those of W at the centre of mass. */
function solve3(at: readonly (readonly number[])[], [cx, cy]: readonly [number, number], W: number): number[] {
  const [[x1, y1], [x2, y2], [x3, y3]] = at as [number[], number[], number[]] as unknown as [[number, number], [number, number], [number, number]],
    det = (x2 - x1) * (y3 - y1) - (x3 - x1) * (y2 - y1),
    b = ((cx - x1) * (y3 - y1) - (x3 - x1) * (cy - y1)) / det,
    c = ((x2 - x1) * (cy - y1) - (cx - x1) * (y2 - y1)) / det;
  return [W * (1 - b - c), W * b, W * c];
}
