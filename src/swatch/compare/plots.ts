/** The three plots in which cloths are compared: droop against overhang, bending length against mass, heart loops against length. */
import { INCH } from '../../units/index.ts';
import { PUBLISHED_LENGTHS } from '../published.ts';
import { droopCurve, loopCurve } from './curves.ts';
import { type Plot, plotSvg } from './frame.ts';
import { type ComparedCloth, type ComparedRow, CUTS } from './rows.ts';

/** Unit that lengths are told in. */
export type LengthUnit = 'mm' | 'in';

/** What every plot tells of its figures' origin. */
export interface PlotNote {
  /** Program and version, such as "slumpline 0.2.0". */ readonly program: string;
  readonly unit: LengthUnit;
}

const FIXED_ANGLE = 41.5;
const one = (unit: LengthUnit): number => (unit === 'in' ? INCH : 0.001);

const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);

/**
 * Angle below level of a strip pushed out over an edge, against its overhang, along the warp: a line a cloth by exact theory; its mark at 41.5 deg with the
 * ends of its band. The strip's length that the table speaks of is no part of it. Returns SVG text.
 */
export function droopPlot(cloths: readonly ComparedCloth[], rows: readonly ComparedRow[], note: PlotNote): string {
  const size = one(note.unit);
  const far = 1.5 * most(rows.map((r) => r.overhang.warp[2]));
  const plot: Plot = {
    title: 'How far a strip droops',
    across: { label: `overhang, ${note.unit}`, low: 0, high: far / size },
    up: { label: 'angle below level, deg (strip along the warp)', low: 0, high: 90, down: true, marks: [0, 15, 30, 45, 60, 75, 90] },
    series: cloths.map((c, i) => ({
      name: c.name,
      line: droopCurve(c.sheets[1], CUTS.warp, far).map(([x, a]) => [x / size, (a * 180) / Math.PI] as const),
      marks: [{ x: rows[i]!.overhang.warp[1] / size, y: FIXED_ANGLE, acrossBand: [rows[i]!.overhang.warp[0] / size, rows[i]!.overhang.warp[2] / size] }],
    })),
    rules: [{ y: FIXED_ANGLE, label: '41.5°' }],
    notes: ['Lines: typical bolt, exact strip theory (Peirce 1930). Bar at 41.5°: soft to stiff bolt.', note.program],
  };
  return plotSvg(plot);
}

/** Bending length against mass per area: full marks along the warp, hollow ones along the weft, bars for the band, and the published fabrics behind. */
export function massPlot(rows: readonly ComparedRow[], note: PlotNote): string {
  const size = one(note.unit);
  const gsm = (v: number): number => v * 1000;
  const plot: Plot = {
    title: 'Bending length and mass',
    across: { label: 'mass per area, g/m²', low: 0, high: 1.1 * most(rows.map((r) => gsm(r.arealMass[2]))) },
    up: {
      label: `bending length, ${note.unit} (full: warp, hollow: weft)`,
      low: 0,
      high: most(rows.flatMap((r) => [r.bendingLength.warp[2], r.bendingLength.weft[2], 0.0329])) / size,
    },
    series: rows.map((r) => ({
      name: r.name,
      line: [],
      marks: (['warp', 'weft'] as const).map((d) => ({
        x: gsm(r.arealMass[1]),
        y: r.bendingLength[d][1] / size,
        acrossBand: [gsm(r.arealMass[0]), gsm(r.arealMass[2])] as const,
        upBand: [r.bendingLength[d][0] / size, r.bendingLength[d][2] / size] as const,
        hollow: d === 'weft',
      })),
    })),
    rules: PUBLISHED_LENGTHS.filter(([p]) => [10, 50, 90].includes(p)).map(([p, length]) => ({ y: length / size, label: `${p} of 100 fabrics are limper` })),
    notes: ['Dashed: 251 published fabrics (Feng et al. 2022). Bars: soft to stiff bolt.', note.program],
  };
  return plotSvg(plot);
}

/** Height of a heart loop against the strip's length, along the warp, typical bolt. The straight line of a strip that hangs double is its limit. */
export function loopPlot(cloths: readonly ComparedCloth[], length: number, note: PlotNote): string {
  const size = one(note.unit);
  const plot: Plot = {
    title: 'Heart loops',
    across: { label: `length of strip, ${note.unit}`, low: 0, high: length / size },
    up: { label: `height from clamp to lowest point, ${note.unit}`, low: 0, high: length / 2 / size },
    series: cloths.map((c) => ({ name: c.name, line: loopCurve(c.sheets[1], CUTS.warp, length).map(([x, y]) => [x / size, y / size] as const), marks: [] })),
    rules: [],
    notes: ['Typical bolt along the warp, exact strip theory (Peirce 1930; Plaut 2015).', note.program],
  };
  return plotSvg(plot);
}
