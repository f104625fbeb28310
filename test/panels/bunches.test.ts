import { expect, test } from 'vitest';
import { BagError, parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { EDGE_SEAM } from '../../src/mesh/types.ts';
import { checkPattern } from '../../src/panels/check.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { acrossKnots } from '../../src/panels/seams.ts';
import { flatSvg } from '../../src/pattern/flat.ts';
import { placePanels } from '../../src/placement/place-panels.ts';

/** Band of 400 mm; skirt gathered 2 to 1 between notches at 25 % and 50 %, 3 to 1 between 75 % and 90 %: 400 + 100 + 120 mm. */
const file = (gather: unknown, cut = '620 mm') => ({
  slumpline: 1,
  panels: {
    band: {
      role: 'body',
      rectangle: { width: '400 mm', height: '40 mm' },
      open: ['top'],
      marks: { a: 'bottom[25%]', b: 'bottom[50%]', c: 'bottom[75%]', d: 'bottom[90%]', off: ['200 mm', '20 mm'] },
    },
    skirt: { role: 'body', rectangle: { width: cut, height: '120 mm' }, open: ['bottom'], marks: { s: 'top[50%]' } },
  },
  seams: {
    'band seam': { join: ['band.left', 'band.right'] },
    'skirt seam': { join: ['skirt.left', 'skirt.right'] },
    G: { join: ['band.bottom', 'skirt.top'], gather },
  },
  stacks: { plain: ['lawn'] },
});
const TWO = [
  { from: 'band.c', to: 'band.d', ratio: 3 },
  { from: 'band.b', to: 'band.a', ratio: '4/2' },
];

test('a gather bunched between notches: parse -> print -> parse is the identity', () => {
  const first = parseBagDocument(JSON.stringify(file(TWO)));
  const again = parseBagDocument(printBag(first.document));
  expect(again.document.value).toEqual(file(TWO));
  expect(again.bag).toEqual(first.bag);
  expect(first.bag.seams[2].gather).toBe(3);
});

test('the correspondence is piecewise: 100 mm plain, 100 onto 200, 100 plain, 60 onto 180, 40 plain, each to 1e-9', () => {
  const bag = parseBag(file(TWO));
  const seam = draftPanels(bag).seams[2];
  const [band, skirt] = seam.sides.map((s) => s.length);
  const want = [
    [0, 0],
    [100, 100],
    [200, 300],
    [300, 400],
    [360, 580],
    [400, 620],
  ];
  expect(seam.knots.map(([a, b]) => [Math.round(a * band * 1e12) / 1e9, Math.round(b * skirt * 1e12) / 1e9])).toEqual(want);
  expect(acrossKnots(seam.knots, 0.375, 0) * skirt).toBeCloseTo(0.2, 9);
});

test('notches on the fuller side say the same: 200 mm of it gathered 2 to 1 take 100 mm of the band', () => {
  const source = file([{ from: 'skirt.x', to: 'skirt.y', ratio: 2 }], '500 mm');
  (source.panels.skirt.marks as Record<string, unknown>) = { x: ['100 mm', '120 mm'], y: ['300 mm', '120 mm'] };
  const seam = draftPanels(parseBag(source)).seams[2];
  const lengths = seam.bunches?.map((q) => seam.sides.map((s, k) => (q.to[k] - q.from[k]) * s.length));
  expect(lengths?.[0][0]).toBeCloseTo(0.1, 9);
  expect(lengths?.[0][1]).toBeCloseTo(0.2, 9);
});

test('the check names the ratio of every bunch, and warns of both when they do not add up to the drawn length', () => {
  const bag = parseBag(file(TWO));
  const sound = checkPattern(bag, draftPanels(bag));
  expect(sound.faults).toEqual([]);
  expect(sound.notes.filter((f) => f.kind === 'gather').map((f) => f.text)).toEqual([
    'Seam G is gathered 2.00 to 1 between band.b and band.a: 200 mm onto 100 mm.',
    'Seam G is gathered 3.00 to 1 between band.c and band.d: 180 mm onto 60 mm.',
  ]);
  const short = parseBag(file(TWO, '540 mm'));
  const found = checkPattern(short, draftPanels(short)).warnings.filter((f) => f.kind === 'gather');
  expect(found.map((f) => f.figure)).toEqual(['ratio 1.74', 'ratio 2.61']);
});

test('overlapping bunches are one fault of the pattern', () => {
  const bag = parseBag(
    file([
      { from: 'band.a', to: 'band.c', ratio: 2 },
      { from: 'band.b', to: 'band.d', ratio: 2 },
    ]),
  );
  expect(checkPattern(bag, draftPanels(bag)).faults.map((f) => f.text)).toEqual(['In seam G one gather begins before the one next to it ends.']);
});

test('unknown marks, marks off the seam, marks on both sides and ratios under 1 are all reported with their paths', () => {
  const faults = (gather: unknown): readonly string[] => {
    try {
      parseBag(file(gather));
    } catch (error) {
      if (error instanceof BagError) return error.faults.map((f) => f.path);
      throw error;
    }
    return [];
  };
  expect(
    faults([
      { from: 'band.nowhere', to: 'nobody.a', ratio: 0.5 },
      { from: 'band.off', to: 'band.a', ratio: 2 },
      { from: 'band.a', to: 'skirt.s', ratio: 2 },
      { from: 'band.a', to: 'band.a', ratio: 2 },
    ]),
  ).toEqual([
    'seams.G.gather[0].ratio',
    'seams.G.gather[0].from',
    'seams.G.gather[0].to',
    'seams.G.gather[1].from',
    'seams.G.gather[2].to',
    'seams.G.gather[3].to',
  ]);
});

test('sewn up, cloth is gathered where the notches say: plain stretches to 1e-6, bunches 2 and 3 to 1, 0 crossings, and the flat view shows both', () => {
  const bag = parseBag(file(TWO));
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength: 0.015 });
  const seen = new Map<string, number>();
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM || mesh.edgeSeam[e] !== 2) continue;
    const [a, b] = [0, 1].map((side) => {
      const [t, k] = [mesh.edgeTris[2 * e + side], mesh.edgeLocal[2 * e + side]];
      const [i, j] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
      return Math.hypot(mesh.triFlat[j] - mesh.triFlat[i], mesh.triFlat[j + 1] - mesh.triFlat[i + 1]);
    });
    const ratio = (Math.max(a, b) / Math.min(a, b)).toFixed(6);
    seen.set(ratio, (seen.get(ratio) ?? 0) + Math.min(a, b));
  }
  expect([...seen.keys()].sort()).toEqual(['1.000000', '2.000000', '3.000000']);
  expect(seen.get('3.000000')).toBeCloseTo(0.06, 9);
  expect(placePanels(bag, draft, mesh).crossings).toBe(0);
  expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
  expect(flatSvg(bag, draft).match(/gathered [23]\.00 to 1 between/g)).toHaveLength(2);
});
