import { markPositions } from '../measures/index.ts';
import type { Measures } from '../measures/types.ts';
import { libm } from '../numerics/index.ts';
import { formatAngle, formatMass, trimmed } from '../units/index.ts';
import { leadRun } from './judge.ts';
import { hasGone } from './severity.ts';
import { gateValue, THRESHOLDS } from './thresholds.ts';
import type { BandRun, Result } from './types.ts';
import { length, limit, shown } from './words.ts';

/** One line of figures, the same in the terminal, the picture and the printed page. */
export interface Row {
  readonly label: string;
  /** Where it stops holding, as text; empty when it is not judged. */ readonly limit: string;
  /** Figure of one run. */ readonly value: (run: BandRun) => string;
  /** Signed difference of a run to the first option's, as text; empty when there is none to speak of. */ readonly difference: (
    run: BandRun,
    first: BandRun,
  ) => string;
  /** Its figure for bags that have come down: least to most of these runs. Only of heights. */ readonly range?: (runs: readonly BandRun[]) => string;
  /** Share of the drafted value, 0..1, for the low / mid / high bar; null: no bar. */ readonly bar: (run: BandRun) => number | null;
}

/** Difference of two figures as they are shown, rounded, so that a reader who subtracts gets the same: "+37", "-3", or "" for none. */
function differ(a: number | null, b: number | null, scale: number, digits: number): string {
  if (a === null || b === null || !Number.isFinite(a - b)) return '';
  const [p, q] = [a, b].map((v) => Number((v * scale).toFixed(digits)));
  const text = trimmed(p - q, digits);
  return text === '0' ? '' : p > q ? `+${text}` : text;
}

/** The same of weights, g. */
export const gramsApart = (r: Result, first: Result): string => differ(r.massKg, first.massKg, 1000, 0);

/** "48-61 %": a heap's height is one of many, so all that have come down share one range; "about 61 %" of one alone. */
function span(runs: readonly BandRun[], of: (m: Measures) => number | null, scale: number, unit: string): string {
  const all = runs.flatMap((r) => of(r.measures) ?? []);
  if (all.length === 0) return '-';
  const [low, high] = [Math.min(...all), Math.max(...all)].map((v) => trimmed(v * scale, 0));
  return low === high ? `about ${low} ${unit}` : `${low}-${high} ${unit}`;
}

/** Runs of one option whose bag has come down. */
export const fallen = (result: Result): readonly BandRun[] => result.runs.filter((run) => hasGone(result.verdict.byBand[run.band] ?? 'no verdict'));

/** A row's cell: the figure of the run, or of a bag that has come down the range over all runs that have. */
export const cellOf = (row: Row, result: Result, run: BandRun): string => {
  const down = fallen(result);
  return row.range && down.includes(run) && row.value(run) !== '-' ? row.range(down) : row.value(run);
};

/** Height kept of a run as it is told: of a bag that has come down the range over all runs that have. */
export const keptOf = (result: Result, run: BandRun): string => cellOf(gateRows[0]!, result, run);

/** Least and most height kept of the runs that have come down, as fractions; null where none has, or a closed bag has no height. */
export function heapHeights(result: Result): readonly [number, number] | null {
  const kept = fallen(result).flatMap((r) => r.measures.heightKept ?? []);
  return kept.length === 0 ? null : [Math.min(...kept), Math.max(...kept)];
}

/** Its difference to another run; none where either is a heap's. */
export const apartOf = (row: Row, result: Result, run: BandRun, firstResult: Result, first: BandRun): string =>
  row.range && (fallen(result).includes(run) || fallen(firstResult).includes(first)) ? '' : row.difference(run, first);

const gateRows: readonly Row[] = THRESHOLDS.map(
  (t): Row => ({
    label: t.label,
    limit: limit(t),
    value: (run) => {
      if (t.gate !== 'topEdgeDrop' || run.measures.topEdgeDrop === null) return shown(t, gateValue(t.gate, run.measures));
      return length(run.measures.topEdgeDrop);
    },
    difference: (run, first) => {
      if (t.gate === 'topEdgeDrop') return differ(run.measures.topEdgeDrop, first.measures.topEdgeDrop, 1000, 0).replace(/(.)$/, '$1 mm');
      const [a, b] = [gateValue(t.gate, run.measures), gateValue(t.gate, first.measures)];
      if (t.shown === 'angle') return differ(a, b, 180 / Math.PI, 1);
      if (t.shown === 'length') return differ(a, b, 1000, 0).replace(/(.)$/, '$1 mm');
      return t.shown === 'ratio' ? differ(a, b, 1, 2) : differ(a, b, 100, 1);
    },
    ...(t.gate === 'heightKept' ? { range: (runs) => span(runs, (m) => m.heightKept, 100, '%') } : {}),
    ...(t.gate === 'topEdgeDrop' ? { range: (runs) => span(runs, (m) => m.topEdgeDrop, 1000, 'mm') } : {}),
    bar: (run) => {
      const v = gateValue(t.gate, run.measures);
      return v === null || t.shown === 'angle' || t.shown === 'length' ? null : Math.min(1, Math.max(0, v));
    },
  }),
);

const plain = (label: string, key: keyof Measures, format: (v: number) => string, scale: number, digits: number): Row => ({
  label,
  limit: '',
  value: (run) => {
    const v = run.measures[key];
    return v === null ? '-' : format(v);
  },
  difference: (run, first) => differ(run.measures[key], first.measures[key], scale, digits),
  bar: () => null,
});

/** Rows of a report, in order. The limit of the top-edge drop is given for the bag at hand. */
export function rowsOf(result: Result): readonly Row[] {
  const height = leadRun(result.runs).measures.draftedHeight;
  const gates = gateRows.map((row, i) => {
    const t = THRESHOLDS[i];
    return t.gate === 'topEdgeDrop' && height !== null ? { ...row, limit: `<= ${length(t.holds * height)}` } : row;
  });
  const rim: Row = { ...plain('rim height', 'rimHeight', length, 1000, 0), range: (runs) => span(runs, (m) => m.rimHeight, 1000, 'mm') };
  return [rim, ...gates, plain('folds over 5 mm', 'folds', (v) => trimmed(v, 0), 1, 0)];
}

/** "Stands on its stack" figures of one panel, as text. */
function panelLine(run: BandRun, name: string): readonly string[] {
  const p = run.panels.find((q) => q.name === name);
  if (p === undefined) return [];
  const bend = p.curvature > 1 ? length(1 / p.curvature) : 'flat';
  const orDash = (v: number | null, f: (v: number) => string) => (v === null ? '-' : f(v));
  return [
    p.name,
    p.height > 0 ? length(p.height) : '-',
    length(p.overhang),
    p.height > 0 ? trimmed(p.standNumber, 2) : '-',
    orDash(p.heightKept, (v) => `${trimmed(100 * v, 0)} %`),
    orDash(p.lean, (v) => formatAngle(v)),
    bend,
    formatMass(p.massKg),
  ];
}

/** The lines of all panels, of members and hardware, and of what the bag weighs beside them where that is half a gram or more: its straps. */
export function panelLines(result: Result): readonly (readonly string[])[] {
  const lead = leadRun(result.runs),
    dashes = new Array<string>(PANEL_HEADS.length - 2).fill('-'),
    parts = result.parts ?? [],
    rest = result.massKg - lead.panels.reduce((sum, p) => sum + p.massKg, 0) - parts.reduce((sum, p) => sum + p.massKg, 0),
    lines = [...lead.panels.map((p) => panelLine(lead, p.name)), ...parts.map((p) => [`${p.name}: ${p.what}`, ...dashes, formatMass(p.massKg)])];
  return rest > 5e-4 ? [...lines, [beside(lead), ...dashes, formatMass(rest)]] : lines;
}

/** What a bag weighs beside its panels. */
const beside = ({ closures }: BandRun): string => (closures ? 'straps, closures' : 'straps');

/** Heads of panelLine's columns. */
export const PANEL_HEADS: readonly string[] = ['panel', 'height', 'overhang 41.5 deg', 'stand number', 'height kept', 'lean', 'tightest bend', 'weight'];

/** Where the marks of one run went from their drafted places, in file order: "down 28 mm (1 1/8 in), sideways 55 mm (2 3/16 in)". */
export function markLines(
  result: Result,
  run: BandRun,
): readonly { readonly name: string; readonly text: string; readonly down: string; readonly side: string }[] {
  const drafted = markPositions(result.mesh, result.drafted);
  return Object.entries(run.marks).flatMap(([name, at]) => {
    const from = drafted[name];
    if (from === undefined) return [];
    const drop = from[2] - at[2];
    const side = libm.hypot(at[0] - from[0], at[1] - from[1]);
    const down = `${drop < 0 ? 'up' : 'down'} ${length(Math.abs(drop))}`;
    return [{ name, text: `${down}, sideways ${length(side)}`, down, side: length(side) }];
  });
}
