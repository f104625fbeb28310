import type { PanelMeasures } from '../measures/types.ts';
import { cautionsFor } from './hung.ts';
import { leadRun } from './judge.ts';
import { overStances } from './over-stances.ts';
import { fallen, heapHeights } from './rows.ts';
import type { BandRun, ClothState, Result, Verdict } from './types.ts';
import { VERSION } from './version.ts';

/** Where results come from, for whoever reads them later. */
export interface Trace {
  /** SHA-256 of the bag file's text, hex; null where there was no file. */ readonly bagDigest: string | null;
  /** The bag file's text, kept with the results, so that they open by themselves. */ readonly bagFile?: string;
  /** Files written beside the results, by their path from the folder. */ readonly files?: readonly string[];
}

/** The kind of file that results are. */
export const RESULT_FORMAT = 'slumpline results';
/** The kind of file that results of several bag files are. */
export const BATCH_FORMAT = 'slumpline results of several files';
/** Version of their shape; a change of shape is another version. */
export const RESULT_VERSION = 2;

/**
 * One result as a plain record in a stable key order: metres, kilograms, newtons, radians, z up; fractions 0..1; null where a figure does not apply.
 * Its own keys come from the middle band (else the first that was run); `bands` holds each run. `margin` is null without a verdict.
 * `positions`: of the run that the own keys come from, by panel: flat place (2 per point, m, panel frame) and settled place (3 per point, m). `lines`: its straps
 * and closures as they lie. `cloth`: strains and stresses of its triangles, and what it may touch. `ends`: places and lines of the other runs. With the bag file they are all that pictures
 * and maps need: results open again without being settled (run/results-again.ts).
 */
export function resultRecord(result: Result): Record<string, unknown> {
  const lead = leadRun(result.runs);
  return {
    ...runHead(lead),
    vertices: result.vertices,
    massKg: result.massKg,
    ...(result.parts ? { parts: result.parts } : {}),
    verdict: verdictRecord(result.verdict),
    ...runBody(lead),
    ...heaps(result),
    option: result.option,
    stance: result.stance,
    settings: result.settings,
    ...(result.ground ? { ground: result.ground } : {}),
    evidence: result.evidence,
    stacks: result.stacks,
    seams: result.seams,
    ...(result.stitching ? { stitching: result.stitching } : {}),
    cautions: cautionsFor(result.runs),
    bands: Object.fromEntries(result.runs.map((run) => [run.band, { ...runHead(run), ...runBody(run) }])),
    positions: positionsRecord(result, lead),
    lines: linesRecord(lead),
    ...(lead.cloth ? { cloth: clothRecord(lead.cloth) } : {}),
    ...endsRecord(result, lead),
  };
}

/**
 * Results of one bag as a record of one shape, whether one option or all, one stance or all (result-schema.ts): where they come from, `over` (one sentence over several
 * stances of one option), then each in `results`. A single one has its keys, but neither places nor cloth, at the top too. No clock stands in it: same input, same bytes.
 */
export function resultsRecord(results: readonly Result[], trace: Trace = { bagDigest: null }): Record<string, unknown> {
  const records = results.map(resultRecord);
  const { positions: _, lines: __, cloth: ___, ends: ____, ...single } = records.length === 1 ? records[0]! : {};
  const stances = new Set(results.map((r) => r.stance)).size > 1;
  return {
    ...single,
    format: RESULT_FORMAT,
    formatVersion: RESULT_VERSION,
    program: { name: 'slumpline', version: VERSION },
    bag: results[0]?.bag ?? null,
    bagDigest: trace.bagDigest,
    ...(trace.files ? { files: trace.files } : {}),
    ...(trace.bagFile === undefined ? {} : { bagFile: trace.bagFile }),
    over: stances && new Set(results.map((r) => r.option)).size === 1 ? overStances(results) : null,
    results: records,
  };
}

/** Results of several bag files as one record, each as resultsRecord has it and with its file's name. */
export const batchRecord = (
  files: readonly { readonly file: string; readonly results: readonly Result[]; readonly trace?: Trace }[],
): Record<string, unknown> => ({
  format: BATCH_FORMAT,
  formatVersion: RESULT_VERSION,
  program: { name: 'slumpline', version: VERSION },
  files: files.map(({ file, results, trace }) => ({ file, ...resultsRecord(results, trace) })),
});

/** JSON text of resultsRecord: two spaces deep, lists of numbers on one line, 12 significant digits (below that two builds of one program may differ), final newline. */
export const resultsJson = (results: readonly Result[], trace?: Trace): string => stableJson(resultsRecord(results, trace));

/** The same of a single result. */
export const resultJson = (result: Result, trace?: Trace): string => resultsJson([result], trace);

/** What the bands that have come down kept: one heap of many, so that which band kept more says nothing about it. */
function heaps(result: Result): Record<string, unknown> {
  const heights = heapHeights(result);
  return heights === null ? {} : { collapsed: { bands: fallen(result).map((r) => r.band), heightKept: heights } };
}

/** Settled places to a tenth of a micron: more is noise, and files are read by people too. */
const places = (list: Iterable<number>): number[] => Array.from(list, (v) => Math.round(v * 1e7) / 1e7);

/** Settled places of a run, by panel. */
const settledRecord = ({ mesh }: Result, { positions }: BandRun): Record<string, number[]> =>
  Object.fromEntries(
    mesh.panelNames.map((name, p) => [name, places([...mesh.panelVerts[p]!.verts].flatMap((v) => [...positions.subarray(3 * v, 3 * v + 3)]))]),
  );

function positionsRecord(result: Result, run: BandRun): Record<string, unknown> {
  const settled = settledRecord(result, run);
  return Object.fromEntries(result.mesh.panelNames.map((name, p) => [name, { flat: places(result.mesh.panelVerts[p]!.flat), settled: settled[name] }]));
}

/** The shapes of the runs whose figures the record's own keys are not. */
function endsRecord(result: Result, lead: BandRun): Record<string, unknown> {
  const others = result.runs.filter((r) => r !== lead && r.positions.length > 0);
  return others.length === 0 ? {} : { ends: Object.fromEntries(others.map((r) => [r.band, { settled: settledRecord(result, r), lines: linesRecord(r) }])) };
}

/** Five digits: more is finer than the triangles' own error. */
const digits = (list: Float64Array): number[] => Array.from(list, (v) => Number(v.toPrecision(5)));

/** Strains and stresses as numbers of their own: places to a tenth of a micron say too little of stiff cloth's. */
const clothRecord = ({ strain, stress, felt, touches }: ClothState): Record<string, unknown> => ({
  strain: digits(strain),
  stress: digits(stress),
  felt,
  touches,
});

/** Straps and closures of a run, 3 per point, m. */
const linesRecord = ({ straps, closureLines = [] }: BandRun): Record<string, unknown> => ({
  straps: straps.map(({ name, width, line }) => ({ name, width, line: places(line) })),
  closures: closureLines.map(({ name, kind, closed, lines, size }) => ({ name, kind, closed, size, lines: lines.map(places) })),
});

function runHead(run: BandRun): Record<string, unknown> {
  return { status: run.status, residual: run.residual, iterations: run.iterations };
}

function runBody(run: BandRun): Record<string, unknown> {
  return {
    measures: run.measures,
    panels: Object.fromEntries(run.panels.map((p) => [p.name, panelRecord(p)])),
    marks: run.marks,
    reactions: run.reactions,
    contact: { crossings: run.contact.crossings, deepestPenetration: run.contact.deepestPenetration, touching: run.contact.touching },
    ...(run.feet && run.feet.length > 0 ? { feet: run.feet } : {}),
    ...(run.contents.length > 0 ? { contents: run.contents.map(({ name, mass, at, axes, shape, offset }) => ({ name, mass, at, axes, shape, offset })) } : {}),
    balance: run.balance,
    strain: run.strain,
    hung: run.hung,
    ...(run.closures ? { closures: run.closures } : {}),
    ...(run.closedOver ? { closedOver: run.closedOver } : {}),
    hasBase: run.hasBase,
    arcs: run.arcs,
    stable: run.stable,
    stillFalling: run.stillFalling,
    ...(run.early ? { early: run.early } : {}),
    ...(run.standsFor ? { standsFor: run.standsFor } : {}),
    nudge: run.nudge,
    inward: run.inward,
    ...(run.again ? { again: run.again } : {}),
    ...(run.corners ? { corners: run.corners } : {}),
    factorisations: run.factorisations,
  };
}

function panelRecord({ name: _, standNumber, ...rest }: PanelMeasures): Record<string, unknown> {
  return { standNumber, ...rest };
}

function verdictRecord(v: Verdict): Record<string, unknown> {
  const { word, reason, details, pips, testSwatch, margin, givesWayFirst, byBand, wanted, meetsWanted, fit, wantedReason, decidedBy } = v;
  return { word, reason, margin, givesWayFirst, decidedBy, byBand, wanted, meetsWanted, wantedReason, fit, details, pips, testSwatch };
}

/** JSON text, two spaces deep, short lists of numbers on one line, 12 significant digits, non-finite numbers as null, final newline. */
export function stableJson(value: unknown): string {
  const text = JSON.stringify(
    value,
    (_, v: unknown) => {
      if (typeof v !== 'number') return v;
      if (!Number.isFinite(v)) return null;
      const rounded = Number(v.toPrecision(12));
      // JSON has -0 only by accident.
      return rounded === 0 ? 0 : rounded;
    },
    2,
  );
  return `${text.replace(/\[\s+((?:-?[\d.e+-]+|null)(?:,\s+(?:-?[\d.e+-]+|null))*)\s+\]/g, (_, list: string) => `[${list.split(/,\s+/).join(', ')}]`)}\n`;
}
