import { describe, expect, it } from 'vitest';
import { coarseEdge, parseBag, prepare, sew, templates, usualEdge } from '../../src/index.ts';

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
