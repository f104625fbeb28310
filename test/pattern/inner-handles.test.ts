import { describe, expect, it } from 'vitest';
import { handlesOf, moved, parseBagDocument } from '../../src/index.ts';

const file = {
  slumpline: 1,
  parameters: { W: '300 mm', D: '30 mm', hem: '25 mm' },
  panels: {
    p: {
      rectangle: { width: 'W', height: '200 mm' },
      marks: { snap: ['W/2', '150 mm'], notch: 'top[25%]' },
      holes: [{ circle: { centre: ['60 mm', '50 mm'], diameter: 'D' } }, { rectangle: { at: ['120 mm', '40 mm'], width: '20 mm', height: '12 mm' } }],
      regions: {
        high: { stack: 'b', above: '180 mm' },
        patch: { stack: 'b', rectangle: { at: ['200 mm', '60 mm'], width: '40 mm', height: '30 mm' } },
        tape: { stack: 'b', along: 'left[20%..80%]', width: 'hem' },
        odd: {
          stack: 'b',
          outline: [
            ['200 mm', '110 mm'],
            ['240 mm', '110 mm'],
            ['220 mm', '140 mm'],
          ],
        },
      },
    },
    q: { outline: [{ at: [0, 0] }, { at: ['100 mm', 0], radius: ['20 mm', '40 mm'] }, { at: ['100 mm', '100 mm'] }, { at: [0, '100 mm'] }] },
  },
  stacks: { a: ['canvas10'], b: ['lawn'] },
  options: { o: { 'every panel': 'a' } },
};
const open = () => parseBagDocument(JSON.stringify(file));
const move = (handle: string, by: readonly [number, number]) => {
  const { document, bag } = open();
  return moved(document, bag, { handle, by }, 'mm');
};

describe('handles of what lies inside a panel', () => {
  it('are 4 of two holes, 7 of four regions, 1 of the mark with a place of its own, 2 of an uneven rounding', () => {
    const { document, bag } = open();
    const kinds = handlesOf(document, bag).map((h) => `${h.panel} ${h.kind}`);
    const count = (k: string): number => kinds.filter((x) => x === k).length;
    expect([count('p hole'), count('p region'), count('p mark'), count('q radius')]).toEqual([4, 7, 1, 2]);
  });

  it('every one lies where it is drawn and, moved by 4 mm along a gain, changes its figures by gain x 4 mm and nothing else', () => {
    const { document, bag } = open();
    for (const h of handlesOf(document, bag).filter((k) => ['hole', 'region', 'mark'].includes(k.kind) || (k.kind === 'radius' && k.panel === 'q'))) {
      const [gx, gy] = h.controls.reduce(([x, y], c) => [x + c.gain[0], y + c.gain[1]], [0, 0]);
      const by: [number, number] = [0.004 * Math.sign(gx), 0.004 * Math.sign(gy)];
      const made = moved(document, bag, { handle: h.id, by }, 'mm');
      const after = made && handlesOf(made.document, made.bag).find((k) => k.id === h.id);
      expect(after, h.id).toBeDefined();
      // A hole's or a region's size handle moves with its corner, a place handle with its middle: all follow the hand.
      for (const d of [0, 1]) expect(Math.abs((after?.at[d] ?? 0) - h.at[d] - by[d] * (Math.abs([gx, gy][d]) > 1e-9 ? 1 : 0)), h.id).toBeLessThan(1e-9);
      for (const [i, c] of h.controls.entries()) expect(after?.controls[i].value, h.id).toBeCloseTo(c.value + c.gain[0] * by[0] + c.gain[1] * by[1], 9);
    }
  });

  it('keep links: the rim of a hole written D moved out by 5 mm makes D 40 mm, a strip written hem moved in by 5 mm makes hem 30 mm', () => {
    expect(move('p/hole/1 size', [0.005, 0])?.changes).toEqual([{ parameter: 'D', before: '30 mm', after: '40 mm', replaced: null }]);
    expect(move('p/region/tape', [0.005, 0])?.changes).toEqual([{ parameter: 'hem', before: '25 mm', after: '30 mm', replaced: null }]);
  });

  it('take typed values: the uneven rounding at corner 2 after it to 55 mm', () => {
    const { document, bag } = open();
    const made = moved(document, bag, { handle: 'q/radius/2 after', control: 0, value: 0.055 }, 'mm');
    expect((made!.document.value.panels as typeof file.panels).q.outline[1]).toEqual({ at: ['100 mm', 0], radius: ['20 mm', '55 mm'] });
  });

  it('refuse a move that makes no sound bag, with the path: a hole out of the panel', () => {
    expect(() => move('p/hole/1', [-0.1, 0])).toThrow(/panels\.p\.holes/);
  });
});
