import { describe, expect, it } from 'vitest';
import { draftPanels, edgeLength, edited, handlesOf, moved, newBag, parseBagDocument, sew, startedBag, templates, troubles } from '../../src/index.ts';
import { box, draw, faults, front, type Open, stitch } from './drawing.ts';

const outline = (from: Open, panel: string) => from.bag.panels.find((p) => p.name === panel)!.outline;
const names = (from: Open, panel: string): string[] => outline(from, panel).map((e) => e.name);
const lengthMm = (from: Open, panel: string, edge: string): number => 1000 * edgeLength(outline(from, panel).find((e) => e.name === edge)!);

describe('a bag drawn and sewn from nothing', () => {
  it('five panels and eight seams make a box that can be sewn: 0 faults, and a sewn shape', () => {
    const made = box();
    expect(faults(made)).toEqual([]);
    expect(made.bag.seams.map((s) => s.name)).toEqual(['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H']);
    expect(sew(made.bag, 0.03).drafted.every(Number.isFinite)).toBe(true);
  });

  it('panels cut to the length of an edge follow it: the front 20 mm wider makes the base 320 mm long, still without a fault', () => {
    const made = box();
    const wider = moved(made.document, made.bag, { handle: 'front/edge/right', by: [0.02, 0] }, 'mm')!;
    expect(lengthMm(wider, 'base', 'bottom')).toBeCloseTo(320, 9);
    expect(faults(wider)).toEqual([]);
  });

  it('a gusset of 80 mm round three edges with round corners is as long as they are together, and its two seams leave 0 faults', () => {
    const made = draw(
      front(),
      { do: 'round', panel: 'front', corner: 'lower left', radius: '40 mm' },
      { do: 'round', panel: 'front', corner: 'lower right', radius: '40 mm' },
      { do: 'copy', panel: 'front', name: 'back' },
      { do: 'gusset', edges: ['front.left', 'front.bottom', 'front.right'], width: '80 mm' },
    );
    // Trade rule: W + 2 H - (4 - pi) R.
    expect(lengthMm(made, 'gusset', 'left')).toBeCloseTo(300 + 480 - (4 - Math.PI) * 40, 6);
    expect(faults(made)).toEqual([]);
    expect(made.bag.seams).toHaveLength(2);
  });

  it('a pocket 150 mm high laid on the front takes three seams, as a third layer, and leaves 0 faults', () => {
    const made = draw(box(), { do: 'pocket', panel: 'front', height: '150 mm' });
    expect(faults(made)).toEqual([]);
    expect(made.bag.seams).toHaveLength(11);
    expect(sew(made.bag, 0.03).drafted.every(Number.isFinite)).toBe(true);
  });

  it('a strap drawn at 80 and 220 mm of a front 300 mm wide is a mirrored pair, on the back as well', () => {
    const ends = [
      [0.08, 0.2],
      [0.22, 0.2],
    ] as const;
    const made = draw(box(), { do: 'strap', strap: { panel: 'front', ends, width: '25 mm', length: '400 mm', both: true } });
    expect(made.bag.straps.map((s) => s.name)).toEqual(['handle', 'handle on back']);
    expect(made.bag.straps[0].anchors.map((a) => a.at.map((v) => Math.round(1000 * v)))).toEqual([
      [80, 200],
      [220, 200],
    ]);
    expect((made.document.value.straps as Record<string, { to: string }>).handle.to).toBe('mirrored');
    expect(draw(made, { do: 'delete strap', strap: 'handle' }).bag.straps).toEqual([]);
  });
});

describe('a curve handle changes the curve and nothing else', () => {
  it('the crescent’s bottom curve dragged 65 mm out: every other edge, the strap and the width stay where they were', () => {
    const { document, bag } = parseBagDocument(newBag('crescent'));
    for (const handle of handlesOf(document, bag).filter((h) => h.kind === 'curve' && h.panel === 'front')) {
      const made = moved(document, bag, { handle: handle.id, by: [0.004, -0.003] }, 'mm')!;
      const own = new Set(handle.edges.flatMap((e) => [e, `${e} right`, `${e} left`]));
      const others = (b: typeof bag) => b.panels.flatMap((p) => p.outline.filter((e) => !own.has(e.name)).map((e) => [e.name, e.from, e.to]));
      expect(others(made.bag), handle.id).toEqual(others(bag));
      expect(made.bag.parameters, handle.id).toEqual(bag.parameters);
      expect(made.changes.length, handle.id).toBeGreaterThan(0);
    }
    const low = moved(document, bag, { handle: 'front/curve/low 2', by: [0.065, 0] }, 'mm')!;
    expect(low.changes).toEqual([{ parameter: null, before: 'W/2', after: 'W/2 + 65 mm', replaced: null }]);
    const back = moved(low.document, low.bag, { handle: 'front/curve/low 2', by: [-0.065, 0] }, 'mm')!;
    expect(back.bag).toEqual(bag);
    expect(back.changes[0].after).toBe('W/2 + 0 mm');
  });
});

describe('corners and edges', () => {
  it('a sewn edge cut in two goes on under its old name: the seam stands, 0 faults, and the new corner can be moved', () => {
    const made = draw(box(), { do: 'split', panel: 'front', edge: 'bottom', share: 0.5 });
    expect(names(made, 'front')).toEqual(['bottom 1', 'bottom 2', 'right', 'top', 'left']);
    expect(names(made, 'back')).toEqual(names(made, 'front'));
    expect(faults(made)).toEqual([]);
    const handle = handlesOf(made.document, made.bag).find(
      (h) => h.panel === 'front' && h.kind === 'corner' && Math.abs(h.at[0] - 0.15) < 1e-9 && h.at[1] < 1e-9,
    )!;
    const down = moved(made.document, made.bag, { handle: handle.id, by: [0, -0.01] }, 'mm')!;
    expect(lengthMm(down, 'front', 'bottom 1')).toBeCloseTo(Math.hypot(150, 10), 6);
  });

  it('a curve cut at a third keeps its shape: both parts together as long as it was, to 1 um, on both halves', () => {
    const { document, bag } = parseBagDocument(newBag('crescent'));
    for (const edge of ['low right', 'low left']) {
      const made = draw({ document, bag }, { do: 'split', panel: 'front', edge, share: 1 / 3 });
      const before = lengthMm({ document, bag }, 'front', edge);
      const parts = names(made, 'front').filter((n) => n.startsWith('low') && n.endsWith(edge.slice(4)));
      expect(parts).toHaveLength(2);
      expect(parts.reduce((sum, n) => sum + lengthMm(made, 'front', n), 0)).toBeCloseTo(before, 1);
      expect(faults(made)).toEqual([]);
    }
  });

  it('an edge into an arc, a curve and a line again: its ends stay, its neighbours stay', () => {
    let made = draw(front(), { do: 'bend', panel: 'front', edge: 'top', into: 'arc' });
    expect(outline(made, 'front').find((e) => e.name === 'top')!.kind).toBe('arc');
    made = draw(made, { do: 'bend', panel: 'front', edge: 'top', into: 'curve' });
    expect(outline(made, 'front').find((e) => e.name === 'top')!.kind).toBe('cubic');
    made = draw(made, { do: 'bend', panel: 'front', edge: 'top', into: 'line' });
    expect(outline(made, 'front')).toEqual(outline(front(), 'front'));
  });

  it('a corner taken away unpicks what was sewn to the edge after it, and says so; a triangle keeps its three', () => {
    const made = draw(box(), { do: 'own shape', panel: 'back' }, { do: 'delete corner', panel: 'back', corner: 'upper right' });
    expect(names(made, 'back')).toEqual(['bottom', 'right', 'left']);
    expect(edited(made.document, made.bag, { do: 'delete corner', panel: 'back', corner: '1' }, 'mm')).toBeNull();
    const lower = draw(box(), { do: 'own shape', panel: 'back' });
    const cut = edited(lower.document, lower.bag, { do: 'delete corner', panel: 'back', corner: 'lower right' }, 'mm')!;
    expect(cut.notes).toEqual(['Seam G is unpicked: back has no edge "right" any more.']);
  });

  it('a corner rounded by 30 mm between two edges of one side of a seam is sewn with them', () => {
    const strip = draw(
      front(),
      { do: 'copy', panel: 'front', name: 'back' },
      { do: 'gusset', edges: ['front.left', 'front.bottom', 'front.right'], width: '80 mm' },
    );
    const made = draw(strip, { do: 'round', panel: 'front', corner: 'lower right', radius: '30 mm' });
    expect(made.bag.seams[0].sides[0].map((r) => r.edge)).toEqual(['left', 'bottom', 'bottom-right', 'right']);
    const sharp = draw(made, { do: 'round', panel: 'front', corner: 'lower right', radius: '0' });
    expect(sharp.bag.seams[0].sides[0].map((r) => r.edge)).toEqual(['left', 'bottom', 'right']);
  });

  it('a circle, a trapezoid and a half with a new corner each have one edge more and the same area of cloth', () => {
    const shapes = [
      { kind: 'circle', diameter: '200 mm' },
      { kind: 'trapezoid', bottom: '200 mm', top: '300 mm', height: '200 mm' },
      { kind: 'half', width: '300 mm', height: '200 mm' },
    ] as const;
    for (const shape of shapes) {
      const start = startedBag('Mine', { name: 'front', shape });
      const area = draftPanels(start.bag).panels[0].area;
      for (const edge of names(start, 'front')) {
        const made = draw(start, { do: 'split', panel: 'front', edge, share: 0.3 });
        expect(draftPanels(made.bag).panels[0].area, `${shape.kind} ${edge}`).toBeCloseTo(area, 6);
        expect(names(made, 'front').length, `${shape.kind} ${edge}`).toBeGreaterThan(names(start, 'front').length);
      }
    }
  });
});

describe('panels', () => {
  it('renamed everywhere: seams, formulas, copies, options and straps; 0 faults', () => {
    const made = draw(box(), { do: 'rename', panel: 'front', name: 'face' }, { do: 'rename', panel: 'left', name: 'end one' });
    expect(faults(made)).toEqual([]);
    expect(JSON.stringify(made.document.value)).not.toMatch(/front|"left\./);
    expect(() => edited(made.document, made.bag, { do: 'rename', panel: 'face', name: 'back' }, 'mm')).toThrow(/no other panel/);
  });

  it('a panel taken off leaves its copy as it was, with a shape of its own, and formulas of its edges as figures', () => {
    const made = draw(box(), { do: 'delete panel', panel: 'front' });
    expect(outline(made, 'back')).toEqual(outline(box(), 'front'));
    expect(lengthMm(made, 'base', 'bottom')).toBeCloseTo(300, 9);
    expect(made.bag.seams.map((s) => s.name)).toEqual(['B', 'C', 'D', 'F', 'G']);
  });

  it('every template is left as it was by a panel copied and taken off again', () => {
    for (const t of templates()) {
      const start = parseBagDocument(t.text);
      const { name } = start.bag.panels[0];
      const copied = draw(start, { do: 'copy', panel: name, name: 'spare' });
      const back = draw(copied, { do: 'delete panel', panel: 'spare' });
      expect(back.bag, t.name).toEqual(start.bag);
    }
  });
});

describe('sizes of the bag and their labels', () => {
  it('the height of the front named "Bag height" is parameter bag_height with that label, and the shape stays', () => {
    const made = draw(front(), { do: 'parameter', path: ['panels', 'front', 'rectangle', 'height'], label: 'Bag height' });
    expect(made.bag.parameters).toEqual([{ name: 'bag_height', value: 0.24, text: '240 mm', kind: 'length', label: 'Bag height' }]);
    expect(outline(made, 'front')).toEqual(outline(front(), 'front'));
  });

  it('every parameter of every template has a label in words', () => {
    for (const t of templates())
      for (const p of parseBagDocument(t.text).bag.parameters) expect(p.label ?? '', `${t.name}: ${p.name}`).toMatch(/^[A-Z][a-z]+( [a-z]+)*$/);
  });
});

describe('what is not right yet', () => {
  it('every mend that is offered leaves one fault less than there was', () => {
    const loose = draw(front(), { do: 'copy', panel: 'front', name: 'back' }, stitch('front.bottom', 'back.bottom'));
    const short = draw(box(), { do: 'write', path: ['panels', 'left', 'rectangle', 'height'], text: '200 mm' });
    for (const start of [loose, short]) {
      const list = troubles(start.document, start.bag, draftPanels(start.bag)).filter((t) => t.fault);
      expect(list.length).toBeGreaterThan(0);
      for (const trouble of list)
        for (const mend of trouble.mends.filter((m) => m.edit.do !== 'unpick')) {
          const made = draw(start, mend.edit);
          expect(faults(made), `${trouble.finding.text} ${mend.say}`).not.toContain(trouble.finding.text);
        }
    }
  });
});

describe('what random edits found', () => {
  it('a panel that straps hang from is taken off with them and with the stance that hung from them', () => {
    const start = parseBagDocument(newBag('crescent'));
    const made = draw(start, { do: 'panel', panel: { name: 'spare', shape: { kind: 'circle', diameter: '100 mm' } } }, { do: 'delete panel', panel: 'front' });
    expect(made.bag.straps).toEqual([]);
    expect(made.bag.stances.map((s) => s.kind)).toEqual(['standing']);
  });

  it('three sizes called alike have three names', () => {
    const path = (key: string) => ['panels', 'front', 'rectangle', key];
    const made = draw(
      front(),
      { do: 'parameter', path: path('height'), label: 'Edge length' },
      { do: 'parameter', path: path('width'), label: 'Edge length' },
      { do: 'parameter', path: path('width'), label: 'Edge length' },
    );
    expect(made.bag.parameters.map((p) => p.name)).toEqual(['edge_length', 'edge_length_2', 'edge_length_3']);
  });

  it('the mouth of a half, sewn or named by the one name of both its sides, goes on under it when one side is cut up', () => {
    const start = parseBagDocument(newBag('crescent'));
    const made = draw(start, { do: 'split', panel: 'front', edge: 'mouth right', share: 0.4 });
    expect(made.bag.panels[0].openings).toHaveLength(4);
    expect(faults(made)).toEqual([]);
  });
});
