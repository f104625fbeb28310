/** Runs as lines of a file: one line of JSON a run, written when it ends; and read back, whatever became of the machine meanwhile. */
import type { Fault } from '../../bag/types.ts';
import type { Band } from '../../material/types.ts';
import { leadRun } from '../judge.ts';
import { SEVERITY } from '../severity.ts';
import type { Result } from '../types.ts';
import type { PlannedBand, PlannedRun } from './types.ts';

type Head = Pick<PlannedRun, 'run' | 'plan' | 'values' | 'option' | 'stance'>;

/** 12 digits, and no -0: what JSON can hold and what two machines agree on. */
const figure = (v: number | null): number | null => (v === null || !Number.isFinite(v) ? null : Number(v.toPrecision(12)) || 0);

/** What is written down of a settled run. */
export function plannedRun(head: Head, result: Result): PlannedRun {
  const { verdict, runs } = result,
    lead = leadRun(runs),
    bands: Partial<Record<Band, PlannedBand>> = {};
  for (const r of runs) bands[r.band] = { word: verdict.byBand[r.band] ?? 'no verdict', status: r.status, heightKept: figure(r.measures.heightKept) };
  return {
    ...head,
    word: verdict.word,
    reason: verdict.reason,
    margin: figure(verdict.margin),
    heightKept: figure(lead.measures.heightKept),
    tilt: figure(lead.measures.hangTilt),
    meetsWanted: verdict.meetsWanted,
    decidedBy: verdict.decidedBy,
    massKg: figure(result.massKg),
    bands,
  };
}

/** The same of a bag that cannot be made with what its run takes: no word, and why. */
export const refusedRun = (head: Head, faults: readonly Fault[]): PlannedRun => ({
  ...head,
  word: null,
  reason: faults.map((f) => `${f.path === '' ? '' : `${f.path}: `}got ${f.got}; expected ${f.expected}`).join('; '),
  margin: null,
  heightKept: null,
  tilt: null,
  meetsWanted: null,
  decidedBy: null,
  massKg: null,
  bands: {},
});

/** The line of a run, with its end. */
export const lineOf = (run: PlannedRun): string => `${JSON.stringify(run)}\n`;

/** What was read of a file of runs. */
export interface ReadLines {
  readonly runs: readonly PlannedRun[];
  /** Length of what is whole, in UTF-16 units of the text: a last line that was cut short lies behind it. */ readonly whole: number;
  /** What is wrong besides, by the line. */ readonly faults: readonly Fault[];
}

/**
 * Runs of a file. A last line without its end was cut short when the machine or the program stopped: it is left out, and `whole` says where the rest ends. Any other line that is no run is a
 * fault. Parameters: the file's text, or a part of it from the beginning of a line; its name and the number of its first line, for faults.
 */
export function readLines(text: string, name: string, first = 1): ReadLines {
  const end = text.lastIndexOf('\n') + 1,
    faults: Fault[] = [],
    runs: PlannedRun[] = [];
  text
    .slice(0, end)
    .split('\n')
    .forEach((line, i) => {
      if (line === '') return;
      const run = runIn(line);
      if (run) runs.push(run);
      else faults.push({ path: `${name}, line ${first + i}`, got: JSON.stringify(line.slice(0, 60)), expected: 'a run, one line of JSON as sweep writes it' });
    });
  return { runs, whole: end, faults };
}

function runIn(line: string): PlannedRun | null {
  try {
    const r: unknown = JSON.parse(line);
    return isRun(r) ? r : null;
  } catch {
    return null;
  }
}

const isRecord = (v: unknown): v is Readonly<Record<string, unknown>> => typeof v === 'object' && v !== null && !Array.isArray(v);
const figureOrNone = (v: unknown): boolean => v === null || Number.isFinite(v);

/** Has a value all that a run has, each of its own kind? */
export function isRun(v: unknown): v is PlannedRun {
  if (!isRecord(v)) return false;
  const r = v as Partial<PlannedRun>;
  return (
    Number.isInteger(r.run) &&
    r.run! >= 0 &&
    typeof r.plan === 'string' &&
    isRecord(r.values) &&
    Object.values(r.values).every((x) => typeof x === 'string' || Number.isFinite(x)) &&
    isRecord(r.bands) &&
    Object.values(r.bands).every((b) => isRecord(b) && figureOrNone(b.heightKept)) &&
    (r.word === null || SEVERITY.includes(r.word!)) &&
    [r.option, r.stance, r.reason].every((t) => typeof t === 'string') &&
    [r.margin, r.heightKept, r.tilt, r.massKg].every(figureOrNone)
  );
}
