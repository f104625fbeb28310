/** What a load does to the cloth, against closed forms, and a load that no such cloth carries. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import type { BagError } from '../../src/bag/types.ts';
import { STRAIN_LIMIT, shearsFreely, strainOf, stretchOf } from '../../src/measures/strain.ts';
import { resultRecord } from '../../src/report/json.ts';
import { strainReason } from '../../src/report/strain.ts';
import { textReport } from '../../src/report/text.ts';
import { previewBag } from '../../src/run/index.ts';

const rest = Float64Array.of(0.01, 0.02, 0.04, 0.025, 0.02, 0.05);
/** The triangle carried by F (columns of 3) and a shift. */
const carried = (f1: readonly number[], f2: readonly number[]): Float64Array =>
  Float64Array.from([0, 1, 2].flatMap((v) => [0, 1, 2].map((k) => 0.3 + f1[k]! * rest[2 * v]! + f2[k]! * rest[2 * v + 1]!)));
const strain = (f1: readonly number[], f2: readonly number[], woven: boolean) => strainOf(...stretchOf(rest, 0, carried(f1, f2), 0, 1, 2), woven);

describe('strain of one triangle', () => {
  it('12 % along the warp, or the weft, is 12 %, wherever the triangle lies', () => {
    for (const woven of [true, false]) {
      expect(strain([0, 0, 1.12], [1, 0, 0], woven)).toBeCloseTo(0.12, 12);
      expect(strain([0, 1, 0], [0, 0, -1.12], woven)).toBeCloseTo(0.12, 12);
    }
  });

  it('a trellis sheared by 20 deg strains no yarn; an even sheet is strained by sqrt(1 + sin 20 deg) - 1 = 15.85 %', () => {
    const [c, s] = [Math.cos(Math.PI / 9), Math.sin(Math.PI / 9)];
    expect(strain([1, 0, 0], [s, c, 0], true)).toBeCloseTo(0, 12);
    // C = [1 s; s 1] has the eigenvalues 1 +- s.
    expect(strain([1, 0, 0], [s, c, 0], false)).toBeCloseTo(Math.sqrt(1 + s) - 1, 12);
  });

  it('turning alone is no strain', () => {
    expect(Math.abs(strain([0, 0.6, 0.8], [0, -0.8, 0.6], false))).toBeLessThan(1e-12);
  });

  it('an even sheet (C66 = (C11 - C12)/2) does not shear freely, one with a tenth of that does', () => {
    expect(shearsFreely([1000, 1000, 300, 350], 0)).toBe(false);
    expect(shearsFreely([1000, 1000, 300, 35], 0)).toBe(true);
  });
});

type Plain = Record<string, unknown>;
const file = (): Plain => JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
const muslin = (stance: Plain, more: Plain = {}): Plain => ({
  ...file(),
  stacks: { cotton: ['muslin'], web: ['web_cotton'] },
  options: { cotton: { 'every panel': 'cotton' } },
  straps: { handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] } },
  stances: { loaded: stance },
  ...more,
});
const run = (doc: Plain) => previewBag(parseBag(doc), { bands: ['mid'], edgeLength: 0.03, skipNudge: true });
/** Every number of a record, for one that is not finite. */
const numbers = (v: unknown): number[] =>
  typeof v === 'number' ? [v] : v !== null && typeof v === 'object' ? Object.values(v).flatMap((w) => numbers(w)) : [];

describe('60 kg in a tote of thin muslin', () => {
  for (const kind of ['standing', 'hung'])
    it(`${kind}: ends with the seam, panel or strap that is past the limit and its figure, no NaN, its last state kept`, () => {
      const r = run(muslin({ kind, load: '60 kg' }));
      const { strain: s, positions, measures } = r.runs[0]!;
      console.log(`${kind}: ${r.runs[0]!.status}; ${r.verdict.reason}`);
      expect(positions.every(Number.isFinite)).toBe(true);
      expect([...numbers(measures), ...numbers(s)].every(Number.isFinite)).toBe(true);
      expect(s!.limit).toBe(STRAIN_LIMIT);
      const worst = s!.parts.reduce((a, b) => (b.strain > a.strain ? b : a));
      expect(worst.strain).toBeGreaterThan(STRAIN_LIMIT);
      expect(r.verdict.details.at(-1)).toContain('Stretched past 5 % at single places (');
      expect(r.verdict.details.at(-1)).toContain(worst.name);
      expect(textReport(r)).toContain('common practice, no source');
      expect(textReport(r)).not.toMatch(/\bsafe\b/i);
      expect((resultRecord(r).strain as { parts: unknown[] }).parts).toHaveLength(s!.parts.length);
    });

  it('a strap carries half of the weight and more over its stiffness: strain = pull / EA, checked to 1e-9 against its own figures', () => {
    const r = run(muslin({ kind: 'hung', from: 'bar', load: '2 kg' }));
    const straps = r.runs[0]!.strain!.parts.filter((p) => p.kind === 'strap');
    const pulls = r.runs[0]!.hung!.straps;
    expect(straps.map((p) => p.name)).toEqual(pulls.map((p) => p.name));
    // One stack, one width: all straps are equally stiff.
    const stiffness = straps.map((p, i) => pulls[i]!.tension / p.strain);
    for (const k of stiffness) expect(Math.abs(k / stiffness[0]! - 1)).toBeLessThan(1e-9);
    expect(stiffness[0]).toBeGreaterThan(0);
  });
});

it('an empty tote in muslin is not past the limit; "largest strain" of the file decides, and its words say so', () => {
  const empty = run(muslin({ kind: 'standing' }));
  expect(strainReason(empty.runs)).toBe('');
  const heavy = muslin({ kind: 'standing', load: '60 kg' }, { 'largest strain': 1 });
  const lax = run(heavy);
  expect(lax.runs[0]!.strain).toMatchObject({ limit: 1, stated: true });
  expect(lax.verdict.details.join(' ')).not.toContain('Stretched past');
});

it('a largest strain of 0, of 2 and of "much" is refused with its path', () => {
  for (const strain of [0, 2, 'much']) {
    try {
      parseBag({ ...file(), 'largest strain': strain });
      expect.unreachable(`accepted ${strain}`);
    } catch (error) {
      expect((error as BagError).faults.map((f) => f.path)).toEqual(['largest strain']);
    }
  }
});
