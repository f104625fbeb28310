import type { Board } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { field, pick } from './form-parts.ts';
import { trim as words } from './trim-words.ts';

/** A place on a panel, as an edit wants it. */
export type Spot = Extract<DrawEdit, { do: 'hardware' }>['hardware']['at'][number];

/** A place as it is typed: a panel, one of its edges, how far along and how far in. */
export interface TypedSpot {
  panel: string;
  edge: string;
  share: string;
  inset: string;
}

/** Edges of a panel that a place can be measured from. */
const edgesOf = (board: Board, panel: string): string[] => board.edges.filter((e) => e.panel === panel && !e.edge.startsWith('hole')).map((e) => e.edge);

/** A place in the middle of a panel's upper edge, or of whichever comes first. */
export function usualSpot(board: Board, panel: string, inset: string): TypedSpot {
  const edges = edgesOf(board, panel);
  return { panel, edge: edges.includes('top') ? 'top' : (edges[0] ?? ''), share: '50 %', inset };
}

/** Rows that ask for a place; `again` fills the form anew once another panel is chosen. */
export function spotRows(board: Board, hold: string, label: string, spot: TypedSpot, again: () => void): HTMLElement[] {
  const edges = edgesOf(board, spot.panel);
  const text = (name: string, key: 'share' | 'inset'): HTMLElement => {
    const made = field(name, `${hold} ${key}`, spot[key], null);
    made.input.addEventListener('input', () => {
      spot[key] = made.input.value;
    });
    return made.row;
  };
  return [
    pick(
      label,
      `${hold} panel`,
      board.panels.map((p) => [p, p] as const),
      spot.panel,
      (panel) => {
        Object.assign(spot, usualSpot(board, panel, spot.inset));
        again();
      },
    ),
    pick(
      words.edge,
      `${hold} edge`,
      edges.map((e) => [e, e] as const),
      spot.edge,
      (edge) => {
        spot.edge = edge;
      },
    ),
    text(words.share, 'share'),
    text(words.inset, 'inset'),
  ];
}

const METRES: Readonly<Record<string, number>> = { mm: 0.001, cm: 0.01, in: 0.0254 };

/** The place asked for. A share is of the edge's own length; a length along it is measured from its start. */
export function spotOf(board: Board, { panel, edge, share, inset }: TypedSpot, withUnit: (v: string) => string): Spot {
  const percent = /^(\d+(?:[.,]\d+)?)\s*%$/.exec(share.trim());
  const found = /^([\d.]+)\s*(mm|cm|in)$/.exec(withUnit(share.trim()));
  const long = board.edges.find((e) => e.panel === panel && e.edge === edge)?.length ?? 0;
  const part = percent ? Number(percent[1].replace(',', '.')) / 100 : found && long > 0 ? (Number(found[1]) * METRES[found[2]]) / long : 0.5;
  return { panel, edge, share: Math.min(1, Math.max(0, part)), inset: inset.trim() === '' ? '' : withUnit(inset.trim()) };
}
