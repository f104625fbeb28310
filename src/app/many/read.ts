import { BagError, type Fault, gatherRuns, type RunsTable, readLines, readManifest, readRunsTable } from './core.ts';
import { isTable } from './mark.ts';

/** A file that was chosen, as text. */
export interface TextFile {
  readonly name: string;
  readonly text: string;
}

/** What chosen files say: a table, or the runs of a sweep that is still under way. */
export interface ReadMany {
  readonly table: RunsTable | null;
  readonly faults: readonly Fault[];
}

const MANIFEST = /^manifest.*\.json$/i;
const RUNS = /\.jsonl$/i;

/** Reads a table.json, or a manifest.json with the files of runs beside it: those that are written so far. Other files of the folder (plots, table.csv) are passed over. */
export function readMany(files: readonly TextFile[], words: { readonly none: string; readonly expected: string }): ReadMany {
  try {
    const table = files.find((f) => isTable(f.text));
    if (table) return { table: readRunsTable(table.text), faults: [] };
    const manifest = files.find((f) => MANIFEST.test(f.name));
    if (!manifest) return { table: null, faults: [{ path: files.map((f) => f.name).join(', '), got: words.none, expected: words.expected }] };
    const plan = readManifest(manifest.text, manifest.name),
      read = files.filter((f) => RUNS.test(f.name)).map((f) => ({ name: f.name, ...readLines(f.text, f.name) })),
      gathered = gatherRuns(plan, read),
      faults = [...read.flatMap((r) => r.faults), ...gathered.faults];
    return faults.length > 0 ? { table: null, faults } : { table: { plan, runs: gathered.runs }, faults };
  } catch (error) {
    if (error instanceof BagError) return { table: null, faults: error.faults };
    throw error;
  }
}
