import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { EDGE } from '../../src/app/page/store.ts';
import { type PackedResults, packResults, unpackResults } from '../../src/app/settled/pack.ts';
import { parseBag, settleBag } from '../../src/index.ts';

const source = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const packed = JSON.parse(readFileSync(new URL('../../src/app/settled/harbour-tote.json', import.meta.url), 'utf8')) as PackedResults;
const bag = parseBag(source);
const shipped = unpackResults(packed);

describe('the states that the page opens with', () => {
  it('belong to the example as it is now, to the quick mesh, to all its options in order, with the whole band each', () => {
    expect(packed.bag).toBe(createHash('sha256').update(source).digest('hex'));
    expect(packed.edgeLength).toBe(EDGE.quick);
    expect(shipped.map((r) => r.option)).toEqual(bag.options.map((o) => o.name));
    for (const { runs, stance } of shipped) {
      expect(runs.map((r) => r.band)).toEqual(['low', 'mid', 'high']);
      expect(stance).toBe(bag.stances[0].name);
    }
  });

  // The stiffest and a soft one: what the solver, the measures or the presets make of them today. All of them: npm run bench:settled.
  for (const [option, bands] of [
    ['vegetable-tanned leather', ['low', 'mid', 'high']],
    ['canvas, fleece, poplin', ['mid']],
  ] as const) {
    it(`${option}, settled now (${bands.join(', ')}), are the shipped ones: shapes within 1e-6 m, every figure to 1e-6 of itself`, () => {
      const now = settleBag(bag, { option, stance: bag.stances[0].name, edgeLength: EDGE.quick, bands });
      const old = shipped.find((s) => s.option === option)!;
      expect(old.mesh.triVerts).toEqual(now.mesh.triVerts);
      for (const run of now.runs) {
        const then = old.runs.find((r) => r.band === run.band)!;
        expect([then.status, then.stable, then.inward]).toEqual([run.status, run.stable, run.inward]);
        expect(Math.max(...run.positions.map((x, i) => Math.abs(x - then.positions[i])))).toBeLessThan(1e-6);
        for (const [name, value] of Object.entries(run.measures)) {
          const own = (then.measures as unknown as Record<string, unknown>)[name];
          if (typeof value === 'number') expect(Math.abs((own as number) - value)).toBeLessThan(1e-6 * Math.max(1, Math.abs(value)));
          else expect(own).toEqual(value);
        }
      }
    });
  }

  it('pack and unpack: a result comes back with its kinds of arrays, figures to the last digit and shapes to float32', () => {
    const [first] = shipped;
    const again = unpackResults(JSON.parse(JSON.stringify(packResults('', 1, [first]))) as PackedResults)[0];
    expect(again).toEqual(first);
    expect(first.runs[0].positions).toBeInstanceOf(Float64Array);
    expect(() => packResults('', 1, [{ ...first, massKg: Number.NaN }])).toThrow('massKg is NaN');
    expect(() => packResults('', 1, [first, { ...first, drafted: new Float64Array(3) }])).toThrow('differ in their mesh');
  });
});
