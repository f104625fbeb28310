import { expect, test } from 'vitest';
import { patternFile } from '../../src/app/flat/pattern-file.ts';
import { templates } from '../../src/bag/index.ts';

const satchel = templates().find((t) => t.name === 'satchel')!.text;

test('each form of the pattern is a file of its kind: PDF pages, one sheet, SVG, DXF, the list, cards', async () => {
  const option = 'chrome-tanned leather';
  const starts = { a4: '%PDF-1.7', letter: '%PDF-1.7', sheet: '%PDF-1.7', svg: '<svg ', dxf: '0\nSECTION', list: 'Rounded-corner satchel' } as const;
  for (const [form, start] of Object.entries(starts)) {
    const file = await patternFile(satchel, option, form as keyof typeof starts);
    if (!file.ok) throw new Error(file.why);
    const text = typeof file.data === 'string' ? file.data : new TextDecoder('latin1').decode(file.data);
    expect(text.startsWith(start), `${form}: ${text.slice(0, 20)}`).toBe(true);
    expect(file.notes.join()).toContain('flap');
  }
  for (const form of ['cards-a4', 'cards-letter'] as const) {
    const cards = await patternFile(satchel, option, form);
    if (!cards.ok) throw new Error(cards.why);
    expect([new TextDecoder('latin1').decode(cards.data as Uint8Array).slice(0, 8), cards.pages], form).toEqual(['%PDF-1.7', 1]);
  }
  const a4 = await patternFile(satchel, option, 'a4');
  expect(a4.ok && a4.pages, 'the map and the pages').toBe(16);
});

test('an allowance that does not fit is told instead of a file', async () => {
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
          { at: [0, '150 mm'], edge: 'left', through: ['75 mm', '75 mm'] },
        ],
        open: ['top'],
      },
      back: { mirror: 'front' },
    },
    seams: { s: { join: ['front.left', 'back.left'], allowance: '80 mm' }, r: ['front.right', 'back.right'], b: ['front.bottom', 'back.bottom'] },
    stacks: { cloth: ['canvas10'] },
    options: { plain: { 'every panel': 'cloth' } },
  };
  expect(await patternFile(JSON.stringify(bag), 'plain', 'a4')).toEqual({ ok: false, why: expect.stringContaining('at most 75 mm') });
});
