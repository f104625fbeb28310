/** The comparison as a table: rows of words for the page and the command line, and a CSV to go on with. */
import { csvCell, formatGsm, formatInches, formatMm, formatRigidity } from '../../units/index.ts';
import { DIRECTIONS } from '../readings.ts';
import type { LengthUnit } from './plots.ts';
import type { ComparedRow } from './rows.ts';

/** One row of the comparison's table. */
export interface TableRow {
  readonly label: string;
  /** One a cloth. */ readonly values: readonly string[];
  /** Ends of the band, one a cloth; '' where there is none. */ readonly bands: readonly string[];
}

const WAYS = { warp: 'lengthwise', weft: 'crosswise', bias: 'at 45°' } as const;

/** Rows of words, the figures that differ first. Parameters: rows of comparedRows; length that droop is told for, m; unit of lengths. */
export function comparedTable(rows: readonly ComparedRow[], length: number, unit: LengthUnit): TableRow[] {
  const size = (m: number): string => (unit === 'in' ? formatInches(m) : formatMm(m, 1));
  const band = (low: string, high: string): string => (low === high ? '' : `${low} to ${high}`);
  const out: TableRow[] = [];
  for (const d of DIRECTIONS)
    out.push({
      label: `Overhang at 41.5°, ${WAYS[d]}`,
      values: rows.map((r) => size(r.overhang[d][1])),
      bands: rows.map((r) => band(size(r.overhang[d][0]), size(r.overhang[d][2]))),
    });
  for (const d of DIRECTIONS)
    out.push({
      label: `Bending length, ${WAYS[d]}`,
      values: rows.map((r) => size(r.bendingLength[d][1])),
      bands: rows.map((r) => band(size(r.bendingLength[d][0]), size(r.bendingLength[d][2]))),
    });
  out.push({
    label: 'Bending length, mean of both ways',
    values: rows.map((r) => size(r.mean[1])),
    bands: rows.map((r) => band(size(r.mean[0]), size(r.mean[2]))),
  });
  const none = rows.map(() => '');
  out.push({
    label: 'Stiffer than',
    values: rows.map((r) => `${Math.round(r.percentile)} of 100 published fabrics`),
    bands: none,
  });
  out.push({
    label: 'Mass per area',
    values: rows.map((r) => formatGsm(r.arealMass[1])),
    bands: rows.map((r) => band(formatGsm(r.arealMass[0]), formatGsm(r.arealMass[2]))),
  });
  out.push({
    label: `A strip ${size(length)} over the edge drops`,
    values: rows.map((r) => (r.droop === null ? 'hangs straight down' : `${size(r.droop.drop)}, ${((r.droop.angle * 180) / Math.PI).toFixed(1)}° below level`)),
    bands: none,
  });
  out.push({
    label: `A heart loop of ${size(2 * length)} is`,
    values: rows.map((r) => (r.loop === null ? 'straight' : `${size(r.loop)} tall`)),
    bands: none,
  });
  return out;
}

/** For the engineer: rigidity of narrow strips. */
export const rigidityRows = (rows: readonly ComparedRow[]): TableRow[] =>
  DIRECTIONS.map((d) => ({
    label: `Bending rigidity, ${WAYS[d]}`,
    values: rows.map((r) => formatRigidity(r.rigidity[d][1])),
    bands: rows.map((r) => `${formatRigidity(r.rigidity[d][0])} to ${formatRigidity(r.rigidity[d][2])}`),
  }));

const figure = (v: number): string => String(Number(v.toPrecision(6)));

/**
 * One line a cloth, UTF-8, comma separated, first line the names with their units: mass in g/m2, lengths in mm, rigidities in uN.m, low, typical and high.
 * Deterministic. Parameters: rows; length that droop is told for, m; program and version.
 */
export function comparedCsv(rows: readonly ComparedRow[], length: number, program: string): string {
  const bands = ['soft', 'typical', 'stiff'] as const;
  const head = [
    'cloth',
    ...bands.map((b) => `mass ${b} g/m2`),
    ...DIRECTIONS.flatMap((d) => bands.map((b) => `overhang ${d} ${b} mm`)),
    ...DIRECTIONS.flatMap((d) => bands.map((b) => `bending length ${d} ${b} mm`)),
    ...DIRECTIONS.flatMap((d) => bands.map((b) => `rigidity ${d} ${b} uN.m`)),
    'percentile of 251 published fabrics',
    `drop at ${figure(length * 1000)} mm overhang mm`,
    `angle at ${figure(length * 1000)} mm overhang deg`,
    `heart loop of ${figure(length * 2000)} mm height mm`,
    'figures from',
    'program',
  ];
  const line = (r: ComparedRow): string[] => [
    r.name,
    ...r.arealMass.map((v) => figure(v * 1000)),
    ...DIRECTIONS.flatMap((d) => r.overhang[d].map((v) => figure(v * 1000))),
    ...DIRECTIONS.flatMap((d) => r.bendingLength[d].map((v) => figure(v * 1000))),
    ...DIRECTIONS.flatMap((d) => r.rigidity[d].map((v) => figure(v * 1e6))),
    figure(r.percentile),
    r.droop === null ? '' : figure(r.droop.drop * 1000),
    r.droop === null ? '' : figure((r.droop.angle * 180) / Math.PI),
    r.loop === null ? '' : figure(r.loop * 1000),
    r.story,
    program,
  ];
  return `${[head, ...rows.map(line)].map((l) => l.map((c) => csvCell(c)).join(',')).join('\r\n')}\r\n`;
}
