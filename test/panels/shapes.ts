import type { OutlineEdge, Panel, Point2 } from '../../src/bag/types.ts';

/** A panel with nothing but an outline and holes. */
export function flatPanel(outline: readonly OutlineEdge[], holes: readonly (readonly OutlineEdge[])[] = []): Panel {
  return { name: 'shape', role: 'flat', outline, holes, chains: {}, grain: 0, marks: [], clips: [], regions: [], lines: [], openings: [], pose: null };
}

export const line = (from: Point2, to: Point2, name = 'line'): OutlineEdge => ({ name, kind: 'line', from, to });
export const arc = (from: Point2, via: Point2, to: Point2, name = 'arc'): OutlineEdge => ({ name, kind: 'arc', from, via, to });
export const cubic = (from: Point2, a: Point2, b: Point2, to: Point2, name = 'cubic'): OutlineEdge => ({ name, kind: 'cubic', from, control: [a, b], to });

export const polygon = (points: readonly Point2[]): OutlineEdge[] => points.map((p, i) => line(p, points[(i + 1) % points.length], `e${i}`));

export const regular = (n: number, r: number): Point2[] =>
  Array.from({ length: n }, (_, i) => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n)]);

/** Rectangle w x h with all corners rounded by r. */
export function rounded(w: number, h: number, r: number): OutlineEdge[] {
  const q = r * (1 - Math.SQRT1_2);
  return [
    line([r, 0], [w - r, 0], 'bottom'),
    arc([w - r, 0], [w - q, q], [w, r], 'c1'),
    line([w, r], [w, h - r], 'right'),
    arc([w, h - r], [w - q, h - q], [w - r, h], 'c2'),
    line([w - r, h], [r, h], 'top'),
    arc([r, h], [q, h - q], [0, h - r], 'c3'),
    line([0, h - r], [0, r], 'left'),
    arc([0, r], [q, q], [r, 0], 'c4'),
  ];
}
