/** Colours of the cutting table, the same as the page's. */
export const MAT = '#17403f';
export const MAT_FLOOR = '#1b4947';
export const TAPE = '#f2c230';
export const CHALK = '#f4f1e6';
export const INK = '#15201f';
export const MUTED = '#5b6967';
export const PAPER = '#fbfbf8';
export const RULE = '#dfe3df';
export const CHOSEN = '#fff7dc';
export const BAND = '#7d9a95';

/** Cloth: undyed canvas outside, its own shade inside. */
export const BAG = { dark: '#8d7c57', light: '#f6eedc', insideDark: '#5a4e37', insideLight: '#a89870' } as const;

/** Things that are not cloth: painted wood, of no particular kind. */
export const SOLID = { dark: '#3d4b4a', light: '#c3cdca' } as const;

export const FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, 'DejaVu Sans', 'Liberation Sans', sans-serif";

/** Colour between two #rrggbb colours, t 0..1. */
export function mix(a: string, b: string, t: number): string {
  const part = (c: string, i: number) => Number.parseInt(c.slice(1 + 2 * i, 3 + 2 * i), 16);
  const hex = [0, 1, 2].map((i) =>
    Math.round(part(a, i) + (part(b, i) - part(a, i)) * t)
      .toString(16)
      .padStart(2, '0'),
  );
  return `#${hex.join('')}`;
}
