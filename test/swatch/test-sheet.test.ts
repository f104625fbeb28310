/** One test to hand in: CSV, drawing and sheet, against the result they are made of. */
import { describe, expect, it } from 'vitest';
import { isotropic, sheetWithDrapes, swatchTest, testCsv, testDrawing, testSheet } from '../../src/swatch/index.ts';

const sheet = isotropic(0.34, 1e-4, 5e3),
  r = swatchTest('cantilever', { sheet, mesh: 0.008 }),
  about = {
    title: 'Overhang',
    how: 'A strip over an edge.',
    cloth: 'made <b>',
    story: 'typed figures',
    bolt: 'typical bolt',
    arealMass: 0.34,
    overhang: 0.0622,
    cut: 0,
    mesh: 0.008,
    size: (m: number) => `${(1000 * m).toFixed(1)} mm`,
    program: 'slumpline test',
  };

describe('one test to hand in', () => {
  it('CSV: reading, theory and their difference to 6 digits, mesh 8 mm, source and version', () => {
    const lines = testCsv(r, about).split('\r\n'),
      value = (name: string): string =>
        lines
          .find((l) => l.replaceAll('"', '').startsWith(name))!
          .split(',')
          .at(-2)!;
    expect(Number(value('reading:'))).toBeCloseTo(r.reading, 3);
    expect(Number(value('theory'))).toBeCloseTo(r.theory!, 3);
    expect(Number(value('reading less theory'))).toBeCloseTo(r.reading - r.theory!, 4);
    expect(value('mesh edge')).toBe('8');
    expect(lines.some((l) => l.startsWith('source,'))).toBe(true);
    expect(lines.some((l) => l.startsWith('program,slumpline test'))).toBe(true);
  });

  it('what is not at rest has no digit in CSV or sheet', () => {
    const moving = { ...r, status: 'notConverged' as const };
    expect(testCsv(moving, about)).toMatch(/\r\n"?reading: [^\r]*,,deg\r\n/);
    const html = testSheet(moving, about, '');
    expect(html).toContain('not at rest: no reading');
    expect(html).not.toContain(`${r.reading.toFixed(2)}`);
  });

  it('drawing: the bar is to the scale of the strip, within 0.2 px; every figure finite', () => {
    const svg = testDrawing(r, about, r.model.triVerts, r.x),
      d = /<path d="([^"]+)" fill="none" stroke="[^"]+" stroke-width=".6"/.exec(svg)![1]!,
      xs = [...d.matchAll(/[ML](-?[\d.]+) /g)].map((m) => Number(m[1])),
      bar = Number(/<path d="M16 [\d.]+h([\d.]+)m0/.exec(svg)![1]),
      long = Number(/>(\d+) mm<\/text>/.exec(svg)![1]) / 1000,
      real = r.model.triVerts.reduce((box, v) => [Math.min(box[0]!, r.x[3 * v]!), Math.max(box[1]!, r.x[3 * v]!)], [9, -9]);
    const scale = (Math.max(...xs) - Math.min(...xs)) / (real[1]! - real[0]!);
    console.log(`scale ${scale} px/m, bar ${bar} px for ${long} m`);
    expect(Math.abs(bar - scale * long)).toBeLessThan(0.2);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(svg).toContain('made &#60;b&#62;');
  });

  it('sheet: test, drawing, reading, theory, error, source, and 5 rows of 2 for own readings with mean and difference', () => {
    const html = testSheet(r, about, '<svg id="piece"></svg>');
    for (const part of ['The test', 'id="piece"', 'Read off the settled piece', 'Theory', 'Reading less theory', 'Your own readings', r.source.slice(0, 12)])
      expect(html).toContain(part);
    expect(html.match(/class="blank"/g)).toHaveLength(2 * 7);
    expect(html).not.toContain('<b>');
  });

  it('the drape test stands on the sheet of a comparison, with what settled in its place', () => {
    const filled = sheetWithDrapes('<p><!--draped--></p>', ['a & b'], [{ label: 'Folds', values: ['7'], bands: [''] }], '<svg/>');
    expect(filled).toContain('a &#38; b');
    expect(filled).toContain('<td>7</td>');
    expect(filled).not.toContain('<!--');
  });
});
