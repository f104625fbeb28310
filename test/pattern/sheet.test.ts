import { describe, expect, test } from 'vitest';
import { draftPanels } from '../../src/panels/index.ts';
import { cutPattern, makeSheet, sheetDxf, sheetPdf, sheetSvg, tiledPdf, tilesOf } from '../../src/pattern/cutting.ts';
import { clipsOfSeams } from '../../src/pattern/pieces/notches.ts';
import type { Spot } from '../../src/pattern/sheet/types.ts';
import { clashes, rect } from './clashes.ts';
import { pair, templateBags } from './cut-bags.ts';

const sheets = templateBags().flatMap(({ name, bag }) => bag.options.map((o) => ({ name: `${name}, ${o.name}`, bag, pattern: cutPattern(bag, o.name) })));

describe('sheets of the twelve templates', () => {
  test(`no word lies on a line or on another word, in ${sheets.length} patterns`, () => {
    expect(sheets.flatMap(({ name, pattern }) => clashes(makeSheet(pattern)).map((c) => `${name}: ${c}`))).toEqual([]);
  });

  test('every piece is named, counted and numbered, and has its grain arrow or says where the grain runs', () => {
    for (const { name, pattern } of sheets) {
      const sheet = makeSheet(pattern);
      pattern.pieces.forEach((piece, i) => {
        const words = sheet.texts.filter((t) => t.piece === i + 1).map((t) => t.text);
        expect(words, name).toContain(piece.name);
        expect(words.join('\n'), name).toContain(`piece ${i + 1} of ${pattern.pieces.length}`);
        const arrow = sheet.lines.some((l) => l.piece === i + 1 && l.ink === 'grain');
        expect(arrow || words.some((w) => w.startsWith('grain')), `${name}: grain of ${piece.name}`).toBe(true);
      });
    }
  });

  test('pieces do not lie on one another', () => {
    for (const { name, pattern } of sheets) {
      const sheet = makeSheet(pattern);
      const boxes = sheet.laid.map(({ number }) => {
        const points = sheet.lines.filter((l) => l.piece === number).flatMap((l) => l.points);
        return {
          number,
          x0: Math.min(...points.map((p) => p[0])),
          x1: Math.max(...points.map((p) => p[0])),
          y0: Math.min(...points.map((p) => p[1])),
          y1: Math.max(...points.map((p) => p[1])),
        };
      });
      for (const a of boxes)
        for (const b of boxes)
          expect(a.number < b.number && a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1, `${name}: ${a.number} and ${b.number}`).toBe(false);
    }
  });

  test('seams that meet at a corner of a panel have unlike notches', () => {
    for (const { name, bag } of templateBags()) {
      const draft = draftPanels(bag);
      const clips = clipsOfSeams(draft);
      draft.panels.forEach((panel, p) => {
        panel.edges.forEach((edge, e) => {
          const at = (k: number, end: number): number =>
            draft.seams.findIndex((s) => s.sides.some((side) => side.runs.some((r) => r.panel === p && r.edge === k && (end === 1 ? r.to : r.from) === end)));
          const [a, b] = [at(e, 1), at(edge.next, 0)];
          if (a >= 0 && b >= 0 && a !== b) expect(clips[a], `${name}: ${bag.seams[a]!.name} and ${bag.seams[b]!.name} on ${panel.name}`).not.toBe(clips[b]);
        });
      });
    }
  });

  test('the pages of a sheet cover every line and word, and none is blank', () => {
    for (const { name, pattern } of sheets.slice(0, 12)) {
      const sheet = makeSheet(pattern);
      for (const paper of ['a4', 'letter'] as const) {
        const tiling = tilesOf(sheet, paper);
        const covered = ([x, y]: Spot): boolean => tiling.tiles.some((t) => x >= t.x && x <= t.x + tiling.width && y >= t.y && y <= t.y + tiling.height);
        expect(
          sheet.lines.flatMap((l) => l.points).filter((p) => !covered(p)),
          `${name} on ${paper}`,
        ).toEqual([]);
        expect(
          sheet.texts.flatMap(rect).filter((p) => !covered(p)),
          `${name} on ${paper}`,
        ).toEqual([]);
        expect(tiling.tiles.length, `${name} on ${paper}`).toBeLessThanOrEqual(tiling.columns * tiling.rows);
      }
    }
  });

  test('same pattern, same bytes: SVG, PDF, pages, DXF', () => {
    const { bag } = sheets[3]!;
    const [a, b] = [0, 1].map(() => {
      const sheet = makeSheet(cutPattern(bag));
      return [sheetSvg(sheet), sheetPdf(sheet).join(), tiledPdf(sheet, 'a4').join(), sheetDxf(sheet)];
    });
    expect(a).toEqual(b);
  });

  test('a name in Greek or Cyrillic is written; one in another script is told', () => {
    const bag = pair(
      { rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] },
      { left: '10 mm', right: '10 mm', bottom: '10 mm' },
      { bag: { name: 'τσάντα, сумка' } },
    );
    expect(makeSheet(cutPattern(bag)).notes).toEqual([]);
    const other = pair(
      { rectangle: { width: '300 mm', height: '200 mm' }, open: ['top'] },
      { left: '10 mm', right: '10 mm', bottom: '10 mm' },
      { bag: { name: 'カバン' } },
    );
    expect(makeSheet(cutPattern(other)).notes.join()).toContain('カ バ ン');
  });
});
