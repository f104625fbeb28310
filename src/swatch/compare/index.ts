/** Cloths beside one another: figures, plots and a sheet to hand in, all from theory. */

import { labSheet } from './lab-sheet.ts';
import { droopPlot, type LengthUnit, loopPlot, massPlot } from './plots.ts';
import type { ComparedCloth } from './rows.ts';
import { comparedRows } from './rows.ts';
import { comparedCsv, comparedTable, rigidityRows, type TableRow } from './table.ts';

export { type DrapedCloth, drapedCloth, drapesCsv, drapesPlot, drapesTable } from './drapes.ts';
export { MOST_COMPARED } from './frame.ts';
export { sheetWithDrapes } from './lab-sheet.ts';
export type { LengthUnit } from './plots.ts';
export type { ComparedCloth } from './rows.ts';
export type { TableRow } from './table.ts';

/** Everything that a comparison gives, as text. */
export interface Comparison {
  readonly names: readonly string[];
  readonly table: readonly TableRow[];
  readonly engineer: readonly TableRow[];
  /** SVG. */ readonly plots: { readonly droop: string; readonly mass: string; readonly loops: string };
  readonly csv: string;
  /** HTML. */ readonly sheet: string;
}

/** Length of strip that droop is told for where none is given, m. */
export const COMPARED_LENGTH = 0.1;

/**
 * Sets up to six cloths beside one another by exact strip theory: table, three plots, CSV, lab sheet. Nothing is settled.
 * Parameters: cloths, 1 to 6; length of the strip that droop is told for, m; unit of lengths; program and version, told on every part.
 * Throws RangeError outside these. Deterministic.
 */
export function compareCloths(cloths: readonly ComparedCloth[], length: number, unit: LengthUnit, program: string): Comparison {
  if (cloths.length < 1 || cloths.length > 6) throw new RangeError(`invalid number of cloths ${cloths.length}; expected 1 to 6`);
  const rows = comparedRows(cloths, length);
  const note = { program, unit };
  const loopLength = 2 * rows.reduce((a, r) => Math.max(a, r.overhang.warp[2]), 0);
  const plots = { droop: droopPlot(cloths, rows, note), mass: massPlot(rows, note), loops: loopPlot(cloths, loopLength, note) };
  const table = comparedTable(rows, length, unit);
  const engineer = rigidityRows(rows);
  const names = rows.map((r) => r.name);
  return {
    names,
    table,
    engineer,
    plots,
    csv: comparedCsv(rows, length, program),
    sheet: labSheet({
      title: names.length === 1 ? `Bending of ${names[0]}` : `Bending of ${names.length} cloths`,
      names,
      stories: rows.map((r) => r.story),
      table,
      engineer,
      plots: [plots.droop, plots.mass, plots.loops],
      program,
    }),
  };
}
