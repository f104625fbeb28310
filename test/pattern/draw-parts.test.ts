import { describe, expect, it } from 'vitest';
import { BagError, type DrawEdit, type Edited, edgeLength, edited, newBag, parseBagDocument, sew, startedBag } from '../../src/index.ts';
import { box, draw, faults, type Open } from './drawing.ts';

const edge = (from: Open, panel: string, name: string) => from.bag.panels.find((p) => p.name === panel)?.outline.find((e) => e.name === name);
const lengthMm = (from: Open, panel: string, name: string): number => {
  const found = edge(from, panel, name);
  if (!found) throw new Error(`${panel} has no edge ${name}`);
  return 1000 * edgeLength(found);
};
const finishesOf = (from: Open, panel: string) =>
  (from.bag.finishes ?? [])
    .filter((f) => f.panel === panel)
    .map((f) => [f.finish, Math.round(1e6 * f.width) / 1000, f.stack, f.runs.map((r) => `${r.edge} ${r.from.toFixed(3)} ${r.to.toFixed(3)}`).join(', ')]);

const hem = (panel: string, on = 'top', width = '30 mm'): DrawEdit => ({ do: 'finish', panel, edge: on, choice: { finish: 'turned twice', width } });

describe('edges finished, and parts put on', () => {
  it('a hem of 30 mm on the front and, asked for both, on the back; taken off again nothing of it is left', () => {
    const made = draw(box(), { do: 'finish', panel: 'front', edge: 'top', choice: { finish: 'turned twice', width: '30 mm', both: true } });
    expect(finishesOf(made, 'front')).toEqual([['turned twice', 30, null, 'top 0.000 1.000']]);
    expect(finishesOf(made, 'back')).toEqual([['turned twice', 30, null, 'top 0.000 1.000']]);
    expect(made.notes).toEqual(['back.top as well.']);
    expect(faults(made)).toEqual([]);
    const bare = draw(made, { do: 'finish', panel: 'front', edge: 'top', choice: { finish: null, both: true } });
    expect(bare.document).toEqual(draw(box()).document);
  });

  it('what is stated for leather stays when the cloth is hemmed otherwise', () => {
    const leather = { finish: 'turned once', width: '12 mm' };
    const from = parseBagDocument(newBag('satchel'));
    const front = from.document.value.panels as Record<string, Record<string, unknown>>;
    const value = {
      ...from.document.value,
      panels: { ...front, front: { ...front.front, finishes: { top: { finish: 'turned twice', width: '30 mm', 'in leather': leather } } } },
    };
    const made = draw(parseBagDocument(value), hem('front', 'top', '25 mm'));
    expect((made.document.value.panels as typeof front).front.finishes).toEqual({ top: { finish: 'turned twice', width: '25 mm', 'in leather': leather } });
  });

  it('one finish replaces another; a facing takes a stack of its own, a raw edge no width', () => {
    const stack = Object.keys(box().document.value.stacks as object)[0];
    const faced = draw(box(), hem('front'), { do: 'finish', panel: 'front', edge: 'top', choice: { finish: 'faced', width: '50 mm', stack } });
    expect(finishesOf(faced, 'front')).toEqual([['faced', 50, stack, 'top 0.000 1.000']]);
    const raw = draw(faced, { do: 'finish', panel: 'front', edge: 'top', choice: { finish: 'raw', width: '50 mm' } });
    expect(finishesOf(raw, 'front')).toEqual([['raw', 0, null, 'top 0.000 1.000']]);
  });

  it('a sewn edge, a hem wider than the panel and a width that is none are refused with the place, and nothing is changed', () => {
    const refused = (edit: DrawEdit): string => {
      try {
        draw(box(), edit);
        return 'taken';
      } catch (e) {
        return e instanceof BagError ? e.faults.map((f) => f.path).join() : String(e);
      }
    };
    expect(refused(hem('front', 'bottom'))).toBe('panels.front.finishes.bottom');
    expect(refused(hem('front', 'top', '400 mm'))).toBe('panels.front.finishes.top.width');
    expect(refused(hem('front', 'top', 'wide'))).toBe('panels.front.finishes.top.width');
    expect(edited(box().document, box().bag, hem('front', 'nowhere'), 'mm')).toBeNull();
  });

  it('a flap 180 mm deep with corners of 40 mm on the back: as wide as its top, one folded seam, 0 faults, and a sewn shape', () => {
    const made = draw(box(), hem('back'), { do: 'flap', panel: 'back', edge: 'top', flap: { depth: '180 mm', radius: '40 mm' } });
    expect(faults(made)).toEqual([]);
    expect(made.made.panel).toBe('flap');
    expect(lengthMm(made, 'flap', 'bottom')).toBeCloseTo(300, 9);
    // Each side is 180 mm less the rounding.
    expect(lengthMm(made, 'flap', 'right')).toBeCloseTo(140, 9);
    expect(made.bag.seams.find((s) => s.name === 'flap fold')?.type).toBe('fold');
    expect(finishesOf(made, 'back')).toEqual([]);
    expect(sew(made.bag, 0.03).drafted.every(Number.isFinite)).toBe(true);
    const square = draw(box(), { do: 'flap', panel: 'back', edge: 'top', flap: { depth: '180 mm', radius: '' } });
    expect(faults(square)).toEqual([]);
    expect(square.bag.panels.find((p) => p.name === 'flap')?.outline).toHaveLength(4);
  });

  it('a tab 40 mm wide in the middle of the back’s mouth: the hem goes on for 130 mm on either side, 0 faults, and a sewn shape', () => {
    const made = draw(box(), hem('back'), { do: 'tab', panel: 'back', edge: 'top', tab: { width: '40 mm', length: '120 mm' } });
    expect(faults(made)).toEqual([]);
    expect(finishesOf(made, 'back').map((f) => f[3])).toEqual(['top 0.000 0.433', 'top 0.567 1.000']);
    expect(lengthMm(made, 'tab', 'bottom')).toBeCloseTo(40, 9);
    expect(sew(made.bag, 0.02).drafted.every(Number.isFinite)).toBe(true);
    // And hemmed again once it is on.
    expect(finishesOf(draw(made, hem('back', 'top', '20 mm')), 'back').map((f) => [f[1], f[3]])).toEqual([
      [20, 'top 0.000 0.433'],
      [20, 'top 0.567 1.000'],
    ]);
    expect(edited(box().document, box().bag, { do: 'tab', panel: 'back', edge: 'bottom', tab: { width: '40 mm', length: '120 mm' } }, 'mm')).toBeNull();
  });

  it('a dart of 20 mm, 60 mm deep, in the front’s mouth: the mouth is 20 mm shorter, its legs are as long as each other, the back has it too, 0 faults', () => {
    const made = draw(box(), { do: 'dart', panel: 'front', edge: 'top', share: 0.5, width: '20 mm', depth: '60 mm' });
    expect(faults(made)).toEqual([]);
    expect(lengthMm(made, 'front', 'top 1') + lengthMm(made, 'front', 'top 2')).toBeCloseTo(280, 9);
    // sqrt(60^2 + 10^2)
    for (const leg of ['dart near', 'dart far']) for (const panel of ['front', 'back']) expect(lengthMm(made, panel, leg)).toBeCloseTo(Math.sqrt(3700), 3);
    expect(made.bag.seams.filter((s) => s.name.startsWith('dart')).map((s) => s.name)).toEqual(['dart front', 'dart back']);
    expect(made.notes).toContain('back the same: the outline is one.');
    expect(sew(made.bag, 0.02).drafted.every(Number.isFinite)).toBe(true);
  });

  it('a dart in a hemmed mouth leaves a hem on either side of it, on the front and on the back, 0 faults', () => {
    const hemmed = draw(box(), { do: 'finish', panel: 'front', edge: 'top', choice: { finish: 'turned twice', width: '30 mm', both: true } });
    const made = draw(hemmed, { do: 'dart', panel: 'front', edge: 'top', share: 0.3, width: '20 mm', depth: '60 mm' });
    for (const panel of ['front', 'back'])
      expect(finishesOf(made, panel).map((f) => [f[0], f[3]])).toEqual([
        ['turned twice', 'top 1 0.000 1.000'],
        ['turned twice', 'top 2 0.000 1.000'],
      ]);
    expect(faults(made)).toEqual([]);
  });

  it('a dart in a sewn edge leaves one mismatch to mend and no other fault; one with no room, and one in a curve, are not taken', () => {
    const made = draw(box(), { do: 'dart', panel: 'base', edge: 'bottom', share: 0.5, width: '20 mm', depth: '30 mm' });
    expect(faults(made)).toHaveLength(1);
    const asked = (share: number, width: string): Edited | null =>
      edited(box().document, box().bag, { do: 'dart', panel: 'front', edge: 'top', share, width, depth: '60 mm' }, 'mm');
    expect(asked(0.01, '20 mm')).toBeNull();
    expect(asked(0.5, '300 mm')).toBeNull();
    const round = startedBag('Round', { name: 'base', shape: { kind: 'circle', diameter: '200 mm' } });
    expect(edited(round.document, round.bag, { do: 'dart', panel: 'base', edge: 'rim1', share: 0.5, width: '10 mm', depth: '20 mm' }, 'mm')).toBeNull();
  });

  it('darts in a half come in both of its sides', () => {
    const half = startedBag('Half', { name: 'front', shape: { kind: 'half', width: '300 mm', height: '240 mm' }, open: ['top'] });
    const made = draw(half, { do: 'dart', panel: 'front', edge: 'side right', share: 0.5, width: '20 mm', depth: '40 mm' });
    expect(made.bag.seams).toHaveLength(2);
    expect(lengthMm(made, 'front', 'dart near left')).toBeCloseTo(lengthMm(made, 'front', 'dart near right'), 9);
  });

  it('every template’s open straight edges can be hemmed anew at 8 mm, with no fault more than before', () => {
    for (const name of ['flat-tote', 'boxed-tote', 'satchel', 'bucket', 'backpack']) {
      let now: Open = parseBagDocument(newBag(name));
      const before = faults(now).length;
      for (const panel of now.bag.panels)
        for (const open of panel.openings.filter((o) => panel.outline.some((e) => e.name === o)))
          now = draw(now, { do: 'finish', panel: panel.name, edge: open, choice: { finish: 'turned once', width: '8 mm' } });
      expect({ name, faults: faults(now).length }).toEqual({ name, faults: before });
    }
  });
});
