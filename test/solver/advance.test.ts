import { describe, expect, it } from 'vitest';
import { seeded } from '../../src/numerics/index.ts';
import { staysApart } from '../../src/solver/contact/cloth/advance.ts';
import { edgeEdge, vertexTriangle } from '../../src/solver/contact/cloth/closest.ts';

const VERTS = [0, 1, 2, 3];
const SAMPLES = 1000;

/** Least distance of the pair at SAMPLES places of its way. */
function leastOnTheWay(x: Float64Array, d: Float64Array, isEdge: boolean): number {
  const out = new Float64Array(8);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= SAMPLES; k++) {
    const y = x.map((v, i) => v + (k / SAMPLES) * d[i]!);
    if (isEdge) edgeEdge(y, 0, 1, 2, 3, out);
    else vertexTriangle(y, 0, 1, 2, 3, out);
    least = Math.min(least, out[0]!);
  }
  return least;
}

describe('a pair followed along its straight ways', () => {
  it('2000 random pairs: none said to stay a fifth of its distance apart comes nearer; of those said to meet 95 % do, to a tenth', () => {
    const chance = seeded(7),
      t = new Float64Array(4).fill(1),
      out = new Float64Array(8);
    let apart = 0,
      met = 0,
      wary = 0,
      nearest = Number.POSITIVE_INFINITY;
    for (let n = 0; n < 2000; n++) {
      const isEdge = n % 2 === 0,
        x = Float64Array.from({ length: 12 }, () => chance()),
        size = 2 * chance(),
        d = Float64Array.from({ length: 12 }, () => size * (chance() - 0.5));
      if (isEdge) edgeEdge(x, 0, 1, 2, 3, out);
      else vertexTriangle(x, 0, 1, 2, 3, out);
      const least = 0.2 * out[0]!,
        sampled = leastOnTheWay(x, d, isEdge);
      if (staysApart({ x, d, t }, VERTS, 0, isEdge, least)) {
        apart++;
        nearest = Math.min(nearest, sampled / least);
      } else if (sampled > 1.1 * least) wary++;
      else met++;
    }
    console.log(`${apart} stay apart, the nearest at ${nearest.toFixed(4)} of what must be left; ${met} meet, ${wary} told to that do not`);
    expect(nearest).toBeGreaterThanOrEqual(1);
    expect(met).toBeGreaterThan(100);
    expect(wary / (met + wary)).toBeLessThan(0.05);
  });

  it('an edge of 15 mm at 0.05 mm over another that rolls by 10 deg about it meets nothing, though its end goes 0.65 mm below the plane between them', () => {
    const h = 5e-5,
      c = Math.cos(Math.PI / 36),
      s = Math.sin(Math.PI / 36),
      L = 7.5e-3;
    // Tilted by 5 degrees one way, then the other.
    const x = Float64Array.of(-L * c, 0, h + L * s, L * c, 0, h - L * s, 0, -L, 0, 0, L, 0),
      d = Float64Array.of(0, 0, -2 * L * s, 0, 0, 2 * L * s, 0, 0, 0, 0, 0, 0);
    const t = new Float64Array(4).fill(1);
    expect(leastOnTheWay(x, d, true)).toBeGreaterThan(0.9 * h);
    expect(staysApart({ x, d, t }, VERTS, 0, true, 0.2 * h)).toBe(true);
    // The same with the whole edge going down by its distance.
    const down = d.map((v, i) => v - (i === 2 || i === 5 ? h : 0));
    expect(staysApart({ x, d: down, t }, VERTS, 0, true, 0.2 * h)).toBe(false);
    // A vertex held back changes the way: then the end goes through.
    t[0] = 0;
    const through = Float64Array.of(0, 0, 0, 0, 0, -4 * L * s, 0, 0, 0, 0, 0, 0);
    expect(staysApart({ x, d: through, t }, VERTS, 0, true, 0.2 * h)).toBe(false);
  });
});
