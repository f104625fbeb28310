import { h, svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardEdge } from './board-data.ts';
import { draw as words } from './draw-words.ts';
import { sizeText } from './form-parts.ts';

/** How an edge goes with the side that is picked: not at all, within cutting tolerance, with some ease, or at another length. */
type Fit = 'none' | 'fits' | 'eases' | 'apart' | 'picked';

/** What is let pass at the cutting table, and what can be worked in without pleats: as in the pattern check (panels/check-seams.ts, common practice). */
const CUTTING = { most: 0.003, share: 0.01 } as const;
const EASE = 0.05;

/** The fit of an edge to a side of a length, m; null: no side is picked yet. */
function fitOf(edge: BoardEdge, length: number | null): Fit {
  if (length === null) return 'none';
  const apart = Math.abs(edge.length - length);
  if (apart <= Math.max(CUTTING.most, CUTTING.share * length)) return 'fits';
  return apart <= EASE * length ? 'eases' : 'apart';
}

export const isFree = (edge: BoardEdge): boolean => edge.seams.length === 0 && !edge.open;

export function stateOf(edge: BoardEdge, length: number | null, units: UnitChoice): string {
  const by = sizeText(Math.abs(edge.length - (length ?? 0)), units);
  const fit = fitOf(edge, length);
  const fits =
    fit === 'none' ? '' : fit === 'fits' ? words.fits : fit === 'eases' ? words.eases(by) : edge.length > (length ?? 0) ? words.longer(by) : words.shorter(by);
  const sewn = edge.seams.length > 0 ? `${words.sewnAlready} (${edge.seams.join(', ')})` : edge.open ? words.open : '';
  return [fits, sewn].filter((s) => s !== '').join(', ') || 'not sewn yet';
}

/** Every edge as a broad line that can be pressed; `sewing`: by keys as well, one of them in the tab order, the arrow keys going on from it. */
export function paintEdges(
  board: Board,
  o: { sewing: boolean; picked: ReadonlySet<string>; length: number | null; units: UnitChoice; focus: string },
): SVGElement {
  const group = svg('g', { class: o.sewing ? 'edges sewing' : 'edges' });
  const focus = board.edges.some((e) => e.ref === o.focus) ? o.focus : (board.edges.find(isFree) ?? board.edges[0])?.ref;
  const held = o.picked.size === 0 ? null : o.length;
  for (const edge of board.edges) {
    const fit: Fit = o.picked.has(edge.ref) ? 'picked' : fitOf(edge, held);
    const label = words.edge(edge.panel, edge.edge, sizeText(edge.length, o.units), stateOf(edge, o.picked.has(edge.ref) ? null : held, o.units));
    const keys = o.sewing
      ? {
          tabindex: edge.ref === focus ? 0 : -1,
          role: 'button',
          'aria-label': label,
          'aria-pressed': String(fit === 'picked'),
          'data-hold': `edge ${edge.ref}`,
        }
      : {};
    const g = svg(
      'g',
      { class: `edge-pick fit-${isFree(edge) || fit === 'picked' ? fit : 'taken'}`, 'data-edge': edge.ref, ...keys },
      svg('title', {}, o.sewing ? label : `${edge.panel}, ${edge.edge}`),
      svg('path', { class: 'edge-reach', d: edge.d }),
      svg('path', { class: 'edge-line', d: edge.d }),
    );
    if (o.sewing && isFree(edge)) {
      const [x, y] = edge.at;
      const text = sizeText(edge.length, o.units);
      const wide = 7 * text.length + 10;
      g.append(
        svg('rect', { class: 'edge-chip', x: x - wide / 2, y: y - 9, width: wide, height: 18, rx: 3 }),
        svg('text', { class: 'edge-length', x, y: y + 4 }, text),
      );
    }
    group.append(g);
  }
  return group;
}

/** The edge after or before one, round all panels. */
export function nextEdge(board: Board, ref: string, by: 1 | -1): string {
  const i = board.edges.findIndex((e) => e.ref === ref);
  return board.edges[(i + by + board.edges.length) % board.edges.length]?.ref ?? '';
}

/** A line of the list of what lies where, for the lists of edges. */
export const edgeChoice = (edge: BoardEdge, length: number | null, units: UnitChoice): readonly [string, string] => [
  edge.ref,
  `${edge.ref}, ${sizeText(edge.length, units)}, ${stateOf(edge, length, units)}`,
];

export const noDrawing = (): HTMLElement => h('p', { class: 'sheet-empty' }, words.empty);
