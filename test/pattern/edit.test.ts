import { describe, expect, it } from 'vitest';
import { BagError, handlesOf, moved, multipleOf, newBag, parseBagDocument, withSize } from '../../src/index.ts';

const open = (name: string, set: Record<string, string> = {}) => parseBagDocument(newBag(name, set));
const parameter = (document: { value: Readonly<Record<string, unknown>> }, name: string) => (document.value.parameters as Record<string, string>)[name];
const plain = {
  slumpline: 1,
  name: 'Piece',
  panels: { piece: { outline: [{ at: [0, 0] }, { at: ['W - 20 mm', 0] }, { at: ['120 mm', 'H'], radius: 'R' }, { at: [0, 'H'] }] } },
  parameters: { W: '150 mm', H: '4 in', R: '20 mm' },
  stacks: { cloth: ['canvas10'] },
};

describe('edits of a flat panel keep the links of its file', () => {
  it('W/2, -W, 2*(W/3) and pi*d are multiples of one parameter; W + D, H - dip, W*H and edge(...) are not', () => {
    expect(['W/2', '-W', '2*(W/3)', 'pi*d'].map((t) => multipleOf(t)?.factor)).toEqual([0.5, -1, 2 / 3, Math.PI]);
    expect(['(W + D)/2', 'H - dip', 'W*H', 'edge(front.top)', '12 mm', '2/W'].map(multipleOf)).toEqual([null, null, null, null, null, null]);
  });

  it('an edge at W/2 moved out by 10 mm makes W 20 mm wider, both its ends and the mirrored half with it', () => {
    const { document, bag } = open('boxed-tote', { W: '300 mm' });
    const made = moved(document, bag, { handle: 'front/edge/cut up', by: [0.01, 0] }, 'mm');
    expect(made?.changes).toEqual([{ parameter: 'W', before: '300 mm', after: '320 mm', replaced: null }]);
    const bottom = made?.bag.panels[0].outline.find((e) => e.name === 'bottom');
    expect(bottom?.from[0]).toBeCloseTo(-0.16, 12);
    expect(bottom?.to[0]).toBeCloseTo(0.16, 12);
  });

  it('the mirrored handle moves the same figure the other way: 10 mm to the left is 20 mm of W', () => {
    const { document, bag } = open('boxed-tote', { W: '300 mm' });
    const made = moved(document, bag, { handle: 'front/edge/cut up (left)', by: [-0.01, 0] }, 'mm');
    expect(parameter(made!.document, 'W')).toBe('320 mm');
  });

  it('a formula with a figure beside it keeps its link, the figure takes the change up; one without gives way to a figure, and the lost link is told', () => {
    const { document, bag } = parseBagDocument(plain);
    const made = moved(document, bag, { handle: 'piece/corner/2', by: [0.005, 0.002] }, 'mm');
    expect(made?.changes).toEqual([
      { parameter: null, before: 'W - 20 mm', after: 'W - 15 mm', replaced: null },
      { parameter: null, before: '0', after: '2 mm', replaced: null },
    ]);
    const two = [{ at: [0, 0] }, { at: ['W - H/4', 0] }, { at: ['120 mm', 'H'] }, { at: [0, 'H'] }];
    const other = parseBagDocument({ ...plain, panels: { piece: { outline: two } } });
    expect(moved(other.document, other.bag, { handle: 'piece/corner/2', by: [0.005, 0] }, 'mm')?.changes).toEqual([
      { parameter: null, before: 'W - H/4', after: '129.6 mm', replaced: 'W - H/4' },
    ]);
  });

  it('a height written in inches stays in inches: 4 in less 1/16 in is 3 15/16 in', () => {
    const { document, bag } = parseBagDocument(plain);
    const made = moved(document, bag, { handle: 'piece/corner/4', by: [0, -0.0254 / 16] }, 'in');
    expect(parameter(made!.document, 'H')).toBe('3 15/16 in');
  });

  it('the middle of a rounding follows the hand: its handle ends within 1 um of where it was put', () => {
    const { document, bag } = parseBagDocument(plain);
    const before = handlesOf(document, bag).find((h) => h.id === 'piece/radius/3')!;
    const by = before.controls[0].gain.map((g) => (0.01 * g) / (before.controls[0].gain[0] ** 2 + before.controls[0].gain[1] ** 2)) as [number, number];
    const made = moved(document, bag, { handle: before.id, by }, 'mm')!;
    const after = handlesOf(made.document, made.bag).find((h) => h.id === before.id)!;
    expect(parameter(made.document, 'R')).toBe('30 mm');
    expect(Math.hypot(after.at[0] - before.at[0] - by[0], after.at[1] - before.at[1] - by[1])).toBeLessThan(1e-6);
  });

  it('the girth of a bucket, pi*d, passes its change on to d', () => {
    const { document } = open('bucket', { d: '200 mm' });
    const { change } = withSize(document, ['panels', 'body', 'rectangle', 'width'], Math.PI * 0.21, 'mm');
    expect(change).toEqual({ parameter: 'd', before: '200 mm', after: '210 mm', replaced: null });
  });

  it('a copied panel carries its model’s handles, and every handle of every rectangle ends where it was put or shifts its frame', () => {
    const { document, bag } = open('satchel');
    const back = handlesOf(document, bag).filter((h) => h.panel === 'back');
    expect(back.map((h) => h.name)).toEqual(
      handlesOf(document, bag)
        .filter((h) => h.panel === 'front')
        .map((h) => h.name),
    );
    expect(back.every((h) => h.controls.every((c) => c.path[1] === 'front'))).toBe(true);
  });

  it('an anchor moved 5 mm in and 3 mm down: both patches of a mirrored pair, by the figures they are written with', () => {
    const straps = {
      handle: { width: '25 mm', length: '300 mm', stack: 'cloth', from: { panel: 'piece', 'from left': '30 mm', 'from top': '10 mm' }, to: 'mirrored' },
    };
    const piece = { rectangle: { width: '200 mm', height: '150 mm' } };
    const { document, bag } = parseBagDocument({ ...plain, panels: { piece }, straps });
    const made = moved(document, bag, { handle: 'piece/anchor/handle 2', by: [-0.005, -0.003] }, 'mm')!;
    expect(made.changes.map((c) => c.after)).toEqual(['35 mm', '13 mm']);
    expect(made.bag.straps[0].anchors.map((a) => Math.round(a.at[0] * 1e6))).toEqual([35000, 165000]);
  });

  it('a move that makes the outline cross itself is refused with its path', () => {
    const { document, bag } = parseBagDocument(plain);
    expect(() => moved(document, bag, { handle: 'piece/corner/2', by: [0, 0.15] }, 'mm')).toThrow(BagError);
  });
});
