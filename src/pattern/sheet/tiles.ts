/** A sheet cut into pages of office paper that are glued together. */
import { meetsBox, wordBox } from './labels.ts';
import type { Sheet } from './types.ts';

/** Papers, mm: A4 (ISO 216) and US letter (8.5 x 11 in). */
export const PAPERS = { a4: [210, 297], letter: [215.9, 279.4] } as const;
/** Paper that the pattern is printed on. */
export type TilePaper = keyof typeof PAPERS;

/** Border that printers leave free, and the foot with the squares, mm. */
export const EDGE = 8;
const FOOT = 51 + 4;
/** Two neighbouring pages share a strip of this width, mm. */
export const OVERLAP = 10;
/** Half the widest pen, mm. */
const PEN = 0.3;

/** One page of the pattern: its letter and number, and the part of the sheet that it shows, mm. */
export interface Tile {
  readonly name: string;
  readonly column: number;
  readonly row: number;
  readonly x: number;
  readonly y: number;
}

/** The pages of a sheet; width, height: what each shows of it, whole millimetres. */
export interface Tiling {
  readonly paper: TilePaper;
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly rows: number;
  /** Row by row; pages with nothing on them are left out. */ readonly tiles: readonly Tile[];
}

const letterOf = (column: number): string => (column < 26 ? '' : String.fromCharCode(64 + Math.floor(column / 26))) + String.fromCharCode(65 + (column % 26));

/** Does the sheet have anything within a part of it? */
function inked(sheet: Sheet, x: number, y: number, width: number, height: number): boolean {
  const box = [x - PEN, y - PEN, x + width + PEN, y + height + PEN] as const;
  const words = sheet.texts.some((t) => {
    const w = wordBox(t, 0);
    return w[0] < box[2] && w[2] > box[0] && w[1] < box[3] && w[3] > box[1];
  });
  return (
    words ||
    sheet.lines.some((l) =>
      l.points.some((p, i) => {
        if (i === l.points.length - 1 && !l.closed) return false;
        const q = l.points[(i + 1) % l.points.length]!;
        return meetsBox([p[0], p[1], q[0], q[1]], box);
      }),
    )
  );
}

/** The pages of a sheet on one paper, upright. Neighbours overlap by 10 mm; pages together cover all that is drawn. */
export function tilesOf(sheet: Sheet, paper: TilePaper): Tiling {
  const [wide, tall] = PAPERS[paper];
  const [width, height] = [Math.floor(wide - 2 * EDGE), Math.floor(tall - 2 * EDGE - FOOT)];
  const count = (long: number, step: number): number => Math.max(1, Math.ceil((long - OVERLAP) / (step - OVERLAP)));
  const [columns, rows] = [count(sheet.width, width), count(sheet.height, height)];
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const [x, y] = [column * (width - OVERLAP), row * (height - OVERLAP)];
      if (inked(sheet, x, y, width, height)) tiles.push({ name: `${letterOf(column)}${row + 1}`, column, row, x, y });
    }
  return { paper, width, height, columns, rows, tiles };
}
