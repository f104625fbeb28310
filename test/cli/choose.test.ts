import { describe, expect, it } from 'vitest';
import { ran } from './desk.ts';

/** A strip of 40 x 120 mm clamped upright, of canvas. */
const strip = JSON.stringify({
  slumpline: 1,
  name: 'Strip',
  wanted: 'structured',
  panels: {
    strip: {
      role: 'front',
      rectangle: { width: '40 mm', height: '120 mm' },
      open: ['top'],
      clips: [{ edge: 'bottom', slope: true }],
      pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 0, 1] },
    },
  },
  stacks: { canvas: ['canvas10'] },
  options: { canvas: { 'every panel': 'canvas' } },
  stances: { stand: { kind: 'standing', friction: 0.4 } },
});
const item = (material: string, use: string, price: number) => ({ material, use, width: '1 m', price: { 'per metre': price } });
const shelf = (more: object = {}) =>
  JSON.stringify({
    shelf: 1,
    currency: 'EUR',
    items: {
      canvas: item('canvas10', 'shell', 10),
      lawn: item('lawn', 'shell', 4),
      heavy: item('fus_heavy', 'fused', 5),
      board: item('nwboard', 'fused', 9),
      hair: item('sewin', 'sewn in', 30),
      ...more,
    },
  });
const files = { 'strip.bag.json': strip, 's.shelf.json': shelf() };
const asked = ['choose', 'strip.bag.json', '--shelf', 's.shelf.json', '--mesh', '20', '--quiet'];

describe('slumpline choose', () => {
  it('ranks what holds of 8 stacks, lightest first, with words by bolt, cost and what is cut; exit 0; --json and --csv say the same', async () => {
    const { code, out, err } = await ran(asked, files);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^Strip · stand · wanted "structured" with a typical bolt/);
    expect(out).toMatch(/1\. {2}(lawn|canvas) \+ board +\d/);
    expect(out).toMatch(/to cut: .* m of board/);
    expect(out).toContain('8 stacks; ');
    const r = JSON.parse((await ran([...asked, '--json', '--max-options', '1'], files)).out);
    expect(r.ranked).toHaveLength(1);
    expect(r.settled.length + r.ruledOut.softer + r.ruledOut.stiffer + r.ruledOut.behind).toBe(8);
    // Nothing lighter than the best meets.
    for (const s of r.settled) if (s.weight < r.ranked[0].weight) expect(s.side).not.toBe('meets');
    expect(r.ranked[0].whole.byBand).toHaveProperty('low');
    const csv = await ran([...asked, '--csv'], files);
    expect(csv.out.split('\r\n')[0]).toMatch(/^rank,place,stack,word,soft,typical,stiff,meets/);
  }, 120_000);

  it('goes on from a state file: a second search settles nothing anew and says the same; another file is refused', async () => {
    const first = await ran([...asked, '--state', 'state.txt', '--out', 'found'], files);
    expect(first.code).toBe(0);
    const state = first.files['state.txt']!;
    expect(state.split('\n').length).toBeGreaterThan(3);
    expect(first.files['found/choose.svg']).toContain('aria-label="Weight against room to spare');
    const given = `${state}{"key":"cut o`,
      again = await ran([...asked, '--state', 'state.txt'], { ...files, 'state.txt': given });
    expect([again.code, again.out]).toEqual([0, first.out]);
    // Nothing was settled anew, so nothing was written.
    expect(again.files['state.txt']).toBe(given);
    const other = await ran([...asked, '--state', 'strip.bag.json'], files);
    expect([other.code, other.out]).toEqual([2, '']);
    expect(other.err).toContain('no state of slumpline choose');
  }, 120_000);

  it('nothing holds: the nearest is named with the overhang it would need', async () => {
    const limp = JSON.stringify({ shelf: 1, items: { lawn: item('lawn', 'shell', 4), light: item('fus_light', 'fused', 2) } });
    const { code, out } = await ran(asked, { ...files, 's.shelf.json': limp });
    expect(code).toBe(0);
    expect(out).toMatch(/Nothing on your shelf does\. The nearest is lawn \+ light: it (slumps|softens|lies flat)/);
    expect(out).toMatch(/You would need an overhang of \d+ mm where it has \d+ mm/);
  }, 120_000);

  it.each([
    [['--by', 'wieght'], files, 'did you mean "weight"?'],
    [['--keep', 'shel'], files, 'did you mean "shell"?'],
    [['--max-options', '0'], files, 'a whole number from 1 to 10'],
    [['--bolt', 'hard'], files, 'expected typical, soft'],
    [['--wanted', 'stiff'], files, 'expected slouchy, soft, structured, rigid'],
    [['--json', '--csv'], files, 'expected one of them'],
    [['--stance', 'hung'], files, 'this bag has: "stand"'],
    [[], { ...files, 's.shelf.json': '{"shelf": 1, "items": {"f": {"material": "fus_light", "use": "fused"}}}' }, 'nothing whose use is "shell"'],
    [['--by', 'cost'], { ...files, 's.shelf.json': shelf({ foam: { material: 'foam', use: 'foam' } }) }, 'items.foam.price'],
    [
      [],
      { ...files, 's.shelf.json': '{"shelf": 1, "items": {"f": {"material": "lawn", "use": "fused"}}}', 'strip.bag.json': '{"slumpline": 1}' },
      'lawn has no adhesive',
    ],
    [[], { 'strip.bag.json': strip }, 'cannot read s.shelf.json'],
  ])('%j: exit 2, in words, nothing on stdout', async (flags, given, said) => {
    const { code, out, err } = await ran([...asked, ...flags], given as Record<string, string>);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(said);
  });
});
