import type { Result } from '../index.ts';
import type { Core } from './core.ts';
import { named, type OutFile } from './io.ts';

/** One file of several, with its results. */
interface Settled {
  readonly file: string;
  readonly bagDigest: string;
  readonly results: readonly Result[];
}

/** All results as one record (`keys batch`: its schema). */
export const batchOf = (core: Core, done: readonly Settled[]): Record<string, unknown> =>
  core.batchRecord(done.map(({ file, results, bagDigest }) => ({ file: named(file), results, trace: { bagDigest } })));

const HEAD = ['file', 'option', 'stance', 'verdict', 'soft', 'typical', 'stiff', 'height kept', 'margin', 'wanted', 'mass'] as const;

/** One row a result: words as the verdict has them, shares and kilograms as written for people. */
function rowsOf(core: Core, done: readonly Settled[]): string[][] {
  return done.flatMap(({ file, results }) =>
    results.map((r) => {
      const { word, byBand, margin, meetsWanted, wanted } = r.verdict,
        { heightKept } = core.leadRun(r.runs).measures;
      return [
        named(file),
        r.option,
        r.stance,
        word,
        byBand.low ?? '',
        byBand.mid ?? '',
        byBand.high ?? '',
        heightKept === null ? '' : `${(100 * heightKept).toFixed(1)} %`,
        Number.isFinite(margin) ? margin.toFixed(2) : '',
        `${wanted}: ${meetsWanted === null ? 'not said' : meetsWanted ? 'yes' : 'no'}`,
        `${Math.round(1000 * r.massKg)} g`,
      ];
    }),
  );
}

/** A table over many bags, a line each. */
export function batchTable(core: Core, done: readonly Settled[]): string {
  const rows = [[...HEAD], ...rowsOf(core, done)];
  const widths = HEAD.map((_, c) => Math.max(...rows.map((row) => row[c]!.length)));
  return `${rows
    .map((row) =>
      row
        .map((cell, c) => cell.padEnd(widths[c]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')}\n`;
}

/** What stands beside the folders of several bags: the table for a spreadsheet, and all results in one. */
export const batchFiles = (core: Core, base: string, done: readonly Settled[]): OutFile[] => [
  { path: `${base}/table.csv`, text: `${[[...HEAD], ...rowsOf(core, done)].map((row) => row.map((c) => core.csvCell(c)).join(',')).join('\r\n')}\r\n` },
  { path: `${base}/batch.json`, text: core.stableJson(batchOf(core, done)) },
];
