import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { BagError, newBag, parseBag } from '../../src/bag/index.ts';
import { changesSvg, changesText } from '../../src/report/changes/index.ts';
import { trimsToTry } from '../../src/run/change-trims.ts';
import { rankChanges } from '../../src/run/changes.ts';
import { Cancelled, previewBag } from '../../src/run/index.ts';
import { ran } from '../cli/desk.ts';

const text = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const tote = JSON.parse(text);
const LEATHER = 'vegetable-tanned leather';
const edgeLength = 0.03;

it('every change is what a bag file with that stack written into it gives, to the last digit', () => {
  const report = rankChanges(parseBag(tote), { option: LEATHER, edgeLength });
  expect(report.runs).toBe(report.changes.length + 1);
  const fleece = report.changes.find((c) => c.material === 'fleece')!;
  expect(fleece.panels).toEqual(['front', 'back', 'left', 'right']);
  const veg = { material: 'veg20', thickness: '1.6-2.0 mm' };
  const written = {
    ...tote,
    stacks: { ...tote.stacks, backed: [veg, { fused: 'fleece' }] },
    options: { backed: { 'every panel': 'backed', base: 'veg leather' } },
  };
  const same = previewBag(parseBag(written), { bands: ['mid'], edgeLength, skipNudge: true });
  expect(fleece.effect.rimHeight).toBe(same.runs[0]!.measures.rimHeight);
  expect(fleece.effect.massKg).toBe(same.massKg);
  expect(fleece.effect.margin).toBe(same.verdict.margin);
});

it('of changes that all meet what is wanted the lightest comes first: a hide 25 % thinner weighs a quarter less', () => {
  const { changes, asDrawn } = rankChanges(parseBag(tote), { option: LEATHER, edgeLength });
  const met = changes.filter((c) => c.effect.meetsWanted === true).map((c) => c.effect.massKg);
  expect(met.length).toBeGreaterThan(3);
  expect(met).toEqual([...met].sort((a, b) => a - b));
  const thinner = changes.find((c) => c.change.includes('thinner'))!;
  expect(thinner.effect.massKg / asDrawn.massKg).toBeCloseTo(0.75, 9);
});

it('a cord, boning or wire in the rim, piped seams and feet are tried, each as a file with it written in gives it; what is there is not tried again, and feet not where it hangs', () => {
  const trims = (bag: Parameters<typeof rankChanges>[0], stance?: string) =>
    trimsToTry(bag, bag.stances.find((s) => s.name === stance) ?? bag.stances[0]!).map((t) => t.change);
  const bag = parseBag(tote);
  expect(trims(bag)).toEqual([
    'pipe the rim with paper cord of 5 mm',
    'run plastic boning of 8 mm along the rim',
    'put plastic boning of 8 mm, bent to the mouth, into the rim',
    'put spring wire of 1.5 mm, bent to the mouth, into the rim',
    'pipe the seams up to the mouth with paper cord of 5 mm',
    'pipe the seam round the base with paper cord of 5 mm',
    'set it on 4 feet',
  ]);
  const { changes, asDrawn } = rankChanges(bag, { option: LEATHER, edgeLength });
  const feet = changes.find((c) => c.material === 'foot')!,
    { panel, at } = trimsToTry(bag, bag.stances[0]!).find((t) => t.material === 'foot')!.hardware![0]!;
  expect(feet.effect.massKg - asDrawn.massKg).toBeCloseTo(0.012, 12);
  const rim = { along: bag.panels.flatMap((p) => p.openings.map((o) => `${p.name}.${o}`)), kind: 'paper cord', size: '5 mm' };
  const inFile = (more: object) => previewBag(parseBag({ ...tote, ...more }), { option: LEATHER, bands: ['mid'], edgeLength, skipNudge: true });
  const onFeet = inFile({ hardware: { feet: { kind: 'foot', panel, at: at.map((p) => p.map((v) => `${v * 1000} mm`)) } } }),
    piped = inFile({ members: { rim } });
  expect(feet.effect.rimHeight).toBeCloseTo(onFeet.runs[0]!.measures.rimHeight!, 9);
  expect(changes.find((c) => c.change.startsWith('pipe the rim'))!.effect).toMatchObject({
    rimHeight: piped.runs[0]!.measures.rimHeight,
    massKg: piped.massKg,
  });
  const fitted = parseBag(newBag('piped-tote'));
  expect(trims(fitted)).toEqual([]);
  expect(trims(fitted, 'hung')).toEqual([]);
  expect(trims(parseBag(newBag('boxed-tote')), 'hung')).not.toContain('set it on 4 feet');
});

it('for a slouchy bag only leaving the board out gives way, and too far; a layer that is there is not tried again, each inner layer is left out once', () => {
  const report = rankChanges(parseBag({ ...tote, wanted: 'slouchy' }), { option: 'canvas, board, poplin', edgeLength });
  expect(report.asDrawn).toMatchObject({ meetsWanted: false, fit: 'too stiff' });
  expect(report.changes.filter((c) => c.effect.word !== 'holds').map((c) => [c.change, c.effect.word, c.effect.fit])).toEqual([
    ['leave out heavy nonwoven board', 'slumps', 'too soft'],
  ]);
  const names = report.changes.map((c) => c.change);
  expect(names.some((n) => n.startsWith('fuse heavy nonwoven board'))).toBe(false);
  expect(names.filter((n) => n.startsWith('leave out')).length).toBe(3);
  expect(new Set(names).size).toBe(names.length);
});

it('unknown names are faults with their paths; a run can be stopped', () => {
  expect(() => rankChanges(parseBag(tote), { option: 'x', stance: 'y' })).toThrow(BagError);
  expect(() => rankChanges(parseBag(tote), { option: LEATHER, edgeLength, onProgress: () => false })).toThrow(Cancelled);
});

it('as text and picture: one row a change, the cost in runs said, never the word safe', () => {
  const report = rankChanges(parseBag(tote), { option: LEATHER, edgeLength });
  const words = changesText(report);
  for (const c of report.changes) expect(words).toContain(c.change);
  expect(words).toContain(`${report.runs} runs`);
  expect(words).not.toMatch(/\bsafe\b/i);
  const svg = changesSvg(report);
  expect(svg.match(/<text/g)!.length).toBeGreaterThanOrEqual(2 * report.changes.length + 3);
});

it('on the command line: exit 0 and two files; a wrong option exits 2 and writes nothing', async () => {
  const files = { 'tote.bag.json': text };
  const good = await ran(['change', 'tote.bag.json', '--option', LEATHER, '--mesh', '30', '--out', 'out'], files);
  expect(good.code).toBe(0);
  expect(Object.keys(good.files).sort()).toEqual(['out/change.json', 'out/change.svg', 'tote.bag.json']);
  expect(JSON.parse(good.files['out/change.json']!).changes.length).toBeGreaterThan(5);
  const bad = await ran(['change', 'tote.bag.json', '--option', 'leather', '--out', 'out'], files);
  expect(bad.code).toBe(2);
  expect(bad.err).toContain('this bag has');
  expect(Object.keys(bad.files)).toEqual(['tote.bag.json']);
});
