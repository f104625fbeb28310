import { describe, expect, it } from 'vitest';
import { checkBulk } from '../../src/assembly/check-bulk.ts';
import { checkThread } from '../../src/assembly/check-thread.ts';
import { parseBag, templates } from '../../src/bag/index.ts';
import { checkPattern } from '../../src/panels/check.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import * as bags from '../mesh/bags.ts';

const { sewn } = bags;
const rectangle = (w: number, h: number) => ({ rectangle: { width: `${w} mm`, height: `${h} mm` } });
const kinds = (list: readonly { kind: string }[]): string[] => list.map((f) => f.kind);

function check(panels: Record<string, unknown>, seams: Record<string, unknown>) {
  const { bag, draft } = sewn(panels, seams);
  return checkPattern(bag, draft);
}

describe('pattern checks', () => {
  it.each(Object.entries(bags).filter(([name]) => !['sewn', 'satchel', 'shoulderBag', 'folded'].includes(name)))(
    '%s: nothing to complain about',
    (_name, make) => {
      const { bag, draft } = (make as () => { bag: Parameters<typeof checkPattern>[0]; draft: Parameters<typeof checkPattern>[1] })();
      const { faults, warnings } = checkPattern(bag, draft);
      expect(faults).toEqual([]);
      expect(warnings).toEqual([]);
    },
  );

  it('two seams over the same pair of edges are a fault of the second; the same edges half by half are none', () => {
    const panels = { a: { ...rectangle(300, 100), open: ['left', 'right', 'bottom'] }, b: { ...rectangle(300, 100), open: ['left', 'right', 'top'] } };
    const { faults } = check(panels, { A: { join: ['a.top', 'b.bottom'] }, B: { join: ['b.bottom', 'a.top'] } });
    expect(faults.map((f) => [f.kind, f.seam])).toEqual([['sewn twice', 'B']]);
    expect(faults[0].text).toContain('seam A has sewn together already');
    const halves = check(panels, { A: { join: ['a.top[0%..50%]', 'b.bottom[50%..100%]'] }, B: { join: ['a.top[50%..100%]', 'b.bottom[0%..50%]'] } });
    expect(halves.faults).toEqual([]);
  });

  it('2 mm in 300 passes, 4 mm in 600 is a warning, 20 mm in 300 a fault, each with its figure', () => {
    const two = (w: number, v: number) =>
      check(
        { a: { ...rectangle(w, 100), open: ['left', 'right', 'bottom'] }, b: { ...rectangle(v, 100), open: ['left', 'right', 'top'] } },
        { A: { join: ['a.top', 'b.bottom'] } },
      );
    expect(kinds([...two(300, 302).faults, ...two(300, 302).warnings])).toEqual([]);
    const warned = two(600, 604).warnings;
    expect(kinds(warned)).toEqual(['mismatch']);
    expect(warned[0].value).toBeCloseTo(0.004, 9);
    expect(warned[0].figure).toBe('4 mm (0.7 %)');
    expect(warned[0].text).toContain('b.bottom is 604 mm');
    expect(kinds(two(300, 320).faults)).toEqual(['mismatch']);
    // 1 % of a short seam: 1.5 mm in 100.
    expect(kinds(two(100, 101.5).warnings)).toEqual(['mismatch']);
  });

  it('a stated gather of 1.5 drawn as 1.7 is a warning; drawn as 1.5 it is not', () => {
    const at = (w: number) =>
      check(
        { a: { ...rectangle(200, 50), open: ['left', 'right', 'top'] }, b: { ...rectangle(w, 100), open: ['left', 'right', 'bottom'] } },
        { A: { join: ['a.bottom', 'b.top'], gather: 1.5 } },
      );
    expect(at(300).warnings).toEqual([]);
    expect(at(300).notes).toMatchObject([{ kind: 'gather', figure: 'ratio 1.50' }]);
    expect(at(340).warnings[0]).toMatchObject({ kind: 'gather', figure: 'ratio 1.70' });
  });

  it('an edge of the body left out of every seam is a fault with its length, the rest of a mouth that is sewn in part a warning', () => {
    const { faults, warnings } = check(
      { a: { ...rectangle(200, 50), open: ['left', 'right'] }, b: { ...rectangle(150, 50), open: ['left', 'right', 'top'] } },
      { A: { join: ['a.top[0%..75%]', 'b.bottom'] } },
    );
    expect(faults.map((w) => `${w.kind} ${w.panel}.${w.edge} ${w.figure}`)).toEqual(['unsewn a.bottom 200 mm']);
    expect(warnings.map((w) => `${w.kind} ${w.panel}.${w.edge} ${w.figure}`)).toEqual(['unsewn a.top 50 mm']);
  });

  it('a band closed with a half turn is a fault', () => {
    const { faults } = check({ a: { ...rectangle(400, 50), open: ['top', 'bottom'] } }, { A: { join: ['a.left', 'a.right'], direction: 'along' } });
    expect(kinds(faults)).toEqual(['twisted']);
    const plain = check({ a: { ...rectangle(400, 50), open: ['top', 'bottom'] } }, { A: { join: ['a.left', 'a.right'] } });
    expect(plain.faults).toEqual([]);
  });

  it('walls in the wrong order round a base are a fault', () => {
    const side = { role: 'side', ...rectangle(100, 240), open: ['top'] };
    const { faults } = check(
      { front: { ...rectangle(100, 240), open: ['top'] }, back: { ...rectangle(100, 240), open: ['top'] }, left: side, right: side, base: rectangle(100, 100) },
      {
        A: {
          join: [
            ['base.bottom', 'base.right', 'base.top', 'base.left'],
            ['front.bottom', 'back.bottom', 'left.bottom', 'right.bottom'],
          ],
        },
        E: { join: ['front.right', 'right.left'] },
        F: { join: ['right.right', 'back.left'] },
        G: { join: ['back.right', 'left.left'] },
        H: { join: ['left.right', 'front.left'] },
      },
    );
    expect(kinds(faults)).toContain('chain broken');
  });

  it('a base sewn mirrored is a fault that names it; sewn rightly it is not, in every template', () => {
    const side = { role: 'side', ...rectangle(100, 240), open: ['top'] };
    const wall = { ...rectangle(300, 240), open: ['top'] };
    const box = (rightEdge: string, leftEdge: string) =>
      check(
        { front: wall, back: wall, left: side, right: side, base: rectangle(300, 100) },
        {
          A: { join: ['front.bottom', 'base.bottom'] },
          B: { join: ['back.bottom', 'base.top'] },
          C: { join: ['right.bottom', `base.${rightEdge}`] },
          D: { join: ['left.bottom', `base.${leftEdge}`] },
          E: { join: ['front.right', 'right.left'] },
          F: { join: ['right.right', 'back.left'] },
          G: { join: ['back.right', 'left.left'] },
          H: { join: ['left.right', 'front.left'] },
        },
      );
    expect(kinds(box('left', 'right').faults)).toEqual([]);
    const [fault] = box('right', 'left').faults;
    expect(fault).toMatchObject({ kind: 'mirrored', panel: 'base' });
    expect(fault.text).toContain('mirrored');
    for (const t of templates()) {
      const bag = parseBag(t.text);
      expect(checkPattern(bag, draftPanels(bag)).faults, t.name).toEqual([]);
    }
  });

  it('1.9 mm of stack is too thick for a turned allowance of 5 mm, not of 6 mm; a seam of 3 x 4.8 mm does not go under a foot that clears 6 mm', () => {
    const at = (allowance: string, stack: unknown, type = 'plain') => {
      const bag = parseBag({
        slumpline: 1,
        panels: {
          a: {
            ...rectangle(100, 100),
            open: ['left', 'right', 'bottom'],
            lines: {
              crease: {
                points: [
                  ['0 mm', '50 mm'],
                  ['100 mm', '50 mm'],
                ],
                fold: '8 mm',
              },
            },
          },
          b: { ...rectangle(100, 100), open: ['left', 'right', 'top'] },
        },
        seams: { A: { join: ['a.top', 'b.bottom'], allowance, type } },
        stacks: {
          thin: { mass: '300 g/m2', thickness: '0.5 mm', D11: '100 uN.m', D22: '100 uN.m', D66: '50 uN.m', C11: '20 kN/m', C22: '20 kN/m', C66: '9 kN/m' },
          thick: stack,
        },
        options: { thin: { 'every panel': 'thin' }, thick: { 'every panel': 'thick' } },
      });
      return checkBulk(bag, draftPanels(bag));
    };
    const stack = (t: number) => ({
      mass: '300 g/m2',
      thickness: `${t} mm`,
      D11: '100 uN.m',
      D22: '100 uN.m',
      D66: '50 uN.m',
      C11: '20 kN/m',
      C22: '20 kN/m',
      C66: '9 kN/m',
    });
    const found = at('10 mm', stack(4.8));
    expect(found.map((f) => f.figure)).toEqual(['14.4 mm', '4.8 mm over 8 mm']);
    expect(found[0].text).toContain('with "thick"');
    expect(at('5 mm', stack(1.9)).map((f) => f.figure)).toEqual(['1.9 mm in 5 mm']);
    expect(at('6 mm', stack(1.9))).toEqual([]);
    expect(at('3 mm', stack(1.9), 'fold').map((f) => f.figure)).toEqual(['1.9 mm in 3 mm']);
  });

  it('a curve of 6 mm with a 10 mm allowance is a warning, of 30 mm a note to clip', () => {
    const at = (R: number) => {
      const face = {
        rectangle: { width: '100 mm', height: '100 mm', radius: [`${R} mm`, 0, 0, 0] },
        open: ['top', 'right', 'left'],
        chains: { low: ['left-bottom', 'bottom'] },
      };
      return check(
        { a: face, b: { ...rectangle(100 - R + (Math.PI / 2) * R, 40), open: ['left', 'right', 'top'] } },
        { A: { join: ['a.low', 'b.bottom'], allowance: '10 mm' } },
      );
    };
    expect(at(6).warnings[0]).toMatchObject({ kind: 'tight curve', panel: 'a', edge: 'left-bottom', figure: 'radius 6 mm' });
    expect(kinds(at(30).warnings)).toEqual([]);
    // A quarter of 30 mm is 47.1 mm long: 9 mm apart makes 6 steps, 5 clips between its ends.
    expect(at(30).notes).toMatchObject([{ kind: 'clip marks', figure: 'radius 30 mm, 5 clips' }]);
  });

  it('a row of topstitching 12 mm from a seam of 10 mm allowance is a warning, 8 mm is none, and neither is one along an opening or beside a lap', () => {
    const row = (offset: number, along: string, seam: object = {}) =>
      check(
        {
          a: { ...rectangle(100, 100), open: ['left', 'right', 'bottom'], topstitch: [{ along, offset: `${offset} mm` }] },
          b: { ...rectangle(100, 40), open: ['left', 'right', 'top'] },
        },
        { A: { join: ['a.top', 'b.bottom'], allowance: '10 mm', ...seam } },
      ).warnings;
    expect(row(12, 'top')).toMatchObject([{ kind: 'row misses', panel: 'a', edge: 'top', seam: 'A', figure: '2 mm too far in' }]);
    expect(row(12, 'top')[0].text).toContain('12 mm from a.top');
    for (const quiet of [row(8, 'top'), row(10, 'top'), row(12, 'bottom'), row(12, 'top', { type: 'lapped' })]) expect(quiet).toEqual([]);
  });

  it('a row of 3 mm stitches in thread of 12 N is noted at 600 N per 10 cm (stitches x thread x 1.5, sewn-products practice); without a thread nothing is', () => {
    const row = (thread: object) => {
      const { bag } = sewn({ a: { ...rectangle(100, 100), topstitch: [{ along: 'top', offset: '6 mm', ...thread }] } }, {});
      return checkThread(bag);
    };
    expect(row({ thread: '12 N' })).toMatchObject([{ kind: 'row strength', panel: 'a', edge: 'top', figure: '600 N per 10 cm' }]);
    expect(row({ thread: '12 N' })[0].value).toBeCloseTo((12 * 1.5) / 0.003, 9);
    expect(row({})).toEqual([]);
  });

  it('five squares round a point add up to 450 deg: a warning', () => {
    const square = { ...rectangle(100, 100), open: ['right', 'top'] };
    const panels = Object.fromEntries(['a', 'b', 'c', 'd', 'e'].map((n) => [n, square]));
    const ring = ['a', 'b', 'c', 'd', 'e'];
    const { warnings } = check(panels, Object.fromEntries(ring.map((n, i) => [`s${i}`, { join: [`${n}.left`, `${ring[(i + 1) % 5]}.bottom`] }])));
    expect(warnings.map((w) => `${w.kind} ${w.figure}`)).toEqual(['angle sum 450 deg']);
  });

  it('a corner of 15 deg is too sharp to turn; a panel cut on the bias is noted', () => {
    const h = 200 * Math.tan((15 * Math.PI) / 180);
    const mm = (x: number, y: number) => [`${x} mm`, `${y.toFixed(6)} mm`];
    const { warnings, notes } = check({ a: { outline: [{ at: mm(0, 0) }, { at: mm(200, 0) }, { at: mm(200, h) }], grain: '45 deg' } }, {});
    expect(warnings).toMatchObject([{ kind: 'sharp corner', figure: '15 deg' }]);
    expect(notes).toMatchObject([{ kind: 'grain', figure: '45 deg' }]);
  });
});
