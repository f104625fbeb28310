import { describe, expect, it } from 'vitest';
import {
  aroundFrom,
  type DrawEdit,
  draftPanels,
  type Edited,
  edited,
  hardwareFigures,
  newBag,
  parseBagDocument,
  prepareScene,
  startedBag,
  memberFigures,
} from '../../src/index.ts';
import { box, draw, faults } from './drawing.ts';

const value = (made: Edited) => made.document.value as Record<string, Record<string, Record<string, unknown>>>;
const cord = (along: string, around = false): DrawEdit => ({ do: 'member', member: { kind: 'paper cord', along, around } });

describe('cords, closures, feet and metal put on the drafting table', () => {
  it('from the front’s upper edge the mouth goes round four edges, each end where the next begins, and closes; with a flap on it does not', () => {
    const made = box();
    const found = aroundFrom(draftPanels(made.bag), 'front.top')!;
    expect(found.ring).toBe(true);
    expect([...found.refs].sort()).toEqual(['back.top', 'front.top', 'left.top', 'right.top']);
    // In the sewn bag they lie end to end: the corners of the mesh say so.
    const flapped = draw(made, { do: 'flap', panel: 'back', edge: 'top', flap: { depth: '180 mm', radius: '' } });
    expect(aroundFrom(draftPanels(flapped.bag), 'front.top')?.refs).not.toContain('back.top');
    expect(aroundFrom(draftPanels(made.bag), 'front.bottom')).toBeNull();
  });

  it('a cord on one edge, then on another kind; round the whole mouth it is one ring of 800 mm; taken off nothing of it is left', () => {
    const one = draw(box(), cord('front.top'));
    expect(value(one).members).toEqual({ piping: { kind: 'paper cord', along: 'front.top' } });
    const wire = draw(one, { do: 'member kind', name: 'piping', kind: 'spring wire' });
    expect(wire.bag.members).toMatchObject([{ name: 'piping', kind: 'spring wire', size: null }]);
    // Own figures begin as those of the kind before: a wire of 2 mm is E d^4 pi/64.
    const own = draw(wire, { do: 'member kind', name: 'piping', kind: 'figures' });
    const [before, after] = [wire, own].map((d) => memberFigures(d.bag.members![0]));
    for (const key of ['size', 'lineMass'] as const) expect(Math.abs(after[key] / before[key] - 1)).toBeLessThan(5e-3);
    expect(Math.abs(after.rodRigidity[1] / before.rodRigidity[1] - 1)).toBeLessThan(5e-3);
    const stiffer = draw(own, { do: 'write', path: ['members', 'piping', 'rigidity'], text: '0.2 N.m2' });
    expect(memberFigures(stiffer.bag.members![0]).rodRigidity).toEqual([0.2, 0.2, 0.2]);
    const ring = draw(box(), cord('front.top', true));
    expect(ring.bag.members).toMatchObject([{ ends: 'ring', stopsShort: 0 }]);
    expect(ring.notes).toEqual(['It runs all round and is joined to a ring.']);
    expect(ring.bag.members?.[0].runs).toHaveLength(4);
    // The mesh takes it: a member that were no ring would be refused here.
    expect(() => prepareScene(ring.bag, { option: ring.bag.options[0].name, band: 'mid', stance: 'standing', edgeLength: 0.03 })).not.toThrow();
    expect(draw(ring, { do: 'take off', what: 'members', name: 'piping' }).document).toEqual(draw(box()).document);
    expect(faults(ring)).toEqual([]);
  });

  it('a stretch of an edge, a seam’s edge and a drawn line take a member; a second one on the same stretch is refused with its path', () => {
    const made = draw(box(), { do: 'line', panel: 'front', at: [0.15, 0.1], upright: false, fold: null, name: 'score' });
    const on = draw(made, cord('front.top[10%..50%]'), cord('front.left'), cord('front.score'));
    expect(on.bag.members?.map((m) => [m.runs.map((r) => [r.from, r.to]), m.lines?.length ?? 0])).toEqual([
      [[[0.1, 0.5]], 0],
      [[[0, 1]], 0],
      [[], 1],
    ]);
    expect(() => edited(on.document, on.bag, cord('front.top'), 'mm')).toThrow(/members\.piping 4\.along.*one member on each stretch/);
    expect(edited(on.document, on.bag, cord('front.nowhere'), 'mm')).toBeNull();
  });

  it('a magnet 25 mm below the middle of two edges is written by the panel’s own sizes, and a stance closes it; taken off, the stance goes too', () => {
    const made = box();
    const spot = (panel: string) => ({ panel, edge: 'top', share: 0.5, inset: '25 mm' });
    const on = draw(made, { do: 'closure', closure: { kind: 'magnet', from: spot('front'), to: spot('back') } });
    expect(on.bag.closures).toMatchObject([
      {
        name: 'magnet',
        ends: [
          { panel: 'front', at: [0.15, 0.215] },
          { panel: 'back', at: [0.15, 0.215] },
        ],
      },
    ]);
    expect(on.bag.stances.map((s) => [s.name, s.closed ?? null])).toEqual([
      ['standing', null],
      ['magnet closed', ['magnet']],
    ]);
    // Twice as wide, the magnet stays in the middle.
    const linked = draw(on, { do: 'parameter', path: ['panels', 'front', 'rectangle', 'height'], label: 'Height' });
    expect(linked.bag.closures?.[0]).toMatchObject({ ends: [{ at: [0.15, 0.215] }, {}] });
    const opened = draw(
      on,
      { do: 'closed', closure: 'magnet', stance: 'magnet closed', on: false },
      { do: 'closed', closure: 'magnet', stance: 'standing', on: true },
    );
    expect(opened.bag.stances.map((s) => s.closed ?? null)).toEqual([['magnet'], null]);
    const off = draw(on, { do: 'take off', what: 'closures', name: 'magnet' });
    expect(off.bag.closures ?? []).toEqual([]);
    expect(off.bag.stances.map((s) => s.name)).toEqual(['standing']);
  });

  it('a zip joins two edges and opens them; where they differ by more than 3 % it is refused with both lengths', () => {
    const zip = (a: string, b: string): DrawEdit => ({ do: 'closure', closure: { kind: 'coil zip', join: [[a], [b]] } });
    const on = draw(box(), zip('front.top', 'back.top'));
    expect(on.bag.closures).toMatchObject([{ kind: 'coil zip', sides: [[{ edge: 'top' }], [{ edge: 'top' }]] }]);
    expect(on.bag.stances.map((s) => s.name)).toEqual(['standing', 'zip closed']);
    const from = box();
    expect(() => edited(from.document, from.bag, zip('front.top', 'left.top'), 'mm')).toThrow('edges of 300 mm and 100 mm');
  });

  it('a drawstring round the mouth, 20 mm below it, is drawn to 300 mm in a stance of its own; longer than its channel it is refused', () => {
    const from = box();
    const along = aroundFrom(draftPanels(from.bag), 'front.top')!.refs;
    const cinch = (drawnTo: string): DrawEdit => ({ do: 'closure', closure: { kind: 'drawstring', along, below: '20 mm', drawnTo } });
    expect(draw(from, cinch('300 mm')).bag.stances.map((s) => s.name)).toEqual(['standing', 'drawn shut']);
    expect(() => edited(from.document, from.bag, cinch('900 mm'), 'mm')).toThrow(/closures\.drawstring\.drawn to/);
  });

  it('four feet 20 mm in from the edges of a base, then six in their place; rivets by their places; masses by kind', () => {
    const feet = (count: 4 | 5 | 6): DrawEdit => ({ do: 'feet', panel: 'base', feet: { count, inset: '20 mm' } });
    const four = draw(box(), feet(4));
    const mm = (made: Edited): number[][] => made.bag.hardware![0].at.map((p) => p.map((v) => Math.round(1e4 * v) / 10));
    expect(mm(four)).toEqual([
      [20, 20],
      [280, 20],
      [280, 80],
      [20, 80],
    ]);
    const six = draw(four, feet(6));
    expect(six.bag.hardware).toHaveLength(1);
    expect(mm(six).slice(4)).toEqual([
      [150, 20],
      [150, 80],
    ]);
    const rivet = draw(six, { do: 'hardware', hardware: { kind: 'rivet', at: [{ panel: 'front', edge: 'top', share: 0.25, inset: '10 mm' }] } });
    expect(rivet.bag.hardware?.[1].at[0].map((v) => Math.round(1000 * v))).toEqual([225, 230]);
    expect(hardwareFigures(rivet.bag.hardware![0]).mass).toBeCloseTo(0.003, 6);
    // On a round base all feet stand inside it.
    const round = draw(startedBag('Round', { name: 'base', shape: { kind: 'circle', diameter: '200 mm' } }), feet(4));
    for (const [x, y] of round.bag.hardware![0].at) expect(Math.hypot(x - 0.1, y - 0.1)).toBeCloseTo(0.08, 3);
  });

  it('a satchel’s own magnet: the stance "flap down" loses it when the flap is taken off the table', () => {
    const from = parseBagDocument(newBag('satchel'));
    const made = edited(from.document, from.bag, { do: 'delete panel', panel: 'flap' }, 'mm')!;
    expect(made.bag.closures ?? []).toEqual([]);
    expect(made.bag.stances.flatMap((s) => (Array.isArray(s.closed) ? s.closed : []))).toEqual([]);
    expect(made.notes.join(' ')).toContain('Closure magnet is taken off with it.');
  });
});
