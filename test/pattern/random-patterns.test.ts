import { expect, test } from 'vitest';
import { BagError } from '../../src/bag/index.ts';
import type { Bag } from '../../src/bag/types.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { CUT_DEFAULTS, cutList, cutPattern, makeSheet, notchCards, strapCards, tilesOf } from '../../src/pattern/cutting.ts';
import { CARD_HEIGHT, CARD_WIDTH } from '../../src/pattern/sheet/card-block.ts';
import { randomBag } from '../mesh/random-bags.ts';
import { clashes, rect } from './clashes.ts';

/** Every seam with the same allowance. */
const withAllowance = (bag: Bag, allowance: number): Bag => ({ ...bag, seams: bag.seams.map((s) => ({ ...s, allowance })) });

test('120 random bags, allowances of 5 to 15 mm: each is cut in whole pieces no smaller than their panels, drawn and listed, its cards clear and whole, or its allowance refused', () => {
  const told: string[] = [];
  let refused = 0;
  for (let seed = 1; seed <= 120; seed++) {
    const { kind, bag: made } = randomBag(seed);
    const bag = withAllowance(made, 0.005 + 0.005 * (seed % 3));
    const at = `seed ${seed} (${kind})`;
    try {
      const pattern = cutPattern(bag);
      const draft = draftPanels(bag);
      const panels = draft.panels.reduce((sum, p) => sum + p.area, 0);
      const shells = pattern.pieces.filter((p) => p.kind === 'shell');
      const net = shells.reduce((sum, p) => sum + p.count * p.net, 0);
      // Chords lie inside a jutting curve and outside a hollow one.
      if (Math.abs(net / panels - 1) > 1e-3) told.push(`${at}: stitch lines enclose ${net} m2, panels ${panels}`);
      for (const p of shells) {
        if (p.cut.length !== 1) told.push(`${at}: ${p.name} in ${p.cut.length} loops`);
        if (p.area < p.net) told.push(`${at}: ${p.name} cut smaller than sewn`);
        const perimeter = p.panels.reduce((sum, name) => sum + draft.panels.find((q) => q.name === name)!.perimeter, 0);
        // Steiner with mitres of at most twice the allowance at each of a few corners.
        const most = p.net + 0.015 * perimeter + 24 * 0.015 ** 2;
        if (p.area > most) told.push(`${at}: ${p.name} has ${p.area} m2, at most ${most}`);
      }
      const sheet = makeSheet(pattern);
      if (tilesOf(sheet, 'a4').tiles.length === 0) told.push(`${at}: no page`);
      if (![...sheet.lines.flatMap((l) => l.points.flat()), ...sheet.texts.flatMap((t) => [t.x, t.y])].every(Number.isFinite))
        told.push(`${at}: a place that is no number`);
      for (const card of [...notchCards(bag), ...strapCards(bag, pattern, CUT_DEFAULTS)]) {
        told.push(...clashes(card).map((c) => `${at}: card, ${c}`));
        const spots = [...card.lines.flatMap((l) => l.points), ...card.texts.flatMap(rect)];
        if (!spots.every(([x, y]) => x > -0.01 && x < CARD_WIDTH + 0.01 && y > -0.01 && y < CARD_HEIGHT + 0.01)) told.push(`${at}: off its card`);
      }
      const list = cutList(bag, undefined, {}, { width: 3 });
      if (!(list.mass > 0) || list.thread.some((r) => !(r.thread > 0))) told.push(`${at}: mass or thread`);
    } catch (error) {
      if (!(error instanceof BagError)) throw new Error(`${at}: ${error instanceof Error ? error.stack : String(error)}`);
      refused++;
      if (!error.faults.every((f) => /at (most|least)/.test(f.expected))) told.push(`${at}: ${error.message}`);
    }
  }
  expect(told).toEqual([]);
  expect(refused, 'bags with an allowance that does not fit').toBeLessThan(30);
});
