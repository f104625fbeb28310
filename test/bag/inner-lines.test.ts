import { describe, expect, it } from 'vitest';
import { parseBag, parseBagDocument, printBag } from '../../src/bag/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { EDGE_FOLD } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { flatSvg } from '../../src/pattern/flat.ts';
import { faultsOf, file, panel, RECTANGLE } from './made.ts';

const fold = {
  points: [
    [0, '100 mm'],
    ['300 mm', '100 mm'],
  ],
  fold: '5 mm',
  angle: '90 deg',
};

describe('fold lines and other lines of a panel', () => {
  it('are read in metres and radians, printed as written', () => {
    const lines = {
      crease: fold,
      guide: {
        points: [
          ['50 mm', '150 mm'],
          ['W/2', '200 mm'],
          ['250 mm', '150 mm'],
        ],
      },
    };
    const written = file({ ...RECTANGLE, lines }, {}, { parameters: { W: '300 mm' } });
    const { document, bag } = parseBagDocument(written);
    expect(bag.panels[0].lines[0]).toEqual({
      name: 'crease',
      points: [
        [0, 0.1],
        [0.3, 0.1],
      ],
      fold: { width: 0.005, angle: Math.PI / 2 },
    });
    expect(bag.panels[0].lines[1].fold).toBeNull();
    expect(parseBag(printBag(document))).toEqual(bag);
  });

  it('every fault at once: one point, a point outside, a point twice, a line across a notch, an angle without fold, a negative width', () => {
    const lines = {
      single: { points: [[0, 0]] },
      out: {
        points: [
          [0, 0],
          ['400 mm', '100 mm'],
        ],
      },
      twice: {
        points: [
          [0, 0],
          [0, 0],
        ],
      },
      angle: {
        points: [
          [0, 0],
          ['300 mm', '240 mm'],
        ],
        angle: '90 deg',
      },
      width: {
        points: [
          [0, 0],
          ['300 mm', '240 mm'],
        ],
        fold: '-1 mm',
      },
    };
    const paths = faultsOf(file({ ...RECTANGLE, lines })).map((f) => f.path);
    expect(paths).toEqual([
      'panels.p.lines.single.points',
      'panels.p.lines.out.points[1]',
      'panels.p.lines.twice.points[1]',
      'panels.p.lines.angle.angle',
      'panels.p.lines.width.fold',
    ]);
    const notched = {
      outline: [
        { at: [0, 0] },
        { at: ['300 mm', 0] },
        { at: ['300 mm', '200 mm'] },
        { at: ['200 mm', '200 mm'] },
        { at: ['200 mm', '100 mm'] },
        { at: ['100 mm', '100 mm'] },
        { at: ['100 mm', '200 mm'] },
        { at: [0, '200 mm'] },
      ],
      lines: {
        across: {
          points: [
            ['50 mm', '150 mm'],
            ['250 mm', '150 mm'],
          ],
        },
      },
    };
    expect(faultsOf(file(notched)).map((f) => f.path)).toEqual(['panels.p.lines.across.points[1]']);
  });

  it.each([20, 10, 5])('a fold line is mesh edges from end to end at %i mm: 300 mm of them, none elsewhere, no angle under 20 degrees', (mm) => {
    const { bag } = panel({
      ...RECTANGLE,
      lines: {
        crease: fold,
        guide: {
          points: [
            [0, '170 mm'],
            ['300 mm', '190 mm'],
          ],
        },
      },
    });
    const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: mm / 1000 });
    const at = new Map([...mesh.panelVerts[0].verts].map((v, i) => [v, [mesh.panelVerts[0].flat[2 * i], mesh.panelVerts[0].flat[2 * i + 1]]]));
    let [creased, guided] = [0, 0];
    mesh.edgeKind.forEach((kind, e) => {
      const [a, b] = [at.get(mesh.edgeVerts[2 * e]) ?? [0, 0], at.get(mesh.edgeVerts[2 * e + 1]) ?? [0, 0]];
      const length = Math.hypot(a[0] - b[0], a[1] - b[1]);
      if (mesh.edgeLine[e] === 1) guided += length;
      if (kind !== EDGE_FOLD) return;
      creased += length;
      expect(Math.max(Math.abs(a[1] - 0.1), Math.abs(b[1] - 0.1))).toBeLessThan(1e-9);
    });
    console.log(
      `${mm} mm: creased ${creased} m, expected 0.3; guide ${guided} m, expected ${Math.hypot(0.3, 0.02)}; smallest angle ${mesh.quality.minAngleDeg}`,
    );
    expect(creased).toBeCloseTo(0.3, 9);
    expect(guided).toBeCloseTo(Math.hypot(0.3, 0.02), 3);
    expect(mesh.quality.minAngleDeg).toBeGreaterThanOrEqual(20);
  });

  it('is drawn and named on the flat view', () => {
    const { bag } = panel({ ...RECTANGLE, lines: { crease: fold } });
    expect(flatSvg(bag, draftPanels(bag))).toContain('<path class="fold"');
    expect(flatSvg(bag, draftPanels(bag))).toContain('crease, fold line');
  });
});
