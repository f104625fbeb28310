import { describe, expect, test } from 'vitest';
import { templates } from '../../src/bag/index.ts';
import { createDesk, ran, run } from './desk.ts';

const satchel = { 'satchel.bag.json': templates().find((t) => t.name === 'satchel')!.text };
const FILES = ['cards-a4.pdf', 'cards-letter.pdf', 'pattern-a4.pdf', 'pattern-letter.pdf', 'pattern.dxf', 'pattern.pdf', 'pattern.svg'].map((f) => `out/${f}`);

describe('slumpline pattern', () => {
  test('writes one sheet, pages and cards for both papers, SVG and DXF, and lists the pieces', async () => {
    const { code, out, files } = await ran(['pattern', 'satchel.bag.json', '--out', 'out/'], satchel);
    expect(code).toBe(0);
    expect(
      Object.keys(files)
        .filter((f) => f.startsWith('out/'))
        .sort(),
    ).toEqual(FILES);
    expect(out).toContain('1. front: shell, chrome-tanned side 1.6 mm (4 oz), cut 1');
    expect(out).toContain('2. back + flap');
    for (const pdf of FILES.filter((f) => f.endsWith('.pdf'))) expect(files[pdf]!.startsWith('%PDF-1.7'), pdf).toBe(true);
  });

  test('every fault of the flags at once, each with what was expected; nothing is written', async () => {
    const { code, err, files } = await ran(
      ['pattern', 'satchel.bag.json', '--out', 'out', '--option', 'chrome-tanned lether', '--paper', 'a5', '--allowance', '3 m', '--board-margin', 'wide'],
      satchel,
    );
    expect(code).toBe(2);
    for (const words of ['4 faults', 'did you mean "chrome-tanned leather"', '--paper "a5"', '--allowance "3 m"', '--board-margin "wide"'])
      expect(err).toContain(words);
    expect(Object.keys(files)).toEqual(['satchel.bag.json']);
  });

  test('files that are there already are kept, unless --force', async () => {
    const there = { ...satchel, 'out/pattern.svg': 'mine' };
    const refused = await ran(['pattern', 'satchel.bag.json', '--out', 'out'], there);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('already there: out/pattern.svg');
    expect(refused.files).toEqual(there);
    const forced = await ran(['pattern', 'satchel.bag.json', '--out', 'out', '--force', '--paper', 'a4'], there);
    expect(forced.code).toBe(0);
    expect(forced.files['out/pattern.svg']).toContain('<svg');
    expect(Object.keys(forced.files)).not.toContain('out/pattern-letter.pdf');
  });

  test('a full disk leaves no half-written file', async () => {
    const { code, err, files } = await ran(['pattern', 'satchel.bag.json', '--out', 'out'], satchel, { path: 'out/pattern.dxf.part', code: 'ENOSPC' });
    expect(code).toBe(2);
    expect(err).toContain('the disk is full');
    expect(Object.keys(files)).toEqual(['satchel.bag.json']);
  });

  test('a locked folder is told before anything is drawn', async () => {
    const desk = Object.assign(createDesk(satchel), { locked: 'out' });
    expect(await run(desk, ['pattern', 'satchel.bag.json', '--out', 'out'])).toBe(2);
    expect(desk.err).toContain('cannot write to out: permission denied');
  });

  test('an allowance that a hollow curve has no room for is refused with its path and what fits', async () => {
    const bag = {
      slumpline: 1,
      name: 'hollow',
      wanted: 'soft',
      panels: {
        front: {
          outline: [
            { at: [0, 0], edge: 'bottom' },
            { at: ['200 mm', 0], edge: 'right' },
            { at: ['200 mm', '150 mm'], edge: 'top' },
            { at: [0, '150 mm'], edge: 'left', through: ['6 mm', '75 mm'] },
          ],
          open: ['top'],
        },
        back: { mirror: 'front' },
      },
      seams: { s: { join: ['front.left', 'back.left'], allowance: '10 mm' }, r: ['front.right', 'back.right'], b: ['front.bottom', 'back.bottom'] },
      stacks: { cloth: ['canvas10'] },
      options: { plain: { 'every panel': 'cloth' } },
    };
    const easy = await ran(['pattern', 'b.bag.json', '--out', 'out'], { 'b.bag.json': JSON.stringify(bag) });
    expect(easy.code, `a hollow of 472 mm: ${easy.err}`).toBe(0);
    const tight = JSON.stringify(bag).replace('"6 mm","75 mm"', '"75 mm","75 mm"').replace('"10 mm"', '"80 mm"');
    const { code, err } = await ran(['pattern', 'b.bag.json', '--out', 'out'], { 'b.bag.json': tight });
    expect(code).toBe(2);
    expect(err).toContain('seams.s.allowance');
    expect(err).toContain('at most 75 mm');
  });
});
