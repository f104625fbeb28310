/** A sweep told as it goes, with rigid things inside, and the single changes of a bag that hangs level nowhere. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/parse.ts';
import { hangText } from '../../src/report/index.ts';
import type { AnchorSweep } from '../../src/report/sweep/types.ts';
import { singleChanges, sweepAnchors, usualDistances } from '../../src/run/index.ts';
import { drop } from '../../src/solver/rigid.ts';

type Plain = Record<string, unknown>;

/** The demo tote, 300 mm wide, in a stiff sheet with a pair of handles 90 mm in. */
function tote(stance: Plain) {
  const doc = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  doc.stacks = {
    web: ['web_cotton'],
    plain: { mass: '1 kg/m2', D11: '2 N.m', D22: '2 N.m', D66: '1 N.m', C11: '1 MN/m', C22: '1 MN/m', C66: '0.4 MN/m' },
  };
  doc.options = { stiff: { 'every panel': 'plain' } };
  doc.straps = {
    handle: { width: '25 mm', length: '560 mm', stack: 'web', from: { panel: 'front', 'from left': '90 mm' }, to: 'mirrored', 'also on': ['back'] },
  };
  doc.stances = { hung: { kind: 'hung', from: 'bar', ...stance } };
  return parseBag(doc);
}
const coarse = { edgeLength: 0.035 };

it('told as it goes: as drawn, then 90 mm (within the usual 75 to 100 mm, and not hung again), then 60 and 120 mm; kept in order of distance', () => {
  const told: AnchorSweep[] = [],
    runs = new Set<string>();
  const sweep = sweepAnchors(tote({}), { ...coarse, from: 0.06, to: 0.12, steps: 3, onStep: (s) => told.push(s), onProgress: ({ run }) => runs.add(run) });
  expect(told.map((t) => t.steps.map((s) => s.distance))).toEqual([[], [0.09], [0.06, 0.09], [0.06, 0.09, 0.12]]);
  expect([...runs]).toEqual(['as drawn', '60 mm, 2 of 3', '120 mm, 3 of 3']);
  expect(told.at(-1)).toEqual(sweep);
  expect(sweep.steps.map((s) => Math.round(1000 * s.apart!))).toEqual([180, 120, 60]);
  expect(sweep.panelWidth).toBeCloseTo(0.3, 9);
});

it('distances tried by default on a width of 300 mm: 50 to 100 mm, 200 to 100 mm apart, not from the edge on', () => {
  expect(usualDistances(tote({}), 'handle')).toEqual({ from: 0.05, to: 0.1 });
});

describe('a bottle of 0.8 kg inside', () => {
  it('is hung with it, told in the table, and carried: 7.8 N more than empty, within 1 %', () => {
    const bottle = { thing: 'bottle', mass: '0.8 kg', diameter: '70 mm', length: '180 mm' };
    const [with_, without] = [{ contents: [bottle] }, {}].map((stance) => sweepAnchors(tote(stance), { ...coarse, from: 0.09, to: 0.09, steps: 1, drop })) as [
      AnchorSweep,
      AnchorSweep,
    ];
    const text = hangText({ anchors: with_, load: null, stitching: null });
    console.log(text);
    expect(with_.drawn.step.status).not.toBe('refused');
    expect(text).toMatch(/Anchors moved, a bottle of 800 g .* inside/);
    expect(text).not.toContain('nothing inside');
    if (with_.drawn.step.status === 'settled')
      expect(Math.abs((with_.drawn.step.weight! - without.drawn.step.weight!) / (0.8 * 9.80665) - 1)).toBeLessThan(0.01);
    // Not at rest: no digit in its row, and why.
    else expect(text).toMatch(/as drawn at 90 mm \(3 9\/16 in\) +(- +){6}NOT at rest/);
  });
});

it('the market tote under 18 kg, whose mouth sags by more than 5 %: 3 kinds of single change, longer straps and lighter loads each ended at the first that hangs level, ranked', () => {
  const bag = parseBag(
      readFileSync(new URL('../../demos/market-tote.bag.json', import.meta.url), 'utf8')
        .replace('"9 kg"', '"18 kg"')
        .replace('"wanted": "soft"', '"wanted": "structured"'),
    ),
    o = { option: 'canvas, base board', stance: 'hung with 9 kg', edgeLength: 0.04 },
    plain = sweepAnchors(bag, { ...o, from: 0.09, to: 0.09, steps: 1 }).drawn.step,
    changes = singleChanges(bag, o);
  console.log(
    [
      `as drawn: ${plain.status} ${plain.mouthSag}`,
      ...changes.map((c) => `${c.change}: ${c.step.status}, mouth sag ${c.step.mouthSag}, base ${c.step.baseSag}, level ${c.step.level}`),
    ].join('\n'),
  );
  expect([plain.status, plain.level]).toEqual(['settled', false]);
  expect([...new Set(changes.map((c) => c.kind))].sort()).toEqual(['load', 'rim', 'strap']);
  const order = changes.map((c) => (c.step.status !== 'settled' ? 2 : c.step.level ? 0 : 1));
  expect(order).toEqual([...order].sort());
  for (const kind of ['strap', 'load']) expect(changes.filter((c) => c.kind === kind && c.step.level).length).toBeLessThanOrEqual(1);
  // The hem and the tape are in the bag that was hung: heavier by their own cloth.
  const rims = changes.filter((c) => c.kind === 'rim' && c.step.status === 'settled');
  expect(rims.length).toBeGreaterThan(0);
  for (const c of rims) expect(c.step.weight!).toBeGreaterThan(plain.weight!);
});
