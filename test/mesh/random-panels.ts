import fc from 'fast-check';
import type { Bag, OutlineEdge, Panel, Point2 } from '../../src/bag/types.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import type { Draft } from '../../src/panels/types.ts';
import { flatPanel } from '../panels/shapes.ts';

/** A bag of one panel, without the parser: only what drafting and meshing read. */
export function lone(panel: Panel): { bag: Bag; draft: Draft } {
  const bag = { version: 1, name: 'lone', panels: [panel], seams: [] } as unknown as Bag;
  return { bag, draft: draftPanels(bag) };
}

const unit = fc.double({ min: 0, max: 1, noNaN: true });

/**
 * A panel that can be cut: 3 to 9 corners round a middle, 60-400 mm across, sides straight, arcs or cubics, perhaps a hole and a region border
 * across it. Kept when the outline does not cross itself and no corner is under `sharpest` rad.
 */
export const randomPanel = (sharpest: number) =>
  fc
    .record({
      corners: fc.array(fc.record({ turn: unit, reach: unit, kind: unit, bow: unit }), { minLength: 3, maxLength: 9 }),
      size: unit,
      flat: unit,
      hole: fc.boolean(),
      region: fc.option(unit),
    })
    .map(({ corners, size, flat, hole, region }) => {
      const n = corners.length;
      const [w, h] = [0.06 + 0.34 * size, (0.06 + 0.34 * size) * (0.3 + 0.7 * flat)];
      const points = corners.map(({ turn, reach }, i): Point2 => {
        const angle = (2 * Math.PI * (i + 0.15 + 0.7 * turn)) / n;
        return [w * (0.35 + 0.65 * reach) * Math.cos(angle), h * (0.35 + 0.65 * reach) * Math.sin(angle)];
      });
      const outline = points.map((p, i): OutlineEdge => {
        const q = points[(i + 1) % n];
        const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
        const bow = 0.5 * (corners[i].bow - 0.5);
        const name = `e${i}`;
        if (corners[i].kind < 0.6) return { name, kind: 'line', from: p, to: q };
        if (corners[i].kind < 0.8) return { name, kind: 'arc', from: p, to: q, via: [(p[0] + q[0]) / 2 + bow * dy, (p[1] + q[1]) / 2 - bow * dx] };
        return {
          name,
          kind: 'cubic',
          from: p,
          to: q,
          control: [
            [p[0] + 0.3 * dx + bow * dy, p[1] + 0.3 * dy - bow * dx],
            [q[0] - 0.3 * dx + bow * dy, q[1] - 0.3 * dy - bow * dx],
          ],
        };
      });
      const r = 0.05 * h;
      const holes: OutlineEdge[][] = hole ? [[{ name: 'hole', kind: 'arc', from: [r, 0], via: [-r, 0], to: [r, 0] }]] : [];
      const border = region === null ? null : h * (region - 0.5);
      const regions =
        border === null
          ? []
          : [
              {
                name: 'low',
                stack: 's',
                outline: [
                  [-1, -1],
                  [1, -1],
                  [1, border],
                  [-1, border],
                ] as Point2[],
              },
            ];
      return { ...flatPanel(outline, holes), regions };
    })
    .filter((panel) => {
      try {
        const drafted = lone(panel).draft.panels[0];
        return (
          drafted.crossings.length === 0 && Math.min(...drafted.cornerAngle.slice(0, panel.outline.length)) > sharpest && drafted.area > 0.25 * 0.06 * 0.02
        );
      } catch {
        return false;
      }
    });
