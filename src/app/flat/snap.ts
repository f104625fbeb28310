import type { UnitChoice } from '../page/format.ts';

/** One grid step: 1 mm, or a sixteenth of an inch. */
export const gridOf = (units: UnitChoice): number => (units !== 'metric' ? 0.0254 / 16 : 0.001);

export interface Neighbour {
  readonly name: string;
  readonly at: readonly [number, number];
}

/** A place caught by the grid, by another corner's x or y, or by the centre line; `why` names what caught it, per axis. */
export interface Snapped {
  readonly at: readonly [number, number];
  readonly why: readonly [string | null, string | null];
}

/**
 * The nearest place to `wish` (m, panel frame): on each axis another corner's coordinate or the centre line x = 0 within `reach`, otherwise the grid.
 * `centre`: what the centre line is called; null where the panel has none.
 */
export function snapped(wish: readonly [number, number], o: { grid: number; reach: number; neighbours: readonly Neighbour[]; centre: string | null }): Snapped {
  const on = (axis: 0 | 1): [number, string | null] => {
    let best: [number, string | null] = [Math.round(wish[axis] / o.grid) * o.grid, null];
    let nearest = o.reach;
    const offer = (value: number, name: string): void => {
      const far = Math.abs(value - wish[axis]);
      if (far >= nearest) return;
      nearest = far;
      best = [value, name];
    };
    for (const n of o.neighbours) offer(n.at[axis], n.name);
    if (axis === 0 && o.centre !== null) offer(0, o.centre);
    return best;
  };
  const [x, whyX] = on(0);
  const [y, whyY] = on(1);
  return { at: [x, y], why: [whyX, whyY] };
}
