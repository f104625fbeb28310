import type { PanelMeasures } from '../measures/types.ts';
import { cautionsFor } from './hung.ts';
import { leadRun } from './judge.ts';
import type { BandRun, Result, Verdict } from './types.ts';

/**
 * The result as a plain record in a stable key order: metres, kilograms, newtons, radians, z up; fractions 0..1; null where a figure does not apply.
 * Top level comes from the middle band (else the first that was run); `bands` holds each run. `margin` is null without a verdict.
 * Numbers carry 12 significant digits: below that two builds of one program may differ, and the same input must give the same bytes.
 * Only the `seconds` fields change from run to run.
 */
export function resultRecord(result: Result): Record<string, unknown> {
  const lead = leadRun(result.runs);
  return {
    ...runHead(lead),
    vertices: result.vertices,
    massKg: result.massKg,
    verdict: verdictRecord(result.verdict),
    ...runBody(lead),
    bag: result.bag,
    option: result.option,
    stance: result.stance,
    ...(result.ground ? { ground: result.ground } : {}),
    evidence: result.evidence,
    stacks: result.stacks,
    seams: result.seams,
    ...(result.stitching ? { stitching: result.stitching } : {}),
    cautions: cautionsFor(result.runs),
    bands: Object.fromEntries(result.runs.map((run) => [run.band, { ...runHead(run), ...runBody(run) }])),
  };
}

/** JSON text of one result, with a final newline. */
export const resultJson = (result: Result): string => stableJson(resultRecord(result));

/** Several options of one bag as a record: { bag, options: [...] }. */
export const resultsRecord = (results: readonly Result[]): Record<string, unknown> => ({ bag: results[0]?.bag ?? null, options: results.map(resultRecord) });

/** The same as JSON text. */
export const resultsJson = (results: readonly Result[]): string => stableJson(resultsRecord(results));

function runHead(run: BandRun): Record<string, unknown> {
  return { status: run.status, residual: run.residual, iterations: run.iterations, seconds: { setup: run.seconds.setup, settle: run.seconds.settle } };
}

function runBody(run: BandRun): Record<string, unknown> {
  return {
    measures: run.measures,
    panels: Object.fromEntries(run.panels.map((p) => [p.name, panelRecord(p)])),
    marks: run.marks,
    reactions: run.reactions,
    contact: { crossings: run.contact.crossings, deepestPenetration: run.contact.deepestPenetration, touching: run.contact.touching },
    ...(run.contents.length > 0 ? { contents: run.contents.map(({ name, mass, at, axes }) => ({ name, mass, at, axes })) } : {}),
    balance: run.balance,
    strain: run.strain,
    hung: run.hung,
    stable: run.stable,
    stillFalling: run.stillFalling,
    nudge: run.nudge,
    inward: run.inward,
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
