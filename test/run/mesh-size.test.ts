import { describe, expect, it } from 'vitest';
import { BagError, coarseEdge, parseBag, prepare, sew, templates, usualEdge } from '../../src/index.ts';
import { tooFine } from '../../src/run/mesh-size.ts';

const bags = templates().map((t) => ({ name: t.name, bag: parseBag(t.text) }));

describe('the usual mesh', () => {
  it.each(bags)('$name has 1500 to 2300 points, whatever its size', ({ name, bag }) => {
    const edge = usualEdge(bag),
      points = sew(bag, edge).mesh.vertexCount;
    expect(points, `${name}: ${points} points at ${edge * 1000} mm, about 2000 expected; narrow panels and curves have more of them`).toBeGreaterThanOrEqual(
      1500,
    );
    expect(points, `${name}: ${points} points at ${edge * 1000} mm`).toBeLessThanOrEqual(2300);
  });

  it.each(bags)('$name has 450 to 900 points on the coarse mesh on which changes are ranked', ({ name, bag }) => {
    const points = sew(bag, coarseEdge(bag)).mesh.vertexCount;
    expect(points, `${name}: ${points} points at ${coarseEdge(bag) * 1000} mm, about 650 expected`).toBeGreaterThanOrEqual(450);
    expect(points, `${name}: ${points} points`).toBeLessThanOrEqual(900);
  });

  it('is what a bag is meshed with when nobody asks, to a whole tenth of a millimetre', () => {
    const { bag } = bags.find((b) => b.name === 'boxed-tote')!;
    expect(prepare(bag).edgeLength).toBe(usualEdge(bag));
    expect(usualEdge(bag) * 1e4, 'tenths of a millimetre').toBeCloseTo(Math.round(usualEdge(bag) * 1e4), 9);
  });

  it('a bag with half its sizes has half the edge, and none has less than 5 mm', () => {
    const edgeOf = (name: string, k: number): number => {
      const file = JSON.parse(templates().find((t) => t.name === name)!.text) as { parameters: Record<string, unknown> };
      for (const [name, value] of Object.entries(file.parameters))
        if (/^[\d.]+ (?:mm|in)$/.test(String(value))) file.parameters[name] = `${Number.parseFloat(String(value)) * k} ${String(value).slice(-2)}`;
      return usualEdge(parseBag(JSON.stringify(file)));
    };
    expect(edgeOf('boxed-tote', 0.5) / edgeOf('boxed-tote', 1), 'edge of the smaller bag over the larger one').toBeCloseTo(0.5, 1);
    expect(edgeOf('drawstring-pouch', 0.5), 'a pouch of half the size, m').toBe(0.005);
  });
});

describe('a mesh too fine for the memory', () => {
  it('boxed-tote at 0.5 mm, over a million points, is refused at once with the points, the memory and the finest edge that is taken', () => {
    const { bag } = bags.find((b) => b.name === 'boxed-tote')!;
    prepare(bag, { edgeLength: 0.04 });
    const begun = process.cpuUsage().user;
    let said = '';
    try {
      prepare(bag, { edgeLength: 0.0005 });
    } catch (error) {
      if (!(error instanceof BagError)) throw error;
      said = error.faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`).join('\n');
    }
    const took = (process.cpuUsage().user - begun) / 1000;
    expect(said).toMatch(
      /^mesh: 0\.5 mm, about 1[78]00000 points that need about \d\d GB of memory; an edge length of at least 2\.\d mm for this bag, which needs 2 GB$/,
    );
    expect(took, 'CPU ms; meshing it would take a minute').toBeLessThan(1000);
  });

  it('the edge it names is taken: nothing stands against it', () => {
    const { bag } = bags.find((b) => b.name === 'drawstring-pouch')!;
    const said = faultsAt(bag, 0.0005),
      least = Number(/at least ([\d.]+) mm/.exec(said)![1]) / 1000;
    expect(faultsAt(bag, least - 0.0001)).toContain('GB of memory');
    expect(tooFine(bag, least), `${least * 1000} mm`).toBeNull();
  });
});

function faultsAt(bag: Parameters<typeof prepare>[0], edgeLength: number): string {
  try {
    prepare(bag, { edgeLength });
  } catch (error) {
    if (error instanceof BagError) return error.faults.map((f) => `${f.got}; ${f.expected}`).join();
    throw error;
  }
  return 'taken';
}
